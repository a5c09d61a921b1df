"""Text on a drawing: how wide it is, where it lies and how a size is written."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.drawing.told import Told, told, told_of
from finplan.quantity import MM_PER_IN, Units
from finplan.showing import inch_fraction, plain, show_length
from finplan.typesetting import estimated_em

TEXT_MM = 3.5
"""The size of all text: its capitals are 2.5 mm high, the least that is read at arm's length."""
CAPITAL_MM = 0.73 * TEXT_MM
LINE_GAP_MM = 4.6
"""From one line of text to the next."""
ARROWS_MM = 5.0
"""Two arrow heads need as much between them; else they stand outside."""
_BELOW = 0.22
"""What hangs below the line, as a share of the size."""

_NEAR_MM = 0.005


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle on paper, y downwards. [mm]"""

    left: float
    top: float
    right: float
    bottom: float


def text_width(text: str) -> float:
    """Return how wide *text* is set, to within a tenth. [mm]

    >>> text_width("1100")
    9.1
    """
    return TEXT_MM * estimated_em(text)


def text_box(x: float, baseline: float, text: str, anchor: str = "middle") -> Box:
    """Return the box round *text* that stands on *baseline*; *x* is its start, middle or end."""
    width = text_width(text)
    left = x - {"start": 0.0, "middle": width / 2, "end": width}[anchor]
    return Box(left, baseline - CAPITAL_MM, left + width, baseline + _BELOW * TEXT_MM)


def shortened_to_fit(text: str, room: float) -> str:
    """Return *text*, cut with an ellipsis where it is wider than *room*. [mm]

    >>> shortened_to_fit("a long name for a face", 20.0)
    'a long na…'
    """
    if text_width(text) <= room:
        return text
    while text and text_width(text + "…") > room:
        text = text[:-1]
    return text.rstrip() + "…"


def wrapped(text: str, room: float) -> list[str]:
    """Return the lines of *text*, broken between words so that none is wider than *room*. [mm]

    >>> wrapped("bead, diameter 64, neck 48", 30.0)
    ['bead, diameter', '64, neck 48']
    """
    lines: list[str] = []
    for word in text.split():
        if lines and text_width(f"{lines[-1]} {word}") <= room:
            lines[-1] += f" {word}"
        else:
            lines.append(shortened_to_fit(word, room))
    return lines


def size(length_mm: float, units: Units) -> str:
    """Return a length as it stands at a dimension line: millimetres without the unit, or inches with a fraction.

    Thirty-seconds and sixty-fourths are shown where they are meant, that is where they are met to 0.005 mm.

    >>> size(1100.0, "metric"), size(12345.5, "metric"), size(1384.3, "us"), size(2.38125, "us"), size(28.0, "us")
    ('1100', '12345.5', '54-1/2"', '3/32"', '1-1/8"')
    """
    if units == "metric":
        whole_digits = len(f"{length_mm:.0f}")
        return plain(length_mm, max(3, whole_digits + 1))
    for denominator in (16, 32, 64):
        nearest_mm = round(length_mm / MM_PER_IN * denominator) / denominator * MM_PER_IN
        if nearest_mm and abs(nearest_mm - length_mm) <= _NEAR_MM:
            return f'{inch_fraction(length_mm, denominator)}"'
    return show_length(length_mm, "us").replace(" in", '"')


def across(diameter_mm: float, units: Units, *path: str | int) -> Told:
    """Return a diameter with its sign; *path* is that of its field.

    >>> across(52.0, "metric")
    'Ø52'
    """
    return told_of("Ø", told(size(diameter_mm, units), *path) if path else size(diameter_mm, units))


def by(*lengths_mm: float, units: Units) -> str:
    """Return sizes joined by a multiplication sign.

    >>> by(10.0, 5.0, units="metric")
    '10 × 5'
    """
    return " × ".join(size(length_mm, units) for length_mm in lengths_mm)


def said(*lengths_mm: float, units: Units) -> str:
    """Return sizes as they are said, with their unit.

    >>> said(620.0, 100.0, units="metric"), said(38.1, units="us")
    ('620 by 100 mm', '1-1/2 in')
    """
    shown = " by ".join(size(length_mm, units) for length_mm in lengths_mm)
    return f"{shown} mm" if units == "metric" else f"{shown.replace(chr(34), '')} in"

"""The arrow that shows which way the grain runs."""

from __future__ import annotations

from finplan.drawing.canvas import Canvas
from finplan.drawing.lettering import CAPITAL_MM, text_width

_LENGTH_MM = 12.0
_UPRIGHT_MM = 8.0
_WORD = "grain"


def arrow_size(*, upright: bool) -> tuple[float, float]:
    """Return the width and the height of the arrow with its word. [mm]"""
    if upright:
        return text_width(_WORD) + 4.0, _UPRIGHT_MM
    return max(_LENGTH_MM, text_width(_WORD)), CAPITAL_MM + 2.6


def draw_grain(canvas: Canvas, middle: complex, *, upright: bool) -> None:
    """Draw an arrow with two heads and the word below or beside it, about *middle*."""
    width, height = arrow_size(upright=upright)
    if upright:
        x = middle.real - width / 2 + 1.0
        start, end, along = complex(x, middle.imag - height / 2), complex(x, middle.imag + height / 2), 1j
        canvas.text(x + 2.0, middle.imag + CAPITAL_MM / 2, _WORD, anchor="start", role="note", clear=True)
    else:
        y = middle.imag - height / 2 + 0.8
        start, end = complex(middle.real - _LENGTH_MM / 2, y), complex(middle.real + _LENGTH_MM / 2, y)
        along = 1 + 0j
        canvas.text(middle.real, y + 1.2 + CAPITAL_MM, _WORD, role="note", clear=True)
    canvas.line(start, end)
    canvas.arrow(start, -along)
    canvas.arrow(end, along)


def draw_grain_beside(canvas: Canvas, *, upright: bool) -> None:
    """Draw a small arrow and the word at the right end of the last caption."""
    baseline = canvas.caption_baseline
    middle = complex(canvas.right - 4.0, baseline - CAPITAL_MM / 2)
    reach, along = (2.4, 1j) if upright else (3.6, 1 + 0j)
    canvas.line(middle - reach * along, middle + reach * along)
    canvas.arrow(middle - reach * along, -along)
    canvas.arrow(middle + reach * along, along)
    canvas.text(canvas.right - 9.0, baseline, _WORD, anchor="end", role="note")

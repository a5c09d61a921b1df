"""Filling the templates of files that a person goes on with: sizes in units, words in quotes, comments in line."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

from finplan.quantity import MM_PER_IN, Units
from finplan.resources import data_dir

if TYPE_CHECKING:
    from jinja2 import Environment

_FINEST = 64
"""Of an inch: what is no whole number of these is written in mm."""
_CLOSE_MM = 1e-3
_STEP_MM = {"metric": 5.0, "us": MM_PER_IN / 4}
"""To what a size that follows from others is rounded."""
_SIMPLE = re.compile(r"[^\W\d_][\w ,.()/’'&+-]*")
_SAID_OTHERWISE = frozenset({"true", "false", "null", "yes", "no", "on", "off", "y", "n"})


def form_text(template: str, units: Units, **values: object) -> str:
    """Return a template of ``templates/forms`` with its *values* in it.

    Parameters
    ----------
    template
        The name of its file
    units
        In which its sizes are written
    values
        What it asks for; lengths in mm
    """

    def nominal(metric_mm: float, us_in: float) -> float:
        """Return a size that is another round number in each system of units. [mm]"""
        return metric_mm if units == "metric" else us_in * MM_PER_IN

    def near(length_mm: float) -> float:
        """Return a size that follows from others, rounded as somebody would. [mm]"""
        return round(length_mm / _STEP_MM[units]) * _STEP_MM[units]

    page = _environment().get_template(template)
    text = page.render(
        **values,
        units=units,
        unit="mm" if units == "metric" else "in",
        nominal=nominal,
        near=near,
        size=lambda length_mm: written_length(length_mm, units),
    )
    return in_line(text)


def written_length(length_mm: float, units: Units) -> str:
    """Return a length as a bare number of a file's unit, with its own where that is no round number.

    >>> written_length(1050.0, "metric"), written_length(342.9, "us"), written_length(1050.0, "us")
    ('1050', '13-1/2', '1050 mm')
    """
    if units == "metric":
        return f"{length_mm:.3f}".rstrip("0").rstrip(".")
    parts = Fraction(round(length_mm / MM_PER_IN * _FINEST), _FINEST)
    if abs(float(parts) * MM_PER_IN - length_mm) > _CLOSE_MM:
        return f"{written_length(length_mm, 'metric')} mm"
    whole, rest = divmod(parts, 1)
    if not rest:
        return str(whole)
    return f"{whole}-{rest}" if whole else str(rest)


def written_words(text: str) -> str:
    """Return words as they stand in a file: as they are, or in quotes where they would be taken for something else.

    >>> print(written_words("Hall bench"), written_words("Table: the second"), written_words("no"))
    Hall bench "Table: the second" "no"
    """
    plain = " ".join(text.split())
    if _SIMPLE.fullmatch(plain) and plain.casefold() not in _SAID_OTHERWISE:
        return plain
    return json.dumps(plain, ensure_ascii=False)


def in_line(text: str) -> str:
    r"""Return a text in which comments behind what is said stand in one column, block by block.

    >>> print(in_line("a: 1  # one\nbcd: 22  # two"))
    a: 1     # one
    bcd: 22  # two
    """
    return "\n\n".join("\n".join(_block_in_line(block.split("\n"))) for block in text.split("\n\n"))


_BEHIND = "  # "
_LAST_COLUMN = 44
"""What is longer pushes no comment further out than its own."""


def _block_in_line(lines: list[str]) -> Iterator[str]:
    parted = [line.partition(_BEHIND) for line in lines]
    lengths = [len(code) for code, comment, _ in parted if comment and code.strip()]
    column = max((length for length in lengths if length <= _LAST_COLUMN), default=0)
    for line, (code, comment, words) in zip(lines, parted, strict=True):
        yield f"{code:<{column}}{comment}{words}" if comment and code.strip() else line


@cache
def _environment() -> Environment:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    environment = Environment(
        loader=FileSystemLoader(data_dir("templates") / "forms"),
        autoescape=False,  # noqa: S701 - a file for a person, no page: what is written goes through written_words
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters["words"] = written_words
    return environment

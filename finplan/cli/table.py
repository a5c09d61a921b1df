"""Tables for a terminal: columns aligned, numbers to the right."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from textwrap import wrap
from typing import TYPE_CHECKING
from unicodedata import east_asian_width

if TYPE_CHECKING:
    from finplan.telling import ToldTable

NOTE_WIDTH = 100
"""Of the notes around tables, in letters."""


def width(text: str) -> int:
    """Return how many cells *text* takes on a terminal.

    >>> width("top"), width("東京")
    (3, 4)
    """
    return sum(2 if east_asian_width(character) in "WF" else 1 for character in text)


def told_tables(tables: Iterable[ToldTable]) -> list[str]:
    """Return the lines of tables that are told, each with its title and what is said below it."""
    return [
        line
        for told in tables
        for line in (told.title, "", *table(told.heading, told.rows, told.right), *wrap(told.foot, NOTE_WIDTH), "")
    ]


def table(heading: Sequence[str], rows: Sequence[Sequence[str]], right: str = "") -> list[str]:
    """Return the lines of a table.

    Parameters
    ----------
    heading
        The names of the columns
    rows
        The cells
    right
        A letter for each column: ``r`` for one that is set to the right

    Examples
    --------
    >>> for line in table(["face", "area"], [["top", "0.950 m²"], ["edge", "0.1 m²"]], "lr"):
    ...     print(line)
    face      area
    ----  --------
    top   0.950 m²
    edge    0.1 m²
    """
    widths = [max(width(row[column]) for row in (heading, *rows)) for column in range(len(heading))]
    sides = right.ljust(len(heading), "l")

    def line(cells: Sequence[str]) -> str:
        padded = [
            " " * (widths[i] - width(cell)) + cell if sides[i] == "r" else cell + " " * (widths[i] - width(cell))
            for i, cell in enumerate(cells)
        ]
        return "  ".join(padded).rstrip()

    return [line(heading), "  ".join("-" * wide for wide in widths), *(line(row) for row in rows)]

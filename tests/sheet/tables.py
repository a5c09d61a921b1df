"""The tables of a sheet as they are heard: every cell with the head of its row and of its column."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell between its heads."""

    row: str
    column: str
    text: str
    boxes: tuple[str, ...]
    """What each box to tick in it is of."""


def words(markup: str) -> str:
    """Return the words of markup, with one space between them."""
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", markup)).split())


def cells_of(page: str, table: str) -> Iterator[list[Cell]]:
    """Give the cells of every table of a class whose rows have heads."""
    for found in re.findall(rf'<table class="{table}(?: [^"]*)?">(.*?)</table>', page, flags=re.DOTALL):
        heads, *rows = re.findall(r"<tr>(.*?)</tr>", found, flags=re.DOTALL)
        columns = [words(one) for one in re.findall(r"<th[^>]*>(.*?)</th>", heads, flags=re.DOTALL)][1:]
        yield [
            Cell(words(head), column, words(cell), tuple(re.findall(r'aria-label="([^"]*)"', cell)))
            for row in rows
            for head in re.findall(r"<th[^>]*>(.*?)</th>", row, flags=re.DOTALL)
            for column, cell in zip(columns, re.findall(r"<td[^>]*>(.*?)</td>", row, flags=re.DOTALL), strict=True)
        ]

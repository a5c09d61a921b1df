"""Rows for a spreadsheet, in which words can be nothing but words."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence

_BEFORE_A_FORMULA = re.compile(r"""(?:^|(?<=[;\t]))(?=[\s"]*[=+\-@＝＋－＠]|[\t\r\0])""")
"""Where a formula would begin a cell, or what is one to a spreadsheet that parts cells by semicolons or tabs."""


def csv_text(columns: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    r"""Return rows as comma-separated values under the names of their columns.

    Notes
    -----
    A text that a spreadsheet would take for a formula gets an apostrophe before it: names come from files, and files
    may come from strangers. Numbers are numbers, and are left alone.
    Source: OWASP, CSV Injection; RFC 4180.

    Examples
    --------
    >>> csv_text(["part", "area_m2"], [["=1+1, top", 0.5], ["leg", None]]).splitlines()
    ['part,area_m2', '"\'=1+1, top",0.5', 'leg,']
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")  # with a lone \n as its line end it leaves a \r unquoted
    writer.writerow(columns)
    writer.writerows([_harmless(cell) for cell in row] for row in rows)
    return text.getvalue().replace("\r\n", "\n")


def short(value: float) -> float:
    """Return a figure to six digits, more than any of it is worth; a spreadsheet shows what it is told to.

    >>> short(1.23456789), short(0.000123456789)
    (1.23457, 0.000123457)
    """
    return float(f"{value:.6g}")


def _harmless(cell: object) -> object:
    return _BEFORE_A_FORMULA.sub("'", cell) if isinstance(cell, str) else cell

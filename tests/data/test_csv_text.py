"""Rows for a spreadsheet: names stay names, whatever they hold, and figures keep what they are worth."""

from __future__ import annotations

import csv
import io

import pytest

from finplan.data.csv_text import csv_text, short


def cells(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline="")))


@pytest.mark.parametrize(
    ("name", "source"),
    [
        ("=1+1", "OWASP, CSV Injection: equals"),
        ("+1", "OWASP: plus"),
        ("-1", "OWASP: minus"),
        ("@SUM(A1)", "OWASP: at"),
        ("\tx", "OWASP: tab, 0x09"),
        ("\rx", "OWASP: carriage return, 0x0D"),
        ("\n=1", "OWASP: line feed, 0x0A"),
        ("\0=1", "OWASP, ASVS 5.0, 1.2.10: null"),
        ("＝1", "OWASP: full-width forms, which some settings take for the others"),
        ("－1", "OWASP: full-width minus"),
        (' ="x"', "a spreadsheet may leave out blanks before it"),
        ('"=1"', "and quotes"),
    ],
)
def test_what_begins_a_formula_gets_an_apostrophe(name: str, source: str) -> None:
    assert cells(csv_text(["name"], [[name]]))[1] == [f"'{name}"], source


@pytest.mark.parametrize("name", ['leg;=HYPERLINK("x")', 'leg; "@x"', "leg\t=1"])
def test_none_begins_behind_another_separator(name: str) -> None:
    """OWASP, CSV Injection: a separator in a text starts a cell; where commas are decimal, semicolons part them."""
    text = csv_text(["name", "part"], [["top", name]])
    for separator in ";\t":
        for row in csv.reader(io.StringIO(text), delimiter=separator):
            assert not any(cell.lstrip(' "').startswith(("=", "@")) for cell in row), row


@pytest.mark.parametrize(
    "name", ["", "top", "東京", "Łódź, Čapek", 'the "good" side', "a\nb", "a\rb", "a\r\nb", "x=1", "5-9"]
)
def test_other_names_are_read_back_as_they_are(name: str) -> None:
    """RFC 4180, section 2.6 and 2.7: commas, quotes and line breaks stand in quotes, which are doubled."""
    read = cells(csv_text(["before", "name", "after"], [["x", name, "y"]]))
    assert read == [["before", "name", "after"], ["x", name.replace("\r\n", "\n"), "y"]]


def test_numbers_are_numbers() -> None:
    assert csv_text(["depth", "none"], [[-1.5, None]]) == "depth,none\n-1.5,\n"


def test_six_digits_of_a_figure() -> None:
    """By hand."""
    assert [short(value) for value in (0.849123456, 0.00012345678, 12345.678, 0.0)] == [
        0.849123,
        0.000123457,
        12345.7,
        0.0,
    ]

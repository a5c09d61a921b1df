"""The one door for words: what is written, as it is written, of bounded length and without what commands a terminal."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable

from finplan.problems import shown
from finplan.reading.failing import fail

MAX_NAME = 60
_NOT_TEXT = frozenset({"Cc", "Cs", "Co", "Cn"})
"""Categories of characters: controls, halves of a pair, private ones, and such as there are not."""
_TURNING = frozenset(map(chr, (*range(0x202A, 0x202F), *range(0x2066, 0x206A))))
"""Embeddings, overrides and isolates of the direction of writing: Unicode Standard Annex 9, section 2. They turn about
what follows them, a figure for example; letters that are written from right to left need none."""


def wrong_with(text: str, longest: int) -> tuple[str, str] | None:
    """Return what is wrong with a text, and what is expected; None where nothing is.

    >>> wrong_with("leg", 60), wrong_with("x" * 61, 60)
    (None, ('the text is 61 characters long', 'expected at most 60'))
    """
    if not text:
        return "the text is empty", "expected a few words"
    if len(text) > longest:
        return f"the text is {len(text)} characters long", f"expected at most {longest}"
    if text.isprintable():
        return None  # as most is, which is told at once
    if any(unicodedata.category(character) in _NOT_TEXT for character in text):
        return "the text holds a control character", "remove it"
    if not _TURNING.isdisjoint(text):
        return "the text holds a character that turns the direction of what follows", "remove it"
    return None


def wrong_with_name(name: str) -> tuple[str, str] | None:
    """Return what is wrong with the name that something is given, and what is expected; None where nothing is."""
    wrong = wrong_with(name.strip(), MAX_NAME)
    if wrong is not None:
        return f"{shown(name)} is no name: {wrong[0]}", f"expected one to {MAX_NAME} characters"
    if name != " ".join(name.split()):
        return f"{shown(name)} has spaces around it or several in a row", "expected single spaces between words"
    return None


def text_up_to(longest: int) -> Callable[[object], str]:
    """Return a validator of text, whose words are parted by single spaces."""

    def validate(value: object) -> str:
        if isinstance(value, bool) or not isinstance(value, (str, int, float)):
            fail(f"{shown(value)} is not text", "expected a few words, in quotes where they stand for something else")
        text = " ".join(as_written(value).split())
        wrong = wrong_with(text, longest)
        if wrong is not None:
            fail(*wrong)
        return text

    return validate


def given_name(value: object) -> str:
    """Validate a name that something is given, where it is the name of a field."""
    wrong = wrong_with_name(str(value))
    if wrong is not None:
        fail(*wrong, at_key=True)
    return str(value)


class WrittenInt(int):
    """A whole number of a file that is written otherwise than it is shown."""

    written: str


class WrittenFloat(float):
    """A number of a file that is written otherwise than it is shown: ``2027.10``, ``.inf``."""

    written: str


def as_written(value: str | int | float) -> str:
    """Return a scalar as it stands in its file."""
    return value.written if isinstance(value, (WrittenInt, WrittenFloat)) else str(value)


def number_as_written(number: int | float, text: str) -> int | float:
    """Return a number that knows how it was written, where that is not how it is shown."""
    if str(number) == text:
        return number
    kept = WrittenInt(number) if isinstance(number, int) else WrittenFloat(number)
    kept.written = text
    return kept

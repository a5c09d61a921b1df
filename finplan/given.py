"""What is given from Python: every argument is what it has to be, or a ``WishError`` names it and says what that is.

No reader of types has to have looked. Nothing is guessed: ``True`` is no number here, and ``"10"`` is none either.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date, datetime, tzinfo
from pathlib import Path
from typing import TypeVar, get_args

from finplan.planning import LEAST_SURE, MOST_SURE, WishError, Workshop, date_of, seconds_of
from finplan.problems import hint, likely, shown
from finplan.reading import GivenDate, Written

TextOrPath = str | os.PathLike[str]
"""A path; or, in a string of more than one line, what would stand in the file."""
When = str | date | datetime
"""A day, or a moment on the shop's clock unless it knows another; in text ``2027-03-12`` or ``2027-03-12 15:00``."""

T = TypeVar("T")
_DATE = "a date, a moment, or text such as '2027-03-12' or '2027-03-12 15:00'"
_ARGUMENTS = {"limit": "limit_s"}
"""What is called otherwise on the command line."""


class ArgumentError(WishError):
    """A ``WishError`` whose words begin with the argument."""

    def __init__(self, argument: str, wrong: str) -> None:
        super().__init__(argument, f"{argument}: {wrong}")


@contextmanager
def named() -> Iterator[None]:
    """Name the argument in the words of whatever ``WishError`` is raised within."""
    try:
        yield
    except ArgumentError:
        raise
    except WishError as error:
        raise ArgumentError(_ARGUMENTS.get(error.wish, error.wish), str(error)) from None


def _refuse(argument: str, value: object, expected: str) -> ArgumentError:
    return ArgumentError(argument, f"{_told(value)} is given where {expected} is expected")


def _told(value: object) -> str:
    """Return a value as an error names it: a text as it stands, shortened; of all else what it is."""
    if value is None:
        return "nothing"
    if isinstance(value, str):
        return shown(value)
    kind = type(value).__name__
    number = f" {value}" if isinstance(value, (bool, int, float)) and len(str(value)) <= 20 else ""
    return f"{'an' if kind[:1].lower() in 'aeio' else 'a'} {kind}{number}"


# --- files and texts --------------------------------------------------------------------------------------------------


def path(argument: str, value: object) -> Path:
    """Return a path to be written to."""
    return Path(_text(argument, value, "a path"))


def written(argument: str, value: object, called: str) -> Written:
    """Return what a path or a text stands for; *called* is what problems call a text."""
    more = "; give pieces one by one, as in plan(table, bench)" if argument == "pieces" else ""
    text = _text(argument, value, "a path or a text", more)
    if isinstance(text, str) and "\n" in text:
        return Written(Path(called), text)
    return Written(Path(text))


def shop(value: object) -> Written | Workshop | None:
    """Return the shop that is given; None for the default one."""
    return value if value is None or isinstance(value, Workshop) else written("shop", value, "shop.yaml")


def name(argument: str, value: object) -> str:
    """Return what problems are to call a text."""
    if not isinstance(value, str) or not value.strip() or not value.isprintable():
        raise _refuse(argument, value, "a name of one line")
    return value


def _text(argument: str, value: object, expected: str, more: str = "") -> TextOrPath:
    if isinstance(value, os.PathLike):
        value = os.fspath(value)
    if isinstance(value, str) and value.strip() and ("\n" in value or "\0" not in value):
        return value
    raise ArgumentError(argument, f"{_told(value)} is given where {expected} is expected{more}")


# --- wishes -----------------------------------------------------------------------------------------------------------


def one_of(argument: str, value: T, words: object) -> T:
    """Return what is one of the words of a ``Literal``."""
    known = [str(arg) for arg in get_args(words)]
    if isinstance(value, str) and value in known:
        return value
    expected = f"{', '.join(map(repr, known[:-1]))} or {known[-1]!r}"
    wrong = f"{_told(value)} is given where {expected} is expected"
    near = likely(value, known) if isinstance(value, str) else ()
    raise ArgumentError(argument, f"{wrong}; {hint(near, known)}" if near else wrong)


def true_or_false(argument: str, value: object) -> bool:
    """Return what is True or False, and nothing that is only taken for it."""
    if not isinstance(value, bool):
        raise _refuse(argument, value, "True or False")
    return value


def probability(argument: str, value: object) -> float:
    """Return a probability that can be had."""
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not LEAST_SURE <= value <= MOST_SURE:
        raise _refuse(argument, value, f"a probability from {LEAST_SURE} to {MOST_SURE}")
    return float(value)


def seconds(argument: str, value: object) -> float | None:
    """Return how long to search; None where nothing is said. [s]"""
    if isinstance(value, bool) or not (value is None or isinstance(value, (int, float))):
        raise _refuse(argument, value, "a number of seconds from 1 to 3600, or None,")
    return seconds_of(value)


def day_or_moment(argument: str, value: object, zone: tzinfo) -> GivenDate:
    """Return a day or a moment, on the clock of a zone."""
    if isinstance(value, datetime):
        try:
            here = value if value.tzinfo is None else value.astimezone(zone)
        except OverflowError:
            raise _refuse(argument, value, "a moment of this century") from None
        return date_of(argument, f"{here:%Y-%m-%d %H:%M}")
    if isinstance(value, (str, date)):
        return date_of(argument, str(value))
    raise _refuse(argument, value, _DATE)


def day(argument: str, value: object, zone: tzinfo) -> date:
    """Return a day."""
    given = day_or_moment(argument, value, zone)
    if given.clock is not None:
        raise _refuse(argument, value, "a day, without a time of it,")
    return given.day


def ended(argument: str, value: object) -> dict[str, object]:
    """Return by the ids of steps what is said of when each ended; None where nothing is."""
    if isinstance(value, str):
        raise ArgumentError(argument, f"{_told(value)} is given where ids of steps are expected; give them in a list")
    if not isinstance(value, Iterable):
        raise _refuse(argument, value, "a list of ids of steps, or a mapping from them to when each ended,")
    steps = list(value)
    for step in steps:
        if not isinstance(step, str):
            raise _refuse(argument, step, "the id of a step")
    return dict(value) if isinstance(value, Mapping) else dict.fromkeys(steps)

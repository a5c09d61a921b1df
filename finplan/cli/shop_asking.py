"""The questions about a workshop that is begun."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from pathlib import Path

from finplan.cli.asking import AnswerError, Questions
from finplan.cli.machine import machine_zone
from finplan.forms import ShopAnswers, usual_shop, write_shop
from finplan.inputs import holidays_by_zone
from finplan.planning import read_workshop
from finplan.problems import RefusedError
from finplan.quantity import LENGTH, QuantityError, Units, read_quantity
from finplan.reading import Written

NONE = "none"
UNITS_QUESTION = "Units, metric or us"
_BRACKETS = re.compile(r"[{}\[\]]")
_DAYS = re.compile(r"\s*([a-z, -]*[a-z])[\s:]+(\d.*?)\s*", re.IGNORECASE)


@dataclass(frozen=True)
class ShopGiven:
    """What the options say of a workshop that is begun."""

    title: str | None = None
    units: Units | None = None
    time_zone: str | None = None
    holidays: str | None = None
    person: str | None = None
    hours: str | None = None
    day: str | None = None
    night: str | None = None
    room: str | None = None

    @property
    def is_empty(self) -> bool:
        """Whether nothing is said, but perhaps the units."""
        return all(getattr(self, field.name) is None for field in fields(self) if field.name != "units")


def shop_text(given: ShopGiven, questions: Questions | None = None) -> str:
    """Return the text of a shop file by what is given, asked for, or usual.

    Raises
    ------
    NotPossibleError
        An answer cannot be had; tells all such.
    """
    questions = questions or Questions(asks=False)
    units = questions.answer("--units", UNITS_QUESTION, given.units, read_units, usual="metric") or "metric"
    answers = usual_shop(units, machine_zone())
    for name, question, reads in _QUESTIONS:
        if name == "holidays":  # the time zone has been answered
            answers = replace(answers, holidays=holidays_by_zone(answers.time_zone))
        answer = questions.answer(
            f"--{name.replace('_', '-')}",
            question,
            getattr(given, name),
            _tried(answers, name, reads),
            usual=_BRACKETS.sub("", getattr(answers, name) or NONE),
        )
        if answer is not None:
            answers = replace(answers, **{name: _meant(name, answer)})  # type: ignore[arg-type]
    questions.complete()
    return write_shop(answers)


def _tried(answers: ShopAnswers, name: str, reads: Callable[[str], str]) -> Callable[[str], str]:
    """Return what reads an answer: it is tried in the file, whose reader knows what can be."""

    def tried(text: str) -> str:
        answer = reads(text)
        trial = replace(answers, **{name: _meant(name, answer)})  # type: ignore[arg-type]
        try:
            read_workshop(Written(Path("shop.yaml"), write_shop(trial)))
        except RefusedError as error:
            problem = error.problems[0]
            raise AnswerError(f"{problem.wrong}; {problem.expected}") from None
        return answer

    return tried


def _meant(name: str, answer: str) -> str | None:
    return None if name == "holidays" and answer == NONE else answer


def read_units(text: str) -> Units:
    """Read a system of units."""
    if text == "us":
        return "us"
    if text == "metric":
        return "metric"
    msg = f"'{text[:20]}' is neither metric nor us"
    raise AnswerError(msg)


def _as_it_is(text: str) -> str:
    plain = " ".join(text.split())
    if not plain:
        raise AnswerError("nothing is said; expected a few words")
    return plain


def _hours(text: str) -> str:
    """Return hours as a shop file has them.

    >>> _hours("mon-thu 8:00-12:00, 12:30-17:00; fri 8:00-13:00")
    '{mon-thu: [8:00-12:00, 12:30-17:00], fri: [8:00-13:00]}'
    """
    if text.startswith("{"):
        return text
    days: list[str] = []
    for stretch in text.split(";"):
        match = _DAYS.fullmatch(stretch)
        if match is None:
            raise AnswerError(
                f"'{stretch[:40]}' are no hours; expected mon-thu 8:00-12:00, 12:30-17:00; fri 8:00-13:00"
            )
        stretches = ", ".join(re.split(r"[\s,]+", match[2].strip()))
        days.append(f"{match[1]}: [{stretches}]")
    return f"{{{', '.join(days)}}}"


def _room(text: str) -> str:
    """Return the volume of a room: as it is given, or by its length, width and height.

    >>> _room("7.5 x 5 x 2.6 m"), _room("100 m3")
    ('97.5 m3', '100 m3')
    """
    sides = re.split(r"\s*[x×]\s*", text)
    if len(sides) != 3:
        return _as_it_is(text)
    unit = re.search(r"[a-z'\"]+$", sides[2])
    try:
        length, width, height = (
            read_quantity(side, LENGTH, bare_unit=unit.group() if unit else None) for side in sides
        )
    except QuantityError as error:
        raise AnswerError(str(error)) from None
    return f"{length * width * height / 1e9:.4g} m3"


_QUESTIONS: tuple[tuple[str, str, Callable[[str], str]], ...] = (
    ("title", "Name of the workshop", _as_it_is),
    ("person", "Who works there (one of you; the others go into the file)", _as_it_is),
    ("hours", "From when to when, on the 24-hour clock", _hours),
    ("time_zone", "Time zone", _as_it_is),
    ("holidays", f"Public holidays of which country, by its code such as GB, GB-SCT or US, or {NONE}", _as_it_is),
    ("day", "How warm it is there by day", _as_it_is),
    ("night", "How warm it is there by night", _as_it_is),
    ("room", "How large it is, as a volume or as length x width x height", _room),
)

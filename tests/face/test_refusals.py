"""What is given wrongly from Python is told by its argument, with what is expected; never an error of a library."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest

import finplan
from tests.conftest import EXAMPLE

MARCH = "2027-03-01"
NUMBERS = (3, 0.5, True)
NO_TEXT: tuple[object, ...] = (*NUMBERS, b"table.yaml", [], {}, object())
NO_WORD = (*NO_TEXT, "", "x")
NO_DATE: tuple[object, ...] = (*NUMBERS, b"2027-03-01", [], "soon", "2027-02-30", "1-1-1", date(1, 1, 1))
EARLIEST = datetime.min.replace(tzinfo=timezone(timedelta(hours=14)))

READ: dict[str, tuple[object, ...]] = {
    "piece": (*NO_TEXT, None, "", " ", "a\0b"),
    "shop": (*NO_TEXT, "", "a\0b"),
    "units": NO_WORD,
    "paper": NO_WORD,
    "name": (*NO_TEXT, None, "", "two\nlines"),
}
PLAN: dict[str, tuple[object, ...]] = {
    "shop": (*NO_TEXT, ""),
    "start": (*NO_DATE, EARLIEST),
    "deliver": (*NO_DATE, EARLIEST),
    "sure": (0, 1, 0.4, 90, True, None, "90 %", float("nan"), float("inf"), 1j),
    "asap": (None, 1, "yes", []),
    "largest_buffer": (None, 1, "yes", []),
    "ready_for": (*NO_WORD, None),
    "done": (None, 3, "seat", [3], [None], [["seat"]], {3: None}, ["no-step"], {"no-step": None}),
    "lost_day": (*NO_DATE, "2027-03-01 15:00", datetime(2027, 3, 1)),
    "limit_s": (0, 0.5, 3601, True, "10", [], float("nan")),
}


def _cases(arguments: dict[str, tuple[object, ...]]) -> list[Any]:
    return [
        pytest.param(name, value, id=f"{name} {number}, {type(value).__name__}")
        for name, values in arguments.items()
        for number, value in enumerate(values)
    ]


def _refused(call: Callable[[], object], argument: str) -> str:
    with pytest.raises(finplan.WishError) as refused:
        call()
    assert refused.value.wish == argument
    words = str(refused.value)
    assert words.startswith(f"{argument}: ")
    assert "expected" in words or "is no" in words, words
    return words


def test_every_argument_is_tried() -> None:
    assert list(READ) == list(inspect.signature(finplan.read).parameters)
    assert ["pieces", *PLAN] == list(inspect.signature(finplan.plan).parameters)


@pytest.mark.parametrize(("argument", "value"), _cases(READ))
def test_reading(argument: str, value: object) -> None:
    given: dict[str, Any] = {"piece": EXAMPLE, argument: value}
    _refused(lambda: finplan.read(**given), argument)


@pytest.mark.parametrize(("argument", "value"), _cases(PLAN))
def test_planning(argument: str, value: object) -> None:
    given: dict[str, Any] = {"start": MARCH, argument: value}
    _refused(lambda: finplan.plan(EXAMPLE, **given), argument)


def test_pieces() -> None:
    for value in (*NO_TEXT, None, finplan.plan(EXAMPLE, start=MARCH), ""):
        words = _refused(lambda value=value: finplan.plan(value), "pieces")  # type: ignore[misc]
        assert "give pieces one by one" in words


def test_the_shop_and_the_page() -> None:
    for value in (*NO_TEXT, ""):
        _refused(lambda value=value: finplan.read_shop(value), "shop")  # type: ignore[misc]
    plan = finplan.plan(EXAMPLE, start=MARCH)
    for value in (*NO_TEXT, None, "", "a\0.pdf"):
        _refused(lambda value=value: plan.pdf(value), "output")  # type: ignore[misc]


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (
            lambda: finplan.plan(EXAMPLE, ready_for="light-sue"),  # type: ignore[arg-type]
            "ready_for: 'light-sue' is given where 'handle', 'light-use' or 'cure' is expected; "
            "did you mean 'light-use'?",
        ),
        (
            lambda: finplan.read(EXAMPLE, units="meter"),  # type: ignore[arg-type]
            "units: 'meter' is given where 'metric' or 'us' is expected; did you mean 'metric'?",
        ),
        (
            lambda: finplan.read(EXAMPLE, paper="A4"),  # type: ignore[arg-type]
            "paper: 'A4' is given where 'a4' or 'letter' is expected; did you mean 'a4'?",
        ),
        (
            lambda: finplan.plan(EXAMPLE, done=3),  # type: ignore[arg-type]
            "done: an int 3 is given where a list of ids of steps, "
            "or a mapping from them to when each ended, is expected",
        ),
        (
            lambda: finplan.plan(EXAMPLE, done=["top/hardwax-oil/33"]),
            "done: 'top/hardwax-oil/33' is no step; did you mean 'top/hardwax-oil/3'?",
        ),
        (
            lambda: finplan.plan(EXAMPLE, start="first of March"),
            "start: 'first of March' is not a date; expected 2027-03-12 or 12 Mar 2027, and a time of day where it "
            "matters: 2027-03-12 15:00",
        ),
        (
            lambda: finplan.plan(EXAMPLE, sure=90),
            "sure: an int 90 is given where a probability from 0.5 to 0.999 is expected",
        ),
    ],
    ids=["a word that is near", "units", "paper", "no steps", "a step that is near", "a date", "per cent"],
)
def test_the_words(call: Callable[[], object], words: str) -> None:
    with pytest.raises(finplan.WishError) as refused:
        call()
    assert str(refused.value) == words


def test_what_is_right_is_taken() -> None:
    """As it may be written: nothing that a maker would give is refused."""
    piece = finplan.read(EXAMPLE, shop=finplan.read_shop(), units="us", paper="letter", name="Table of Ines")
    plan = finplan.plan(
        piece,
        start=datetime(2027, 3, 1, 8, tzinfo=UTC),
        deliver=date(2027, 3, 20),
        sure=0.95,
        asap=True,
        ready_for="handle",
        lost_day="2027-03-03",
        limit_s=5,
        done=(),
    )
    assert (plan.confidence, plan.wishes.limit_s, plan.wishes.lost_day) == (0.95, 5.0, date(2027, 3, 3))
    assert plan.units == "us"


def test_a_file_that_is_none_is_refused_by_its_name(tmp_path: Path) -> None:
    for given in (tmp_path, tmp_path / "none.yaml", str(tmp_path / "none.yaml")):
        with pytest.raises(finplan.RefusedError):
            finplan.read(given)

"""What a row says of the air: never that it does without the fan that this rests on, and which case exceeds."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from finplan.safety import FitAgain, SessionReport
from finplan.safety.room_air import RoomAir
from finplan.safety.session import Session
from finplan.telling import air_words, verdict_words
from tests.safety.sessions import emission, flow, made, room


def said(session: Session) -> str:
    report = SessionReport(session, None, None, session.steps, session.steps, (), (), (), ())
    return air_words(report, session.steps[0], "metric")


def test_the_fan_that_it_rests_on_is_said_first() -> None:
    session = made(room(60, 2, 300), emission(400))
    assert said(session).startswith("Fan ON (300 m³/h): then the air does by this reckoning, ")
    assert said(session).endswith(": vapour mask.")
    assert "Without it" in said(session)
    assert verdict_words(session) == "The room's air is enough with the fan on, by this reckoning"


def test_where_it_does_without_the_fan_that_is_said() -> None:
    session = made(room(60, 2, 300), emission(10))
    assert said(session).startswith("The air does with the fan or without by this reckoning, ")
    assert "with the fan or without" in verdict_words(session)


def test_a_room_without_a_fan_has_none() -> None:
    assert "fan" not in said(made(flow(100), emission(10))).casefold()


def test_the_case_that_exceeds_is_named() -> None:
    session = made(flow(100.0, 50.0), emission(255.0))
    assert session.fan_on is not None
    exceeds = session.fan_on.breathing == "close"
    assert (": then a mask" in said(session)) is exceeds
    assert "at the most" in said(session)


@pytest.mark.parametrize(
    ("session", "words"),
    [
        (made(flow(100.0, 50.0), emission(300)), "Vapour mask: by this reckoning "),
        (made(room(60, 0.5, 20), emission(300)), "Vapour mask, Fan ON (20 m³/h): by this reckoning "),
        (made(flow(100.0, 50.0), emission(3000)), "DO NOT BEGIN"),
        (made(room(), emission(10)), "Air not known: vapour mask"),
        (made(flow(1e4), emission(10, isocyanate=True)), "Air alone does not do for isocyanate."),
        (made(flow(1e4), emission(10, booth_only=True)), "No booth: sprayed without one"),
    ],
)
def test_each_verdict_for_the_bench(session: Session, words: str) -> None:
    assert said(session).startswith(words)


@pytest.mark.parametrize(
    ("air", "isocyanate", "words"),
    [
        (flow(100.0, 50.0), False, "Then finishing: who goes in there until Fri 9 Jul 10:25 wears a vapour mask ("),
        (flow(1e4), True, "until Fri 9 Jul 10:25 wears breathing protection as the safety data sheet demands ("),
        (room(), False, "wears a vapour mask (its air is not known, air 4). A note at its door says so."),
        (flow(1e4), False, ""),
    ],
)
def test_where_a_coat_is_carried_to_who_goes_in_is_told(air: RoomAir, isocyanate: bool, words: str) -> None:
    """Nobody works where it dries: what is to be known there stands with the coat that is carried in."""
    session = made(air, emission(300, isocyanate=isocyanate, carried=True))
    gone, fit = datetime(2027, 7, 9, 9, tzinfo=UTC), datetime(2027, 7, 9, 10, 21, tzinfo=UTC)
    again = (FitAgain("sanding", 2.0, fit), FitAgain("sleeping", 9.0, datetime(2027, 7, 9, 17, tzinfo=UTC)))
    told = air_words(
        SessionReport(session, None, gone, session.steps, session.steps, (), (), again, ()), "top/1", "us", 4
    )
    assert words in told
    assert bool(words) == bool(told)

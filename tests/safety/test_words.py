"""What a row says of the air: never that it does without the fan that this rests on, and which case exceeds."""

from __future__ import annotations

import pytest

from finplan.safety import SessionReport
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

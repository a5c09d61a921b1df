"""What is ticked before several rows of one session: what is at hand and what is worn is one list each."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

import pytest

from finplan.telling import CareWords, before_all
from finplan.timetable import TimetableStep

BEGIN = datetime(2027, 3, 1, 8, tzinfo=UTC)


def row(number: int) -> TimetableStep:
    return TimetableStep(
        id=f"stand/{number}",
        piece="stand",
        item="stand",
        person="Wynn",
        room="shop",
        deed="sand",
        step="sand",
        kind="attended",
        start=BEGIN,
        end=BEGIN + timedelta(hours=1),
        number=number,
    )


def care(on: Sequence[str], at_hand: Sequence[str] = (), *, opens: bool = True) -> CareWords:
    asked = ("Fan on.",) if opens else ()
    return CareWords(opens, tuple(on), asked, tuple(at_hand), mind=(), air=(), air_enough=True)


MASK, GOGGLES, EARS = "dust mask", "goggles", "ear defenders"


@pytest.mark.parametrize(
    ("cares", "expected"),
    [
        ([care([MASK, GOGGLES]), care([MASK, GOGGLES])], ["Fan on.", "On: dust mask, goggles."]),
        # By hand, then by machine, then by hand: one list, with what comes later at its step.
        (
            [care([MASK, GOGGLES]), care([GOGGLES, EARS, MASK]), care([MASK])],
            ["Fan on.", "On: dust mask, goggles; at step 4 ear defenders."],
        ),
        ([care([MASK]), care([EARS]), care([EARS])], ["Fan on.", "On: dust mask; at steps 4 and 5 ear defenders."]),
        ([care([MASK], ["sand"]), care([MASK], ["sand", "bin"])], ["Fan on.", "At hand: sand, bin.", "On: dust mask."]),
        ([care([], ["sand"]), care([])], ["Fan on.", "At hand: sand."]),
        ([care([MASK], opens=False), care([EARS], opens=False)], []),
        # What goes straight on is worn as what was opened before it.
        ([care([MASK]), care([MASK, EARS], opens=False)], ["Fan on.", "On: dust mask; at step 4 ear defenders."]),
    ],
)
def test_what_is_worn_is_one_tick(cares: list[CareWords], expected: list[str]) -> None:
    assert list(before_all([(row(3 + at), one) for at, one in enumerate(cares)])) == expected

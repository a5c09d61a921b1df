"""Nothing hot is used where vapour that burns is still in the air: the lock-up said so, and the iron's row nothing."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from finplan.moments import show_moment
from finplan.planning import Wishes, with_stages
from finplan.telling import row_care_words
from tests.plans import plan_of
from tests.safety.pieces import plan_with, source_with

MORE = "before: [steam-dents]\n"


@pytest.mark.parametrize(
    ("system", "room", "early_min", "said"),
    [
        ("shellac", "finishing", 5, True),
        ("shellac", "finishing", 0, False),
        ("shellac", "bench", 5, False),
        ("waterborne-polyurethane", "finishing", 5, False),
    ],
)
def test_an_iron_waits_until_a_heater_may_be_lit(
    system: str, room: str, early_min: int, said: bool, tmp_path: Path
) -> None:
    plan = plan_with(tmp_path, system, timber="beech", more=MORE)
    coats = [row for row in plan.timetable.steps if row.deed == "coat" and row.kind == "attended"]
    coat = max(coats, key=lambda row: row.start)
    report = next(report for report in plan.safety.sessions if coat.id in report.steps)
    (fit,) = [again.at for again in report.fit_again if again.purpose == "heater"]
    assert fit is not None
    iron = next(row for row in plan.timetable.steps if row.extra == "steam-dents" and row.kind == "attended")
    start = fit - timedelta(minutes=early_min)
    there = replace(iron, room=room, start=start, end=start + (iron.end - iron.start))
    rows = sorted((there if row is iron else row for row in plan.timetable.steps), key=lambda row: row.start)
    changed = with_stages(
        plan_of([source_with(tmp_path, system, timber="beech", more=MORE)], now=plan.now, wishes=Wishes()),
        timetable=replace(plan.timetable, steps=tuple(rows)),
    )
    mind = " ".join(row_care_words(changed.precautions.rows[iron.id], changed).mind)
    words = f"NOT BEFORE {show_moment(fit)}: by this reckoning the air here may still hold vapour that burns"
    assert (words in mind) is said, mind

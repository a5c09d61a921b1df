"""What sands before the air is fit for it is told at its step, on the sheet, on the phone and at the terminal."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

from finplan.calendar import plan_calendar
from finplan.cli.timetable import timetable_lines
from finplan.moments import show_moment
from finplan.planning import Wishes, with_stages
from finplan.sheet import sheet_html
from finplan.telling import row_care_words
from tests.plans import make_plan, plan_of
from tests.safety.pieces import NOW, source_with


def test_what_sands_before_the_air_is_fit_is_told_at_its_step(tmp_path: Path) -> None:
    source = source_with(tmp_path, "shellac", room="volume: 40 m3, air-changes: 1")
    plan = make_plan([source], now=NOW, wishes=Wishes(answers=False))
    rows = plan.timetable.steps
    assert not any(one.too_early for one in plan.safety.sessions)
    assert all(care.fit_from is None for care in plan.precautions.rows.values())
    coat = next(row for row in rows if row.deed == "coat" and row.kind == "attended")
    sanded = next(row for row in rows if row.deed == "abrade" and row.start > coat.end)
    soon = coat.end + timedelta(minutes=10)
    hurried = replace(sanded, room=coat.room, start=soon, end=soon + (sanded.end - sanded.start))
    moved = sorted((hurried if row is sanded else row for row in rows), key=lambda row: row.start)
    not_reckoned = plan_of([source], now=NOW, wishes=Wishes())
    changed = with_stages(not_reckoned, timetable=replace(plan.timetable, steps=tuple(moved)))
    fit = next(one.at for one in changed.safety.sessions[0].fit_again if one.purpose == "sanding")
    assert fit is not None
    assert fit > soon
    care = changed.precautions.rows[sanded.id]
    assert care.fit_from == fit
    words = row_care_words(care, changed).mind[0]
    assert words.startswith(f"NOT BEFORE {show_moment(fit)}: ")
    assert words in " ".join(sheet_html(changed).split())
    phone = plan_calendar(changed, NOW).replace(b"\r\n ", b"").decode().replace("\\,", ",")
    assert words in phone
    assert any(line.endswith(f", {sanded.step}: {words}") for line in timetable_lines(changed))
    assert not any("NOT BEFORE" in line for line in timetable_lines(plan))

"""What data, spreadsheet, calendar, terminal, tags and sheet tell of one plan agrees, row by row.

A sample; ``python -m tests.telling.whole_grid`` looks at all of the grid.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from finplan.material import Measured
from finplan.planning import Plan
from finplan.safety import RowCare
from finplan.telling import Mixing, Names
from finplan.timetable import PieceTimes, TimetableStep
from tests.telling.agreement import disagreements
from tests.telling.jobs import door, jobs

_JOBS = jobs()


@pytest.mark.parametrize("name", _JOBS)
def test_nothing_is_told_in_two_ways(name: str, tmp_path: Path) -> None:
    assert disagreements(_JOBS[name](tmp_path)) == []


@pytest.fixture(scope="module")
def stool(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """One of which windows close."""
    return _JOBS["blend, windows that close"](tmp_path_factory.mktemp("stool"))


@pytest.fixture(scope="module")
def pantry(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    return door(tmp_path_factory.mktemp("door"), "waterborne-polyurethane", "metric")


class _OtherNames(Names):
    def alone(self, row: TimetableStep) -> str:
        return f"the {super().alone(row)}"


class _WholeCoats(Mixing):
    def poured(self, one: Measured) -> str:
        return f"{2 * (one.mix.decant.volume_ml or 0.0):.0f} ml"


def _said_of_nothing(_: object) -> str:
    return ""


def _an_hour_late(times: PieceTimes) -> datetime:
    return times.ready + timedelta(hours=1)


def _a_day_late(moment: datetime) -> datetime:
    return moment + timedelta(days=1)


def _without_worn(care: RowCare) -> str:
    return ""


@pytest.mark.parametrize(
    ("of", "changed", "to", "words"),
    [
        ("stool", "finplan.calendar.text.after_coat_words", _said_of_nothing, "calendar: base/"),
        ("stool", "finplan.sheet.step_rows.after_coat_words", _said_of_nothing, "sheet: "),
        ("stool", "finplan.cli.timetable.next_by_words", _said_of_nothing, "terminal: next coat on"),
        ("stool", "finplan.telling.after_coat.not_after", _a_day_late, "calendar: "),
        ("stool", "finplan.calendar.text.not_after", _a_day_late, "which no work names"),
        ("stool", "finplan.calendar.file.ready_at", _an_hour_late, "calendar: no "),
        ("stool", "finplan.sheet.first_page.ready_at", _an_hour_late, "sheet: "),
        ("stool", "finplan.cli.timetable.ready_at", _an_hour_late, "terminal: "),
        ("stool", "finplan.calendar.file.Names", _OtherNames, "'the "),
        ("pantry", "finplan.calendar.text.Mixing", _WholeCoats, "poured is"),
        ("pantry", "finplan.cli.coats.Mixing", _WholeCoats, "terminal: door, coat 1, back"),
        ("pantry", "finplan.telling.step_words.Mixing", _WholeCoats, "sheet: "),
        ("pantry", "finplan.safety.RowCare.wear", property(_without_worn), "calendar: "),
    ],
)
def test_a_disagreement_is_found(
    of: str, changed: str, to: object, words: str, request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch
) -> None:
    plan: Plan = request.getfixturevalue(of)
    assert disagreements(plan) == []
    monkeypatch.setattr(changed, to)
    found = disagreements(plan)
    assert any(words in one for one in found), found

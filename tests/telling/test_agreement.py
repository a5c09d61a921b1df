"""What data, spreadsheet, calendar, terminal, tags and sheet tell of one plan agrees, row by row.

A sample; ``python -m tests.telling.whole_grid`` looks at all of the grid.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from finplan.material import MeasuredOut
from finplan.planning import Plan
from finplan.sheet import sheet_html
from finplan.system import Treatment, TreatmentStep
from finplan.telling import AfterCoat, Mixing, Names
from finplan.telling.after_coat import after_coat
from finplan.telling.row_care import CareWords
from finplan.timetable import PieceTimes, TimetableStep
from tests.telling.agreement import _on_paper, disagreements
from tests.telling.jobs import door, jobs, own_door
from tests.telling.read_back import Said

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


@pytest.fixture(scope="module")
def gate(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """A door of which each side is abraded again."""
    return own_door(tmp_path_factory.mktemp("gate"))


class _OtherNames(Names):
    def alone(self, row: TimetableStep) -> str:
        return f"the {super().alone(row)}"


class _WholeCoats(Mixing):
    def poured(self, measured: MeasuredOut, *, mixed: bool = False) -> str:
        return f"{2 * ((measured.mix.of_batch if mixed else measured.mix.decant).volume_ml or 0.0):.0f} ml"


def _said_of_nothing(_: object) -> str:
    return ""


def _said_of_nothing_dried(*_: object) -> str:
    return ""


def _an_hour_late(times: PieceTimes) -> datetime:
    return times.ready + timedelta(hours=1)


def _a_day_late(moment: datetime) -> datetime:
    return moment + timedelta(days=1)


def _when_the_other_side_begins(
    row: TimetableStep, treatment: Treatment, step: TreatmentStep, begun: Mapping[str, TimetableStep]
) -> AfterCoat:
    """A first side that is left alone until the other is coated: told everywhere alike, and wrong."""
    found = after_coat(row, treatment, step, begun)
    return replace(found, opens=begun[f"{step.id}/second-side"].start) if row.side == "first-side" else found


def _without_worn(care: CareWords) -> str:
    return ""


@pytest.mark.parametrize(
    ("of", "changed", "to", "words"),
    [
        ("stool", "finplan.calendar.text.after_coat_words", _said_of_nothing, "calendar: base/"),
        ("stool", "finplan.telling.next_work.dried_words", _said_of_nothing_dried, "sheet: "),
        ("stool", "finplan.cli.timetable.next_by_words", _said_of_nothing, "terminal: next coat on"),
        ("stool", "finplan.telling.after_coat.not_after", _a_day_late, "calendar: "),
        ("stool", "finplan.calendar.text.not_after", _a_day_late, "which no work names"),
        ("stool", "finplan.calendar.file.ready_at", _an_hour_late, "calendar: no "),
        ("stool", "finplan.telling.agenda.ready_at", _an_hour_late, "sheet: "),
        ("stool", "finplan.sheet.days.ready_at", _an_hour_late, "sheet: "),
        ("stool", "finplan.cli.timetable.ready_at", _an_hour_late, "terminal: "),
        ("stool", "finplan.calendar.file.Names", _OtherNames, "'the "),
        ("pantry", "finplan.calendar.text.Mixing", _WholeCoats, "poured is"),
        ("pantry", "finplan.cli.coats.Mixing", _WholeCoats, "terminal: door, coat 1, back"),
        ("pantry", "finplan.telling.step_words.Mixing", _WholeCoats, "sheet: "),
        ("gate", "finplan.telling.after_coat.after_coat", _when_the_other_side_begins, "terminal: "),
        ("gate", "finplan.telling.after_coat.after_coat", _when_the_other_side_begins, "sheet: "),
        ("pantry", "finplan.cli.sanding.order_words", _said_of_nothing, "in the order of sanding"),
        ("pantry", "finplan.telling.row_care.CareWords.wear", property(_without_worn), "calendar: "),
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


def test_two_people_clean_up_in_the_same_minute() -> None:
    start, end = "2027-03-02T08:05", "2027-03-02T08:15"
    row = {"number": 7, "deed": "clean-up", "item": "tray", "start": start, "end": end}
    event = Said("2027-03-02 08:05", "2027-03-02 08:15", "tray", "clean up after coat 1")
    sheet = [replace(event, name=None, number=number) for number in ("6", "7")]
    assert _on_paper(row, event, sheet) is sheet[1]
    assert _on_paper({**row, "number": 8}, event, sheet) is None


def test_what_is_done_to_a_side_names_it(gate: Plan) -> None:
    """Each side of a coat has its own stretches of work: no two are called alike."""
    rows = {row.id: row for row in gate.timetable.steps if row.kind == "attended" and row.side}
    assert {row.deed for row in rows.values()} == {"coat", "clean-up", "abrade-again"}
    assert len({row.step for row in rows.values()}) == len(rows)
    for row in rows.values():
        assert row.step.endswith(", back" if row.side == "first-side" else ", front and edges")
    page = " ".join(sheet_html(gate).split())
    for faces in ("back", "front and edges"):
        assert f"dull the {faces} alone, all over, by hand" in page


@pytest.mark.parametrize("name", ["own system, door", "blend, windows that close", "own system, varnish"])
def test_the_data_says_that_a_coat_is_abraded_first(name: str, tmp_path: Path) -> None:
    """A window that closes before it opens, or before the next coat is begun, does not bind."""
    plan = _JOBS[name](tmp_path)
    coats = [row for row in plan.timetable.steps if row.kind == "attended" and row.deed == "coat"]
    seen = set()
    for row in coats:
        steps = next(one.steps for one in plan.treatments if any(step.id == row.of_step for step in one.steps))
        later = [step.id for step in steps if step.coat is not None]
        later = later[later.index(row.of_step or "") + 1 :]
        on_it = [one for one in coats if later and (one.of_step, one.side) == (later[0], row.side)]
        assert (row.abraded_first is None) == (not on_it)
        if on_it and row.next_until is not None:
            assert row.abraded_first or row.next_until >= on_it[0].start, row.id
        seen.add(row.abraded_first)
    assert True in seen

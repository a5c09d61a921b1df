"""What is over before a sample is approved stays where a plan has it while the rest is searched: nothing is lost."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from finplan.planning import Plan, Wishes, job_of, read_source
from finplan.scheduling import Scheduled
from finplan.timetable import Job, Planner, all_operations
from finplan.timetable.over_before import over_before
from finplan.timetable.windows import Windows
from tests.plans import make_plan

LONDON = ZoneInfo("Europe/London")
NOW = datetime(2027, 1, 4, 8, tzinfo=LONDON)
SHOP = """\
shop: Trial
time-zone: Europe/London
people: [{name: Ines, hours: {mon-fri: '8:00-17:00'}}]
rack: {places: 2, hooks: 2}
"""
CABINET = """\
piece: Cabinet
lengths: mm
timber: walnut
system: oil-varnish
deliver: 2027-04-16
sample: approve by 2027-02-19
parts:
  top: {shape: rectangle, length: 900, width: 400, thickness: 25}
  shelf: {shape: board, length: 800, width: 250, thickness: 20, count: 3}
"""


def job(folder: Path, piece: str = CABINET) -> Job:
    (folder / "piece.yaml").write_text(piece, encoding="utf-8")
    (folder / "shop.yaml").write_text(SHOP, encoding="utf-8")
    plan: Plan = make_plan([read_source(folder / "piece.yaml", folder / "shop.yaml")], now=NOW)
    return job_of(plan.pieces, plan.deliveries, NOW, Wishes())


def over(planner: Planner) -> Mapping[str, Scheduled]:
    made = planner.made_early(dated=True)
    assert made is not None
    return over_before(planner.job.pieces, planner.setting, planner.waits, made.schedule)


def test_all_but_what_waits_for_the_approval_is_over_before_it(tmp_path: Path) -> None:
    planner = Planner(job(tmp_path))
    approved = planner.setting.slot_from(datetime(2027, 2, 19, 17, tzinfo=LONDON))
    piece, sample = planner.job.pieces
    stays = over(planner)
    assert {operation.id for operation in sample.open} <= stays.keys()
    assert {operation.id for operation in piece.open if operation.finish is not None}.isdisjoint(stays)
    assert any(operation.id in stays for operation in piece.open if operation.deed == "sand")
    assert max(at.end for at in stays.values()) <= approved
    made = planner.made_early(dated=True)
    assert made is not None
    names = {work.id for work in all_operations(piece.open)}
    assert all(at.start >= approved for name, at in made.schedule.items() if name in names - stays.keys())


def test_nothing_stays_where_nothing_waits_for_what_is_to_come(tmp_path: Path) -> None:
    asked = CABINET.replace("sample: approve by 2027-02-19\n", "")
    assert over(Planner(job(tmp_path, asked))) == {}


def test_nothing_stays_where_it_is_not_over_by_then(tmp_path: Path) -> None:
    """A sample that is approved sooner than its coats are dry is still in the way when the first coat may go on."""
    soon = CABINET.replace("2027-02-19", "2027-01-05")
    planner = Planner(job(tmp_path, soon))
    made = planner.made_early(dated=False)
    assert made is not None
    assert over_before(planner.job.pieces, planner.setting, planner.waits, made.schedule) == {}


def test_it_is_ready_as_early_as_where_all_is_searched(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    small = CABINET.replace(", count: 3", "").replace("2027-02-19", "2027-01-22")
    asked = job(tmp_path, small)
    found = Planner(asked).early()
    monkeypatch.setattr(Windows, "over_before", lambda *_: {})
    whole = Planner(asked).early()
    assert found is not None
    assert whole is not None
    assert found.result.status == whole.result.status == "optimal"
    ready = [Planner(asked).maker.ready(plan.schedule) for plan in (found, whole)]
    assert max(ready[0].values()) == max(ready[1].values())

"""The sample board: of the same timber, grades and coats, dry before its approval, for which the first coats wait."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from finplan.data import plan_data
from finplan.planning import Plan, read_source
from finplan.planning.late_approval import approval_keeps
from finplan.planning.wishes import Wishes
from finplan.sanding import grits_of
from finplan.telling import approvals_told
from tests.conftest import Cli
from tests.plans import make_plan, plan_of

LONDON = ZoneInfo("Europe/London")
NOW = datetime(2027, 1, 4, 8, tzinfo=LONDON)
BY = datetime(2027, 1, 20, 17, tzinfo=LONDON)
BENCH = """\
piece: Bench
lengths: mm
timber: white-oak
system: stain-and-varnish
deliver: 2027-02-19
{more}
parts:
  seat: {{shape: rectangle, length: 1400, width: 380, thickness: 30, stop-grit: P150}}
  leg: {{shape: square-leg, side: 50, length: 420, count: 4}}
"""
SHOP = "shop: Trial\ntime-zone: Europe/London\npeople: [{name: Ines, hours: {mon-fri: '8:00-17:00'}}]\n"
ASKED = "sample: approve by 2027-01-20\nbefore: [raise-grain]\n"


def planned(folder: Path, more: str = ASKED, *, now: datetime = NOW, done: dict[str, datetime] | None = None) -> Plan:
    (folder / "bench.yaml").write_text(BENCH.format(more=more), encoding="utf-8")
    (folder / "shop.yaml").write_text(SHOP, encoding="utf-8")
    source = read_source(folder / "bench.yaml", folder / "shop.yaml")
    return make_plan([source], now=now, wishes=Wishes(done=done or {}, answers=False))


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """A bench whose sample is to be approved."""
    return planned(tmp_path_factory.mktemp("sample"))


def first_coat(plan: Plan, key: str = "") -> datetime:
    return min(row.start for row in plan.timetable.steps if row.key == key and row.deed in ("coat", "fill"))


def test_the_board_is_of_the_same_timber_grades_and_coats(bench: Plan) -> None:
    piece, board = bench.pieces
    assert (board.sample, board.key, piece.key) == (True, "sample/", "")
    seat = next(treatment for treatment in piece.treatments if treatment.item == "seat")
    (of_board,) = board.treatments
    assert [(step.do, step.finish, step.method) for step in of_board.steps] == [
        (step.do, step.finish, step.method) for step in seat.steps
    ]
    assert {group.timber for group in of_board.groups} == {"white-oak"}
    sanded = [piece.sanding.sanded_of(seat.groups)["seat"], board.sanding.sanded_of(of_board.groups)["board"]]
    grits = [grits_of(groups) for groups in sanded]
    assert grits[0][-1] == grits[1][-1] == "P150"
    assert of_board.area_m2 == pytest.approx(0.06)  # as the catalogue says: an offcut of 200 x 300 mm


def test_it_is_approved_in_time_and_the_first_coats_wait_for_that(bench: Plan) -> None:
    signed = next(row for row in bench.timetable.steps if row.extra == "approved")
    assert signed.id == "sample/approved"
    assert signed.end <= BY
    assert first_coat(bench, "sample/") < signed.start
    assert first_coat(bench) >= BY
    assert any("signature" in (bench.catalogue.extra_steps["approved"].tick or "") for _ in [0])
    assert [tick.due for tick in bench.precautions.ticks if tick.row == signed.id] == [signed.end]


def test_nothing_is_bought_twice_for_it(bench: Plan, tmp_path: Path) -> None:
    boards = {coat.item for need in bench.materials.materials for coat in need.coats}
    assert boards == {"seat", "leg", "board"}
    without = plan_of([planned(tmp_path, "before: [raise-grain]").pieces[0].source], now=NOW)
    needed, usual = (sum(need.needed_ml.typical for need in plan.materials.materials) for plan in (bench, without))
    assert needed == pytest.approx(usual, rel=0.05)


def test_it_is_told_until_when_a_late_approval_moves_nothing(bench: Plan) -> None:
    (told,) = approvals_told(bench)
    assert told.words.startswith("No coat before the sample is approved, by Wed 20 Jan 17:00; approved by ")
    assert told.keeps_until is not None
    assert told.keeps_until > BY
    (row,) = plan_data(bench).approvals
    assert (row.late, row.told) == (False, told.words)


def test_what_is_told_is_planned_from_and_no_later_than_where_a_plan_is_found(bench: Plan) -> None:
    piece, told = bench.pieces[0], bench.approvals_keep[bench.pieces[0].name]
    coats = [operation.id for operation in piece.operations if operation.finish is not None]
    last, first = min(bench.slips.latest[name] for name in coats if name in bench.slips.latest), first_coat(bench)
    assert first < told <= last
    tried: list[datetime] = []

    def never(moment: datetime) -> bool:
        tried.append(moment)
        return False

    assert approval_keeps(piece, bench.timetable, bench.slips, never) == first
    assert tried[0] == last
    assert tried == sorted(tried, reverse=True)
    middle = first + (last - first) / 2
    found = approval_keeps(piece, bench.timetable, bench.slips, lambda moment: moment <= middle)
    assert found is not None
    assert middle - timedelta(minutes=1) < found <= middle


def test_signed_early_it_lets_the_coats_begin(bench: Plan, tmp_path: Path) -> None:
    at = BY - timedelta(days=6)
    done = {operation.id: at for operation in bench.pieces[1].operations}
    soon = planned(tmp_path, now=at, done=done)
    assert approvals_told(soon) == ()
    again = planned(tmp_path, ASKED.replace("approve by 2027-01-20", "approved 2027-01-14"), now=at)
    assert len(again.pieces) == 1
    # The plan begins as late as is safe; as early as can be, nothing waits any more.
    (tmp_path / "bench.yaml").write_text(BENCH.format(more=ASKED), encoding="utf-8")
    source = read_source(tmp_path / "bench.yaml", tmp_path / "shop.yaml")
    hurried = make_plan([source], now=at, wishes=Wishes(done=done, asap=True, answers=False))
    assert first_coat(hurried) < BY


def test_late_it_holds_all_coats_up_and_that_is_told(bench: Plan, tmp_path: Path) -> None:
    at = BY + timedelta(days=2)
    made = {operation.id: BY - timedelta(days=2) for operation in bench.pieces[1].operations[:-1]}
    late = planned(tmp_path, now=at, done=made)
    assert late.timetable.has_plan
    (told,) = approvals_told(late)
    assert told.approval.late
    assert told.words.startswith("The sample was to be approved by Wed 20 Jan 17:00 and is not")
    assert first_coat(late) >= at


@pytest.mark.parametrize(
    ("sample", "said"),
    [
        ("approve by then", "'then' is not a date"),
        ("maybe", "'maybe' says nothing of a sample; expected approve by 2027-01-20, or approved 2027-01-18"),
        ("approve by 2027-03-20", "2027-03-20 is after the delivery"),
    ],
)
def test_what_is_wrong_with_it_is_told(sample: str, said: str, tmp_path: Path, cli: Cli) -> None:
    (tmp_path / "bench.yaml").write_text(BENCH.format(more=f"sample: {sample}"), encoding="utf-8")
    assert said in " ".join(cli("check", tmp_path / "bench.yaml").out.split())

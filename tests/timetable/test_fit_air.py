"""Nothing is sanded before the air is fit for it where the dates leave room, and is told where they do not.

What the air holds is integrated minute by minute from ``V dC/dt = G - Q C``, the well-mixed box of every handbook of
ventilation, and held with the margin of 2 against the limits of the NIOSH Pocket Guide, added up as shares of them as
29 CFR 1910.1000(d)(2) does.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import nullcontext
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from finplan.demo import write_demo
from finplan.planning import Plan, PlannedPiece, Wishes, read_sources, timetable_of, together, with_stages
from finplan.planning.job import job_of
from finplan.planning.timing import draft_of
from finplan.reading import GivenDate
from finplan.safety.coats import Coats
from finplan.safety.vapour import mass_in_air
from finplan.timetable import Timetable, TimetableStep, broken_by, hours_between, rows_before
from tests.planned_once import made_at_once
from tests.timetable.generated import case, treated_case
from tests.timetable.read_back import Planned
from tests.timetable.shops import read, rest_of, shelf
from tests.timetable.test_dust import ONE_ROOM, SHOP
from tests.timetable.verifier import broken_rules

NOW = datetime(2027, 3, 1, 8, tzinfo=UTC)
VOLUME_M3, CHANGES = 25.0, 0.5
ROOM = ONE_ROOM.replace("drying]", f"drying], volume: {VOLUME_M3} m3, air-changes: {CHANGES}")
ASKED = Wishes(answers=False)
LIMITS_MG_M3 = {
    "ethanol": mass_in_air(1000.0, 46.07),
    "methanol": mass_in_air(200.0, 32.04),
    "white-spirit": 350.0,
}
"""NIOSH Pocket Guide: 1000 ppm, 200 ppm, and 350 mg/m3 (of Stoddard solvent)."""
MARGIN = 2
STEP_H = 1 / 60


@pytest.fixture(scope="module")
def pieces(tmp_path_factory: pytest.TempPathFactory) -> tuple[PlannedPiece, ...]:
    return read(tmp_path_factory.mktemp("shop"), [shelf("shellac", 2)], SHOP + ROOM)


@pytest.fixture(scope="module")
def plan(pieces: tuple[PlannedPiece, ...]) -> Plan:
    return Plan(pieces, NOW, wishes=ASKED)


@pytest.fixture(scope="module")
def without(pieces: tuple[PlannedPiece, ...]) -> Timetable:
    return timetable_of(pieces, [None], now=NOW, wishes=ASKED)


def too_early(plan: Plan) -> list[str]:
    return [one.row.id for one in plan.safety.too_early]


def test_what_else_is_told_is_looked_for_once(
    pieces: tuple[PlannedPiece, ...], plan: Plan, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of the plan that is worked by, and not of the one that sands too early as well."""
    looked: list[int] = []
    monkeypatch.setattr("finplan.planning.plan.draft_of", draft_of)  # planned here and not taken over
    monkeypatch.setattr("finplan.timetable.answer._earliest_ready", lambda *_: looked.append(1))
    told = Plan(pieces, NOW).timetable
    assert told.air_waits_h == plan.timetable.air_waits_h != {}
    assert len(looked) == 1


def test_the_plan_sands_no_sooner_than_is_told_after_each_session(plan: Plan) -> None:
    """What is told is rounded up as the steps of a plan are: what may begin then is never told to wait."""
    early = {*too_early(plan)}
    dusty = [row for row in plan.timetable.steps if row.deed in ("sand", "abrade", "rub-out") and row.id not in early]
    told = 0
    for session in plan.safety.sessions:
        ends = max(row.end for row in plan.timetable.steps if row.id in session.steps and row.kind == "attended")
        (fit,) = [one for one in session.fit_again if one.purpose == "sanding"]
        assert fit.at is not None
        told += fit.at > ends
        assert not [row.id for row in dusty if ends <= row.start < fit.at]
        if fit.hours == 0:
            assert fit.at == ends
    assert told


def share_of_limits(plan: Plan, rows: tuple[TimetableStep, ...]) -> dict[str, float]:
    """How much of the limits the air holds, with the margin, when rows of sanding begin, by their ids."""
    before = rows_before((one for piece in plan.pieces for one in piece.operations), plan.done, plan.shop, plan.now)
    set_free = Coats(plan.treatments, plan.materials.coats, plan.catalogue).planned(rows, before)
    assert set_free.origin is not None
    begin_h = {row.id: hours_between(set_free.origin, row.start) for row in rows if row.deed in ("abrade", "rub-out")}
    every = [one for one in (*set_free.before, *set_free.emissions) if one.mass_g.high]
    assert {one.solvent for one in every} <= set(LIMITS_MG_M3)
    found: dict[str, float] = {}
    held_mg = dict.fromkeys(LIMITS_MG_M3, 0.0)
    for minute in range(round(max(begin_h.values()) * 60) + 1):
        at_h = minute * STEP_H
        held = sum(mass / VOLUME_M3 / LIMITS_MG_M3[solvent] for solvent, mass in held_mg.items()) * MARGIN
        found |= {name: held for name, begins_h in begin_h.items() if abs(begins_h - at_h) < STEP_H / 2}
        for one in every:
            if one.start_h <= at_h < one.end_h + 12 * one.decay_h + STEP_H:
                rate = one.rising(at_h) if at_h < one.end_h else one.falling(at_h)
                held_mg[one.solvent] += one.mass_g.high * 1000 * rate * STEP_H
        for solvent in held_mg:
            held_mg[solvent] *= 1 - CHANGES * STEP_H
    return found


def test_nothing_is_sanded_before_the_air_is_fit(plan: Plan, without: Timetable) -> None:
    early = share_of_limits(plan, without.steps)
    told = too_early(with_stages(Plan(plan.pieces, NOW, wishes=ASKED), timetable=without))
    assert {name for name, share in early.items() if share > 1.02} <= set(told)
    assert set(told) <= {name for name, share in early.items() if share > 0.98}
    assert len(told) > 1
    assert too_early(plan) == []
    fit = share_of_limits(plan, plan.timetable.steps)
    assert set(fit) == set(early)
    assert max(fit.values()) <= 1.02


def test_the_check_and_the_verifier_hold_it(plan: Plan, without: Timetable) -> None:
    assert plan.timetable.air_waits_h
    kept = Planned(plan.pieces, (None,), NOW, ASKED, plan.timetable)
    assert broken_rules(kept) == []
    broken = replace(kept, timetable=replace(without, air_waits_h=plan.timetable.air_waits_h))
    assert any("in the vapour of" in one for one in broken_rules(broken))
    job = replace(job_of(plan.pieces, [None], NOW, ASKED), air_waits_h=plan.timetable.air_waits_h)
    assert broken_by(job, plan.timetable.steps) == []
    assert broken_by(job, without.steps)


def test_the_same_twice(plan: Plan) -> None:
    assert Plan(plan.pieces, NOW, wishes=ASKED).timetable == plan.timetable


def test_where_no_date_leaves_room_it_is_told(plan: Plan, without: Timetable) -> None:
    assert without.ready is not None
    assert plan.timetable.ready is not None
    assert without.ready < plan.timetable.ready
    tight = Plan(plan.pieces, NOW, GivenDate.parse(f"{without.ready:%Y-%m-%d %H:%M}"), wishes=ASKED)
    assert tight.timetable.has_plan
    assert not tight.timetable.air_waits_h
    early = too_early(tight)
    assert early
    assert all(tight.precautions.rows[name].fit_from is not None for name in early)


def ticked(plan: Plan) -> Iterator[tuple[Planned, Plan]]:
    """Give the rest of a plan that knew nothing of the air, planned again where it would sand next."""
    rows = [row for row in plan.timetable.steps if row.kind == "attended"]
    for row, after in pairwise(rows):
        if row.deed == "clean-up" and after.deed == "abrade":
            done = {one.id: one.end for one in rows if one.end <= row.end}
            wishes = replace(ASKED, done=done)
            kept = rest_of(Planned(plan.pieces, (None,), NOW, ASKED, plan.timetable), row.end, wishes)
            again = with_stages(Plan(plan.pieces, kept.earliest, wishes=wishes), timetable=kept.timetable)
            yield Planned(plan.pieces, (None,), kept.earliest, wishes, kept.timetable), again


def test_what_is_planned_again_after_a_coat_keeps_it_too(plan: Plan, without: Timetable) -> None:
    """Also where the vapour is that of coats which are ticked, of which no row is left."""
    found = list(ticked(with_stages(Plan(plan.pieces, NOW, wishes=ASKED), timetable=without)))
    for planned, again in found:
        assert broken_rules(planned) == []
        assert too_early(again) == []
        assert max(share_of_limits(again, again.timetable.steps).values()) <= 1.02
    waited = [planned for planned, again in found if set(again.timetable.air_waits_h) & set(planned.wishes.done)]
    assert waited


OLD_SHELF = """\
piece: Old shelf
lengths: mm
timber: beech
system: oil-varnish
refinish: {built: 1996, keep: true}
parts: {board: {shape: board, length: 1200, width: 400, thickness: 22, count: 3}}
"""


def test_what_was_wiped_with_before_is_waited_for_too(tmp_path: Path) -> None:
    """A film that stays is cleaned with white spirit, then abraded: not at once, where the cleaning ended late."""
    planned = Plan(read(tmp_path, [OLD_SHELF], SHOP + ROOM), NOW, wishes=ASKED)
    rows = [row for row in planned.timetable.steps if row.kind == "attended"]
    cleaned = [row for row in rows if row.extra == "clean-film"]
    last = max(cleaned, key=lambda row: row.end)
    late = last.end.replace(hour=10)
    wishes = replace(ASKED, done={row.id: late if row is last else row.end for row in rows if row.end <= last.end})
    kept = rest_of(Planned(planned.pieces, (None,), NOW, ASKED, planned.timetable), late, wishes)
    again = Planned(planned.pieces, (None,), late, wishes, kept.timetable)
    assert {row.id for row in cleaned} & set(kept.timetable.air_waits_h)
    assert broken_rules(again) == []
    assert too_early(with_stages(Plan(planned.pieces, late, wishes=wishes), timetable=kept.timetable)) == []
    abraded = next(row for row in kept.timetable.steps if row.deed == "abrade")
    assert abraded.start >= late + timedelta(hours=kept.timetable.air_waits_h[last.id])


def test_what_is_in_the_air_from_before_is_told(plan: Plan, without: Timetable) -> None:
    """A plan that is held sands at once after a coat that is ticked late: that is said at the step."""
    rows = [row for row in without.steps if row.kind == "attended"]
    sanding = next(row for row in rows if row.deed == "abrade")
    done = {one.id: one.end for one in rows if one.end <= sanding.start}
    late = {name: sanding.start if end == max(done.values()) else end for name, end in done.items()}
    rest = replace(
        without, steps=tuple(row for row in without.steps if row.id not in late and row.start >= sanding.start)
    )
    held = with_stages(Plan(plan.pieces, sanding.start, wishes=replace(ASKED, done=late)), timetable=rest)
    assert sanding.id in too_early(held)
    assert held.precautions.rows[sanding.id].fit_from is not None


ALL_IN_ONE = """\
shop: One room
time-zone: UTC
people: [{name: Ida, hours: {mon-fri: [8:00-12:00, 13:00-17:00]}}]
rooms: {shop: {for: [sanding, assembly, coating, spraying, drying], volume: 60 m3, air-changes: 1}}
rack: {places: 6, hooks: 8}
climate:
  day: {from: 7:00, to: 18:00, temperature: 20 degC, humidity: 50 %}
  night: {temperature: 16 degC, humidity: 55 %}
spray-without-booth: I have read the local code
"""
THERE = sorted((Path(__file__).parent.parent / "pieces").glob("*.yaml"))


def test_no_piece_of_the_demo_and_of_the_tests_is_sanded_too_early(tmp_path: Path) -> None:
    write_demo(tmp_path, datetime(2026, 11, 30).date())
    files = [*(file for file in sorted(tmp_path.glob("*.yaml")) if file.name != "shop.yaml"), *THERE]
    (tmp_path / "one-room.yaml").write_text(ALL_IN_ONE, encoding="utf-8")
    found: dict[str, list[str]] = {}
    aired = 0
    for file in files:
        pieces = together(read_sources([file], tmp_path / "one-room.yaml"))
        plan = Plan(pieces, datetime(2026, 12, 1, 8, tzinfo=UTC), wishes=ASKED)
        with made_at_once() if file in THERE else nullcontext():  # the larger ones: the best of these take long
            assert plan.timetable.has_plan, file.name
        aired += bool(plan.timetable.air_waits_h)
        found[file.name] = too_early(plan)
    assert {name: early for name, early in found.items() if early} == {}
    assert aired


@pytest.mark.parametrize("seed", [1, 2])
def test_no_made_up_piece_is_sanded_too_early(seed: int, tmp_path: Path) -> None:
    """In one room with little air, where the plan that knew nothing of it did so."""
    made = case(seed, 1)
    one_room = "rooms: {shop: {for: [sanding, assembly, coating, spraying, drying], volume: 45 m3, air-changes: 1}}"
    shop = "\n".join(one_room if line.startswith("rooms: ") else line for line in made.shop.splitlines())
    found = treated_case(replace(made, shop=f"{shop}\n"), tmp_path)
    asked = Wishes(answers=False, asap=True)
    planned = Plan(found, NOW, wishes=asked)
    assert planned.timetable.air_waits_h
    assert too_early(planned) == []
    assert broken_rules(Planned(found, tuple(planned.deliveries), NOW, asked, planned.timetable)) == []

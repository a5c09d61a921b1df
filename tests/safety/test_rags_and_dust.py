"""Cloths that heat themselves, cartridges, and dust."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.quantity import Range
from finplan.safety import CartridgesSpent, ClothsLaidOut, NoClothLeft
from finplan.safety.dust import dust_report
from finplan.safety.rags import rag_ticks
from finplan.timetable import TimetableStep
from tests.safety.pieces import plan_with

CATALOGUE = bundled_catalogue()


def ends(rows: tuple[TimetableStep, ...]) -> dict[str, object]:
    return {row.id: row.end for row in rows if row.kind == "attended"}


def wets(row: TimetableStep) -> bool:
    return row.deed in ("coat", "fill", "clean-up")


@pytest.mark.parametrize("system", ["linseed-oil", "hardwax-oil", "oil-varnish", "stain-and-varnish", "alkyd-enamel"])
def test_every_coat_of_a_drying_oil_is_ticked_when_its_work_ends(system: str, tmp_path: Path) -> None:
    plan = plan_with(tmp_path, system, timber="poplar")
    rows = plan.timetable.steps
    oily = {
        step.id
        for treatment in plan.treatments
        for step in treatment.steps
        if step.finish and plan.catalogue.finishes[step.finish].hazards.self_heating
    }
    assert {one.step for one in plan.safety.waste} == oily
    ticks = [tick for tick in plan.safety.ticks if isinstance(tick.what, ClothsLaidOut)]
    for tick in ticks:
        assert tick.due == ends(rows)[tick.row or ""]
    # After oily work a tick is due before the same person begins anything but more of it, or goes away.
    attended = [row for row in rows if row.kind == "attended"]
    for row in attended:
        if row.deed not in ("coat", "fill") or not any(row.id.startswith(step) for step in oily):
            continue
        then = [one for one in attended if one.person == row.person and one.start >= row.end]
        until = row.end
        for one in then:
            if one.start > until or not any(one.id.startswith(step) for step in oily) or not wets(one):
                break
            until = one.end
        assert any(row.end <= tick.due <= until for tick in ticks), row.id
    for day in {row.start.date() for row in attended if any(row.id.startswith(step) for step in oily)}:
        evening = [tick for tick in plan.safety.ticks if tick.row is None and tick.due.date() == day]
        used = [row for row in attended if row.start.date() == day and row.deed in ("coat", "fill")]
        assert len(evening) == (1 if any(row.id.startswith(step) for row in used for step in oily) else 0)


@pytest.mark.parametrize("system", ["shellac", "waterborne-polyurethane", "soap", "lacquer"])
def test_nothing_else_makes_such_waste(system: str, tmp_path: Path) -> None:
    plan = plan_with(tmp_path, system)
    wax = {one.finish for one in plan.safety.waste}
    assert wax == set()
    assert not any(isinstance(tick.what, ClothsLaidOut | NoClothLeft) for tick in plan.precautions.ticks)


def test_how_many_cloths(tmp_path: Path) -> None:
    plan = plan_with(tmp_path, "linseed-oil")
    (first,) = [one for one in plan.safety.waste if one.step.startswith("top/") and one.step.endswith("/2")]
    area_m2 = next(step.area_m2 for one in plan.treatments for step in one.steps if step.id == first.step)
    # Consumables: at most 0.8 cloths a m² and 3 a coat, and a tack cloth is none of them.
    assert first.cloths == -int(-(0.8 * area_m2 + 3) // 1)
    assert first.can_ml == first.cloths * 500


def test_whoever_cleans_up_counts_his_own_cloths(tmp_path: Path) -> None:
    plan = plan_with(tmp_path, "linseed-oil")
    waste = {one.step: one.cloths for one in plan.safety.waste}
    coats = [row for row in plan.timetable.steps if row.kind == "attended" and row.deed == "coat"]
    top, base = (next(row for row in coats if row.item == item) for item in ("top", "base"))
    hour = timedelta(hours=1)
    rows = [
        replace(top, person="Ada", start=top.start, end=top.start + 2 * hour),
        replace(base, person="Ben", start=top.start, end=top.start + hour),
    ]
    ticks = [tick for tick in rag_ticks(rows, plan.safety.waste) if tick.row is not None]
    counted = {tick.row: tick.what.cloths for tick in ticks if isinstance(tick.what, ClothsLaidOut)}
    assert counted == {row.id: waste[row.of_step or ""] for row in rows}


def test_cartridges_are_changed_by_the_shortest_life(tmp_path: Path) -> None:
    (use,) = plan_with(tmp_path, "shellac", room="volume: 30 m3, air-changes: 2").precautions.cartridges
    assert use.person == "Maker"
    assert use.life_h.low == 2.0
    changes = [tick.what for tick in use.ticks if isinstance(tick.what, CartridgesSpent)]
    assert all(one.person == "Maker" and one.used_h >= 2.0 for one in changes)
    assert len(changes) == int(use.worn_h // 2) or len(changes) == int(use.worn_h // 2.5)
    assert use.basis in CATALOGUE.sources


def test_where_the_air_is_enough_no_cartridge_is_worn(tmp_path: Path) -> None:
    plan = plan_with(tmp_path, "linseed-oil", room="volume: 200 m3, air-changes: 6, fan: 2000 m3/h")
    assert {one.session.verdict for one in plan.safety.sessions} == {"enough"}
    assert plan.precautions.cartridges == ()


@pytest.mark.parametrize(
    ("hardwood", "lead", "extractor", "jurisdictions"),
    [
        (True, False, "Class M", {"United States", "European Union", "NIOSH, recommended", "ACGIH, recommended"}),
        (False, False, "Class M", {"United States", "NIOSH, recommended", "ACGIH, recommended"}),
        (True, True, "Class H", {"United States", "European Union", "NIOSH, recommended", "ACGIH, recommended"}),
    ],
)
def test_dust_limits(hardwood: bool, lead: bool, extractor: str, jurisdictions: set[str]) -> None:
    found = dust_report(
        Range(100.0, 150.0, 200.0),
        hardwood=hardwood,
        lead=lead,
        room="bench",
        volume_m3=40.0,
        catalogue=CATALOGUE,
    )
    assert found.extractor == extractor
    assert {line.jurisdiction for line in found.limits} == jurisdictions
    # 1 mg/m³ in 40 m³ is 40 mg: a gram in the air of the room is 25 times that.
    assert found.limits[0].in_the_air_g == pytest.approx(0.040)


def test_the_dust_is_that_of_the_sanding_plan(tmp_path: Path) -> None:
    plan = plan_with(tmp_path, "linseed-oil")
    assert plan.safety.dust.dust_g == plan.pieces[0].sanding.dust_g
    assert (plan.safety.dust.room, plan.safety.dust.volume_m3) == ("bench", 80.0)


def test_a_room_of_unknown_size_gets_no_figure(tmp_path: Path) -> None:
    plan = plan_with(tmp_path, "linseed-oil", room=None)
    assert plan.safety.dust.room is None
    assert {line.in_the_air_g for line in plan.safety.dust.limits} == {None}


def test_cartridges_are_no_answer_to_isocyanate(tmp_path: Path) -> None:
    plan = plan_with(tmp_path, "polyurethane-2k", timber="sugar-maple")  # its pores are not filled
    hardened = [one.session for one in plan.safety.sessions if one.session.isocyanate]
    assert {one.verdict for one in hardened} <= {"not by air alone", "above the planning target", "fire danger"}
    assert {one.mask for one in hardened} == {None}
    assert plan.precautions.cartridges == ()

"""The liquids of steps beside the coats: strippers, washes and what wipes a film enter all that those of coats do."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from finplan.catalogue import ExtraStep
from finplan.planning import Plan, together
from finplan.safety import CautionDue, NoClothLeft
from finplan.safety.liquids import LiquidUse, liquid_emissions
from finplan.sheet.days import working_days
from tests.each import each
from tests.safety.contradictions import contradictions
from tests.safety.pieces import plan_with, source_with
from tests.safety.sessions import CATALOGUE

WITH_LIQUIDS = {name: record for name, record in CATALOGUE.extra_steps.items() if record.liquids}
STRIPPED = "refinish: {built: 1950, strip: chemical}\n"
SCRAPED = "refinish: {lead-test: lead, strip: scrape}\n"
KEPT = "refinish: {built: 1890, keep: true}\n"
SMALL = "volume: 40 m3, air-changes: 1"
PLANS = {
    "stripped": (STRIPPED, "shellac"),
    "scraped": (SCRAPED, "waterborne-polyurethane"),
    "kept": (KEPT, "oil-varnish"),
}


@cache
def planned(name: str) -> Plan:
    more, system = PLANS[name]
    with TemporaryDirectory() as folder:
        plan = plan_with(Path(folder), system, room=SMALL, more=more)
        assert plan.precautions.rows  # all is reckoned while the files are there
    return plan


@each(("name", "record"), WITH_LIQUIDS.items())
def test_all_that_is_wiped_on_evaporates(name: str, record: ExtraStep) -> None:
    """What a square metre takes is a litre's mass over how far it goes: arithmetic, from the records alone."""
    found = list(liquid_emissions(name, LiquidUse("row", "bench", 0.0, 0.5, 1.0), CATALOGUE))
    laid_g = sum(
        CATALOGUE.solvents[solvent].density_g_l.typical / rate.typical for solvent, rate in record.liquids.items()
    )
    assert sum(one.mass_g.typical for one in found) == pytest.approx(laid_g), name
    assert all(one.gone_h >= one.end_h for one in found), name


def test_what_is_lifted_off_again_takes_with_it_what_has_not_evaporated() -> None:
    """Of what leaves in proportion to what is there, 1 - exp(-t/τ) has gone: of slow benzyl alcohol little."""
    (dries,) = liquid_emissions("strip-chemical", LiquidUse("row", "bench", 0.0, 0.5, 1.0), CATALOGUE)
    (lifted,) = liquid_emissions("strip-chemical", LiquidUse("row", "bench", 0.0, 0.5, 1.0, 2.0), CATALOGUE)
    share = lifted.mass_g.typical / dries.mass_g.typical
    assert share == pytest.approx(1 - math.exp(-2.0 / dries.decay_h))
    assert share < 0.2
    assert lifted.gone_h == 2.0


@pytest.mark.parametrize("name", PLANS)
def test_every_liquid_step_is_in_a_session_with_its_mask_flame_and_lock_up(name: str) -> None:
    plan = planned(name)
    of_session = {row: report.session for report in plan.safety.sessions for row in report.steps}
    rows = [row for row in plan.timetable.steps if row.extra in WITH_LIQUIDS]
    assert rows
    for row in rows:
        care, session = plan.precautions.rows[row.id], of_session[row.id]
        solvents = [CATALOGUE.solvents[one] for one in WITH_LIQUIDS[row.extra or ""].liquids]
        assert {"solvent-skin", "vapour-dilution"} <= set(care.codes), row.id
        assert ("flammable-vapour" in care.codes) == any(one.burns_cold for one in solvents), row.id
        if session.mask is not None:
            assert session.mask in care.needs, row.id
            assert "solvent-breath" in care.codes, row.id
            assert any(use.person == row.person for use in plan.precautions.cartridges), row.id
        evening = [
            tick.what for tick in plan.precautions.ticks if tick.row is None and tick.due.date() == row.start.date()
        ]
        cloths = {"waste-can", "stripper"} & {one.code for one in evening if isinstance(one, CautionDue)}
        assert cloths or any(isinstance(one, NoClothLeft) for one in evening), row.id
    assert any(session.mask is not None for session in of_session.values())
    assert contradictions(plan) == []


def test_a_day_of_oil_and_of_spirit_ends_the_cloths_of_both() -> None:
    """What heats itself has its own tick, which says nothing of cloths with spirit."""
    plan = planned("kept")
    for day in {row.start.date() for row in plan.timetable.steps if row.extra == "clean-film"}:
        codes = {
            tick.what.code
            for tick in plan.precautions.ticks
            if tick.row is None and tick.due.date() == day and isinstance(tick.what, CautionDue)
        }
        assert "waste-can" in codes


def test_cloths_with_spirit_share_no_shut_can_with_those_that_hold_hardener(tmp_path: Path) -> None:
    """Both are put on within a day; what is wet with isocyanate hardener gives off gas in a can with water."""
    plan = plan_with(tmp_path, "hardwax-oil-2k", room=SMALL, top="shellac")
    evenings = [day.evening for day in working_days(plan)]
    both = [lines for lines in evenings if "none of it shut tightly" in " ".join(lines) and "lid on" in " ".join(lines)]
    assert both
    assert all(any("none that is wet with hardener" in line for line in lines) for lines in both)
    apart = [lines for lines in evenings if lines not in both]
    assert any("is in the covered metal can, its lid on" in line for lines in apart for line in lines)
    assert not any("hardener" in line for lines in apart for line in lines)
    assert contradictions(plan) == []


def test_an_old_film_that_is_kept_is_abraded_as_old_paint() -> None:
    plan = planned("kept")
    told = {line.code for line in plan.cautions}
    assert {"old-paint", "old-paint-test", "old-paint-containment", "old-paint-wet", "old-paint-clean-up"} <= told
    assert "old-paint-traces" not in told
    assert "old-paint" in {line.code for line in plan.precautions.worst}
    abraded = [row for row in plan.timetable.steps if row.deed == "abrade"]
    assert abraded
    assert all("old-paint-wet" in plan.precautions.rows[row.id].codes for row in abraded[:1])
    assert {"test", "wipe-down"} <= {row.deed for row in plan.timetable.steps}
    assert plan.safety.dust.extractor == "Class H"
    assert plan.safety.contact == ()


def test_lead_that_was_found_is_kept_in_from_the_first_step_on() -> None:
    plan = planned("scraped")
    first = next(row for row in plan.timetable.steps if row.extra == "strip-scrape")
    assert {"old-paint-containment", "old-paint-found", "old-paint-wet"} <= set(plan.precautions.rows[first.id].codes)
    assert "old-paint" not in {line.code for line in plan.cautions}
    days = {row.start.date() for row in plan.timetable.steps if row.extra == "strip-scrape"}
    swept = {
        tick.due.date()
        for tick in plan.precautions.ticks
        if isinstance(tick.what, CautionDue) and tick.what.code == "old-paint-waste" and tick.what.evening
    }
    assert days <= swept


@pytest.mark.parametrize(
    ("system", "refused"),
    [
        ("hardwax-oil-2k", True),
        ("catalysed-lacquer", True),
        ("polyurethane-2k", True),
        ("hardwax-oil", False),
        ("shellac", False),
    ],
)
def test_no_hardener_goes_to_a_customer(system: str, refused: bool, tmp_path: Path) -> None:
    planned_piece, *_ = together([source_with(tmp_path, system, more="after: [touch-up-kit]\n")])
    wrong = [problem.wrong for problem in planned_piece.refusals]
    assert any("takes a hardener" in one for one in wrong) is refused, wrong


def test_whoever_gets_a_kept_film_is_told_of_it_and_of_no_food() -> None:
    codes = {line.code for line in planned("kept").cautions}
    assert "old-film-below" in codes
    assert "wait-for-cure" not in codes

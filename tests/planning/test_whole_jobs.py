"""Whole jobs from file to figures: a painted wardrobe, a sideboard that is refinished, a bench with a sample.

The pieces are our own inventions; each is planned once, and what is asked of it is what its maker would look for first.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from finplan.buying import trips_of
from finplan.moments import show_moment
from finplan.planning import Plan, read_source
from finplan.planning.wishes import Wishes
from finplan.safety import ExtraDone
from finplan.sheet.sanding_cards import sanding_pages
from finplan.telling import extra_row_lines
from tests.plans import make_plan
from tests.timetable.read_back import Planned
from tests.timetable.verifier import broken_rules

PIECES = Path(__file__).parents[1] / "pieces"
SHOP = "shop: Trial\ntime-zone: Europe/London\npeople: [{name: Ines, hours: {mon-fri: '8:00-17:00'}}]\n"
STRIPPED = ("strip-chemical", "lift-old-film", "wash-stripper-off")
NOW = datetime(2027, 1, 11, 8, tzinfo=ZoneInfo("Europe/London"))


def planned(name: str, folder: Path) -> Plan:
    (folder / "shop.yaml").write_text(SHOP, encoding="utf-8")
    source = read_source(PIECES / f"{name}.yaml", folder / "shop.yaml")
    return make_plan([source], now=NOW, wishes=Wishes(answers=False))


def begun(plan: Plan) -> dict[str, list[str]]:
    """What is done to each item, in order of time; sides, stretches and clean-ups once or not at all."""
    told: dict[str, list[str]] = {}
    for row in plan.timetable.steps:
        done = row.extra or row.step.partition(",")[0]
        if row.kind == "attended" and row.deed != "clean-up" and done not in told.setdefault(row.item, []):
            told[row.item].append(done)
    return told


@pytest.fixture(scope="module")
def jobs(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Plan]:
    """The plans of all of them."""
    folder = tmp_path_factory.mktemp("jobs")
    return {name: planned(name, folder) for name in ("painted-wardrobe", "sideboard-1934")}


def test_they_fit_and_keep_every_rule(jobs: dict[str, Plan]) -> None:
    for name, plan in jobs.items():
        assert plan.timetable.has_plan, name
        dates = tuple(plan.deliveries)
        assert broken_rules(Planned(plan.pieces, dates, NOW, plan.wishes, plan.timetable)) == [], name
        (times,) = plan.timetable.pieces
        assert times.in_time is not None
        assert times.in_time >= 0.9, name


def test_who_lifts_off_what_stripper_has_dissolved_is_in_its_air(jobs: dict[str, Plan]) -> None:
    plan = jobs["sideboard-1934"]
    masks = {name for one in plan.precautions.circumstances if one.mask is not None for name in one.rows}
    of_extra = {name: {row.id for row in plan.timetable.steps if row.extra == name} for name in STRIPPED}
    in_sessions = {name for session in plan.safety.sessions for name in session.steps}
    for name, rows in of_extra.items():
        assert rows, name
        assert rows <= in_sessions, name
    assert (of_extra["strip-chemical"] <= masks) == (of_extra["lift-old-film"] <= masks)


def test_who_receives_a_piece_comes_when_it_is_ready_or_when_it_is_delivered(jobs: dict[str, Plan]) -> None:
    plan = jobs["sideboard-1934"]
    (row,) = [step for step in plan.timetable.steps if step.extra == "hand-over"]
    deliver = plan.timetable.deliver
    assert deliver is not None
    lines = extra_row_lines(row, plan)
    said = f"Ask the customer to come then; else do it at the delivery, {show_moment(deliver)}."
    assert (said in lines) == (row.end < deliver)
    at_the_end = replace(row, start=deliver - (row.end - row.start), end=deliver)
    assert said not in extra_row_lines(at_the_end, plan)


def test_what_all_faces_share_stands_once_at_the_head_of_their_sanding(jobs: dict[str, Plan]) -> None:
    (pages,) = sanding_pages(jobs["sideboard-1934"])
    rows = [row for card in pages.cards for row in card.rows]
    assert "tested and holds no lead" in pages.everywhere
    assert not any("holds no lead" in row.note for row in rows)
    noted = {note for found in jobs["sideboard-1934"].pieces[0].sanding.groups_of_one for note in found.notes}
    printed = (pages.everywhere + " ".join(row.note for row in rows)).lower()
    assert all(note.rstrip(".").lower() in printed for note in noted)


def test_all_that_is_bought_is_there_on_the_day_of_its_step(jobs: dict[str, Plan]) -> None:
    for name, plan in jobs.items():
        first = {order.of.title: order.needed for trip in trips_of(plan) for order in trip.orders}
        pieces = [*plan.materials.consumables, *plan.precautions.gear.buy]
        bought = {piece.title for piece in pieces if piece.buy} | {
            supply.title for supply in plan.materials.supplies if supply.buy
        }
        assert bought <= set(first), name
    stripped = [row.start.date() for row in plan.timetable.steps if row.extra == "strip-chemical"]
    stripper = next(one for one in plan.materials.solvents if one.material == "stripper-gel")
    assert first[stripper.title] == min(stripped)


def test_the_wardrobe_is_stopped_sealed_at_its_edges_painted_hung_and_wrapped(jobs: dict[str, Plan]) -> None:
    told = begun(jobs["painted-wardrobe"])
    assert told["case"][:4] == ["putty-holes", "sand bare wood", "seal the edges", "abrade P240"]
    assert told["door"][:2] == ["putty-holes", "sand bare wood"]
    assert "seal the edges" not in told["door"]  # its edges are of poplar, the panel's are in the groove
    assert told["whole piece"] == ["hang-doors", "hardware", "wrap"]
    (back,) = {g.timber for t in jobs["painted-wardrobe"].treatments for g in t.groups if g.board == "back"}
    assert back == "birch-plywood"


def test_the_sideboard_is_stripped_mended_filled_and_polished(jobs: dict[str, Plan]) -> None:
    plan = jobs["sideboard-1934"]
    told = begun(plan)
    assert told["case"][:5] == [*STRIPPED, "repair-veneer", "sand bare wood"]
    assert told["case"][5] == "fill the pores"
    assert told["top"][:5] == [*STRIPPED, "steam-dents", "sand bare wood"]
    assert told["whole piece"] == ["put together", "fit-top", "touch-up-kit", "wrap", "hand-over"]
    assert {"glue up", "sand the joints"}.isdisjoint(told["case"])  # it comes together
    assert {line.code for line in plan.cautions} >= {"stripper", "old-film-waste", "hot-tool"}
    assert any(isinstance(tick.what, ExtraDone) and tick.what.extra == "hand-over" for tick in plan.precautions.ticks)
    stripper = next(one for one in plan.materials.solvents if one.material == "stripper-gel")
    area_m2 = sum(treatment.area_m2 for treatment in plan.treatments)
    assert stripper.needed.typical == pytest.approx(1000 * area_m2 / 2.5, rel=0.02)
    # Of a veneer of 0.8 mm no more than 0.15 mm may be sanded: grades that typically reach deeper are refused.
    veneered = [found.veneer for found in plan.pieces[0].sanding.groups if found.veneer]
    assert veneered
    assert all(veneer.depth_mm.typical <= veneer.budget_mm == pytest.approx(0.15) for veneer in veneered)

"""Spraying what burns or holds isocyanate: in a booth, refused without one, or on the word of the shop file."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from finplan.planning import Plan, Wishes, read_source, with_stages
from finplan.sheet import sheet_html
from finplan.telling import (
    condition_words,
    remedy_words,
    requirement_words,
    row_air_words,
    row_care_words,
    sprayed_without_booth,
)
from tests.plans import make_plan, plan_of
from tests.safety.pieces import NOW, plan_with, source_with
from tests.safety.sessions import CATALOGUE, emission, made, room

PIECE = """\
piece: Tea tray
lengths: mm
timber: sugar-maple
system: SYSTEM
parts:
  tray: {shape: board, length: 500, width: 350, thickness: 18}
"""
BOOTH = "booth: {face: 8 x 7 ft, velocity: 100 ft/min}"


def planned(
    folder: Path, system: str, more: str = "", last: str = "", *, answers: bool = False, count: int = 1
) -> Plan:
    """The tray, or so many, in a shop of one room, of which more is said."""
    file, shop = folder / "piece.yaml", folder / "shop.yaml"
    file.write_text(PIECE.replace("SYSTEM", system).replace("18}", f"18, count: {count}}}"), encoding="utf-8")
    rooms = (
        f"rooms: {{shop: {{for: [sanding, assembly, coating, spraying, drying], volume: 60 m3, air-changes: 2{more}}}}}"
    )
    shop.write_text(f"shop: One room\n{rooms}\n{last}", encoding="utf-8")
    return make_plan([read_source(file, shop)], now=NOW, wishes=Wishes(answers=answers))


@pytest.mark.parametrize(
    ("system", "what"),
    [("lacquer", "what burns"), ("catalysed-lacquer", "what burns"), ("polyurethane-2k", "isocyanate")],
)
def test_without_a_booth_it_is_refused(system: str, what: str, tmp_path: Path) -> None:
    plan = planned(tmp_path, system)
    assert plan.timetable.status == "impossible"
    (clash,) = plan.timetable.clashes
    assert f"{what} is sprayed only in a booth" in requirement_words(clash.requirement)
    assert "brush or wipe it" in requirement_words(clash.requirement)
    # Nobody has given his word, so there is none to tick.
    assert "booth" not in {condition.kind for one in plan.safety.sessions for condition in one.conditions}


def test_a_booth_that_draws_too_slowly_is_told(tmp_path: Path) -> None:
    plan = planned(tmp_path, "lacquer", ", booth: {face: 8 x 7 ft, velocity: 60 ft/min}")
    assert "has a booth of only 0.3 m/s" in requirement_words(plan.timetable.clashes[0].requirement)


def test_what_would_help_is_tried(tmp_path: Path) -> None:
    plan = planned(tmp_path, "polyurethane-2k", answers=True)
    changes = [remedy_words(fit.change) for clash in plan.timetable.clashes for fit in clash.would_fit]
    assert any(change.startswith("a spray booth in shop, ") and "9600 m³/h" in change for change in changes)
    assert "brushed or wiped instead of sprayed" in changes


def test_in_a_booth_it_is_planned(tmp_path: Path) -> None:
    plan = planned(tmp_path, "lacquer", f", {BOOTH}")
    assert plan.timetable.has_plan
    sprayed = [one for one in plan.safety.sessions if one.session.booth_only]
    assert sprayed
    for one in sprayed:
        assert one.session.in_booth
        assert [condition.kind for condition in one.conditions] == ["booth"]
        assert "exhaust ON (9600 m³/h)" in condition_words(one.conditions[0], one.session, plan)
    assert sprayed_without_booth(plan.safety, plan.shop.spray_without_booth) == ""


@pytest.mark.parametrize("system", ["lacquer", "polyurethane-2k"])
def test_the_gun_is_cleaned_in_the_booth(system: str, tmp_path: Path) -> None:
    """Where the rule wants it, its exhaust on, and so reckoned: by itself the room would be near to what burns."""
    plan = planned(tmp_path, system, f", {BOOTH}")
    cleaned = {row.id for row in plan.timetable.steps if row.deed == "clean-up" and row.of_step is not None}
    of_guns = [one for one in plan.safety.sessions if any(emission.at_booth for emission in one.session.emissions)]
    gun = {emission.id for one in of_guns for emission in one.session.emissions if emission.at_booth}
    assert cleaned & gun
    for one in of_guns:
        assert one.session.in_booth
        assert one.session.verdict in ("enough", "not by air alone")
        booth = next(condition for condition in one.conditions if condition.kind == "booth")
        assert set(booth.steps) == gun & set(one.steps)
    told = [words for row in cleaned & gun for words in row_air_words(plan.precautions.rows[row], plan.units)]
    assert all("exhaust ON" in words or "Booth ON" in words for words in told)
    assert "air-near-burning" not in {line.code for line in plan.cautions}


def test_beside_isocyanate_no_cartridges_are_named_or_bought(tmp_path: Path) -> None:
    plan = planned(tmp_path, "polyurethane-2k", f", {BOOTH}")
    assert not {"spray-mask", "cartridge-change"} & {line.code for line in plan.cautions}
    assert "organic-vapour-cartridge" not in {need.name for need in plan.precautions.gear.buy}
    hardened = [step for one in plan.safety.sessions if one.session.isocyanate for step in one.steps]
    worn = [plan.precautions.rows[row] for row in hardened if row in plan.precautions.rows]
    assert worn
    assert any("breathing protection" in row_care_words(care, plan).worn for care in worn)


def test_what_hardens_with_isocyanate_asks_for_more_than_a_booth(tmp_path: Path) -> None:
    plan = planned(tmp_path, "polyurethane-2k", f", {BOOTH}")
    sprayed = [one for one in plan.safety.sessions if one.session.isocyanate]
    assert sprayed
    assert {one.session.verdict for one in sprayed} == {"not by air alone"}
    assert all("breathing-protection" in {condition.kind for condition in one.conditions} for one in sprayed)


def test_on_the_word_of_the_shop_it_is_planned_and_page_1_says_so(tmp_path: Path) -> None:
    plan = planned(tmp_path, "lacquer", last="spray-without-booth: I have read the local code\n")
    assert plan.timetable.has_plan
    said = sprayed_without_booth(plan.safety, plan.shop.spray_without_booth)
    assert said.startswith("SPRAYED WITHOUT A BOOTH")
    html = sheet_html(plan)
    assert html.index(said[:60]) < html.index("<h1")
    sprayed = [one for one in plan.safety.sessions if one.session.booth_only]
    assert all(one.session.verdict != "enough" for one in sprayed)
    ticked = [condition_words(what, one.session, plan) for one in sprayed for what in one.conditions]
    # 20 ft: International Fire Code 2018, 2403, no open flame or spark within it of where vapour is.
    assert any(words.endswith("Nothing that sparks or burns within 6 m (20 ft).") for words in ticked)


def test_the_word_of_the_shop_is_not_said_where_nothing_is_sprayed(tmp_path: Path) -> None:
    plan = planned(tmp_path, "hardwax-oil", last="spray-without-booth: I have read the local code\n")
    assert sprayed_without_booth(plan.safety, plan.shop.spray_without_booth) == ""


def test_what_a_booth_draws_passes_who_sprays() -> None:
    # 1 kg of toluene in an hour into 9514 m³/h: 105 mg/m³ and the same in the room, evenly: 2 × 0.0105 % of 1 %.
    air = room(60, 2, None)
    booth = type(air)(60.0, 120.0, 0.0, (), booth_m3_h=9514.5)
    found = made(booth, emission(1000, "toluene", decay_h=0.0, booth_only=True))
    assert found.fan_on is not None
    g_m3_at_limit = 0.010 * 92.14 / 24.4654 * 1000
    assert found.fan_on.high.fire == pytest.approx(1000 / 9514.5 / g_m3_at_limit * (1 + 9514.5 / 9634.5), rel=1e-2)


def test_extraction_takes_off_what_the_source_says() -> None:
    # IST two-box model: 30, 80 and 90 % below 0.25, from 0.25 and above 0.5 m/s.
    found = {
        name: (one.velocity_m_s, one.captures_pct)
        for name, one in CATALOGUE.exhausts.items()
        if name.startswith("extraction")
    }
    assert sorted(found.values()) == [(0.0, 30.0), (0.25, 80.0), (0.5, 90.0)]


def test_extraction_keeps_vapour_from_who_works(tmp_path: Path) -> None:
    plan = planned(tmp_path, "hardwax-oil", ", extraction: {flow: 800 m3/h, velocity: 0.4 m/s}")
    air = plan.safety.sessions[0].session.air
    assert (air.fan_m3_h, air.draws, air.captured) == (800.0, "extraction", 0.8)
    sprayed = emission(100, decay_h=0.0)
    more = []
    for captured in (0.0, 0.8):
        found = made(type(air)(60.0, 120.0, 800.0, (), captured=captured), sprayed)
        assert found.fan_on is not None
        more.append(found.fan_on.typical.short - found.fan_on.typical.short_far)  # type: ignore[operator]
    assert more[1] == pytest.approx(0.2 * more[0], rel=1e-6)


def test_the_hours_of_the_cartridges_are_of_every_row_in_which_the_mask_is_worn(tmp_path: Path) -> None:
    """In a booth the air is enough by reckoning, and the mask for spraying is worn all the same."""
    plan = planned(tmp_path, "lacquer", f", {BOOTH}")
    worn = {care.row for care in plan.precautions.rows.values() if "organic-vapour-cartridge" in care.uses}
    rows = [row for row in plan.timetable.steps if row.kind == "attended" and row.id in worn]
    assert rows
    uses = plan.precautions.cartridges
    assert {step for use in uses for step in use.steps} == worn
    assert sum(use.worn_h for use in uses) == pytest.approx(
        sum((row.end - row.start).total_seconds() for row in rows) / 3600
    )


def test_what_may_burn_is_not_begun_at_the_coat_itself_either(tmp_path: Path) -> None:
    """The shop file's word is that a code allows it, not that the air does."""
    plan = planned(tmp_path, "lacquer", last="spray-without-booth: I have read the local code\n", count=40)
    coats = [row for row in plan.timetable.steps if row.deed == "coat" and row.kind == "attended"]
    assert {one.session.verdict for one in plan.safety.sessions} <= {"fire danger", "above the planning target"}
    for row in coats:
        (words,) = row_air_words(plan.precautions.rows[row.id], "metric")
        assert words == (
            "DO NOT BEGIN: by this reckoning too little air against fire. "
            "No booth: sprayed without one on the word of the shop file."
        )
    assert "the booth" not in sheet_html(plan)


def test_without_a_booth_too_nobody_else_comes_in_where_isocyanate_is_sprayed(tmp_path: Path) -> None:
    plan = planned(tmp_path, "polyurethane-2k", last="spray-without-booth: I have read the local code\n")
    row = next(row for row in plan.timetable.steps if row.deed == "coat" and row.kind == "attended")
    (words,) = row_air_words(plan.precautions.rows[row.id], "metric")
    assert "Nobody but who puts it on comes in until" in words


def test_who_rinses_a_gun_with_solvent_keeps_the_mask_on(tmp_path: Path) -> None:
    """The air of the booth is enough for both; what goes through the gun is mist, of lacquer as of its thinner."""
    for system, worn in (("lacquer", True), ("waterborne-polyurethane", False)):
        plan = planned(tmp_path, system, f", {BOOTH}", "methods: [spray-hvlp, hand]\n")
        cleaned = [row for row in plan.timetable.steps if row.deed == "clean-up"]
        assert cleaned
        for row in cleaned:
            care = plan.precautions.rows.get(row.id)
            assert ("half-mask" in (care.needs if care else ())) is worn, system
            assert ("organic-vapour-cartridge" in (care.uses if care else ())) is worn


def test_what_does_not_burn_is_sprayed_in_the_booth_where_there_is_one(tmp_path: Path) -> None:
    """Its exhaust was not asked for, and its air reckoned as if it stood still: a mask in front of an idle booth."""
    gun = "methods: [wipe, spray-hvlp, hand]\n"
    for more, last, there in (
        (f", {BOOTH}", gun, True),
        ("", gun, False),
        ("", f"{gun}spray-without-booth: I have read the local code\n", False),
    ):
        plan = planned(tmp_path, "waterborne-polyurethane", more, last, count=20)
        assert plan.timetable.has_plan
        assert plan.safety.sessions
        for one in plan.safety.sessions:
            assert one.session.in_booth is there
            assert ("booth" in {condition.kind for condition in one.conditions}) is there
            assert not one.session.booth_only
        coats = [row.id for row in plan.timetable.steps if row.deed == "coat" and row.kind == "attended"]
        told = [words for row in coats for words in row_air_words(plan.precautions.rows[row], plan.units)]
        assert told
        assert all(words.startswith("Booth ON") is there for words in told), told
        assert not any("Clean the gun" in words or "word of the shop file" in words for words in told)


@pytest.mark.parametrize(
    ("system", "room", "worn"),
    [
        ("lacquer", "finishing", True),
        ("lacquer", "bench", False),
        ("oil-varnish", "finishing", False),  # brushed
        ("polyurethane-2k", "finishing", False),  # of isocyanate all others are out, and told so
    ],
)
def test_who_works_beside_a_gun_stands_in_its_mist(system: str, room: str, worn: bool, tmp_path: Path) -> None:
    """Shellac was padded on without a mask in the booth in which another sprayed lacquer at the same minute."""
    more, person = "after: [wrap]\n", "Somebody else"
    plan = plan_with(tmp_path, system, timber="beech", more=more)
    coat = next(row for row in plan.timetable.steps if row.deed == "coat" and row.kind == "attended")
    wrapped = next(row for row in plan.timetable.steps if row.extra == "wrap")
    there = replace(wrapped, room=room, person=person, start=coat.start, end=coat.start + timedelta(minutes=5))
    rows = sorted((there if row is wrapped else row for row in plan.timetable.steps), key=lambda row: row.start)
    changed = with_stages(
        plan_of([source_with(tmp_path, system, timber="beech", more=more)], now=plan.now, wishes=Wishes()),
        timetable=replace(plan.timetable, steps=tuple(rows)),
    )
    care = changed.precautions.rows.get(wrapped.id)
    assert (care is not None and "spray-mask" in care.codes) is worn
    assert (care is not None and "half-mask" in care.needs) is worn
    assert (person in {use.person for use in changed.precautions.cartridges}) is worn

"""What to measure where nobody knows the air, and how the answer would change."""

from __future__ import annotations

import re
from pathlib import Path

from finplan.quantity import Units
from finplan.safety import RoomAir
from finplan.safety.measuring import to_measure
from finplan.safety.session import Session
from finplan.sheet.safety_page import safety_page
from finplan.telling import row_care_words, to_measure_words
from tests.safety.pieces import plan_with
from tests.safety.sessions import CATALOGUE, emission, flow, made, room


def said_of(found: Session, units: Units = "metric") -> str:
    return to_measure_words(to_measure([found], CATALOGUE), units)


def test_the_fan_that_is_told_does() -> None:
    said = said_of(made(room(), emission(300)))
    told = re.findall(r"a room of (\d+) m³ takes a fan of (\d+) m³/h", said)
    assert len(told) >= 2
    for volume_m3, fan_m3_h in told:
        found = made(RoomAir(float(volume_m3), 0.0, float(fan_m3_h), ()), emission(300))
        assert found.verdict == "enough", (volume_m3, fan_m3_h)


def test_a_room_that_buffers_it_all_takes_none() -> None:
    assert "a room of 120 m³ takes none" in said_of(made(room(), emission(2)))


def test_what_no_fan_in_the_room_makes_up_for_is_told() -> None:
    said = said_of(made(room(), emission(3000, worked_h=0.3, decay_h=0.1)), "us")
    assert "is too small against fire, whatever the fan" in said
    assert "ft³" in said


def test_where_the_room_is_known_nothing_is_to_be_measured() -> None:
    assert said_of(made(flow(10.0), emission(300))) == ""


def test_it_stands_on_the_page_of_the_default_shop(tmp_path: Path) -> None:
    plan = plan_with(tmp_path, "hardwax-oil", room=None)
    said = to_measure_words(plan.safety.to_measure, plan.units)
    assert said.startswith("Measure shop: its length × breadth × height")
    assert safety_page(plan).to_measure == said


def test_until_it_is_measured_a_mask_is_ticked_had_bought_and_counted(tmp_path: Path) -> None:
    """What a row asks for where nobody knows the air is not only said."""
    plan = plan_with(tmp_path, "oil-varnish", room=None)
    unknown = [one for one in plan.safety.sessions if one.session.verdict == "unknown"]
    assert unknown
    in_vapour = {step for one in unknown for step in one.steps}
    for one in unknown:
        assert one.session.mask == "half-mask"
        assert set(next(said.steps for said in one.conditions if said.kind == "mask")) == set(one.steps)
    before = [row_care_words(plan.precautions.rows[row], plan).before for row in in_vapour]
    ticked = [" ".join(words) for words in before if words]
    assert ticked
    assert all("half mask with organic vapour cartridges" in words for words in ticked)
    (cartridges,) = [need for need in plan.precautions.gear.buy if need.name == "organic-vapour-cartridge"]
    (mask,) = [one for one in plan.precautions.gear.have if one.name == "half-mask"]
    assert in_vapour <= set(plan.precautions.gear.rows[cartridges.name]) & set(mask.rows)
    assert in_vapour == {step for use in plan.precautions.cartridges for step in use.steps}
    assert cartridges.needed.low >= len(plan.precautions.cartridges) == len(mask.people)

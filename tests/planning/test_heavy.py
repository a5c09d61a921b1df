"""What flat parts weigh that are turned while they are coated, and from when on that is said."""

from __future__ import annotations

import pytest

import finplan
from finplan.planning import Plan, flat_mass_g
from finplan.sheet import sheet_html

PIECE = """\
piece: Top of an invented sideboard
lengths: mm
timber: white-oak
system: hardwax-oil
deliver: 2027-06-18
parts:
  top: {{shape: board, length: {length}, width: 1000, thickness: 40}}
  box: {{shape: carcase, width: 400, height: 300, depth: 200, thickness: 15}}
"""


def planned(length_mm: int, system: str = "hardwax-oil") -> Plan:
    return finplan.plan(PIECE.format(length=length_mm).replace("hardwax-oil", system), start="2027-06-01 08:00")


def test_a_top_weighs_what_its_wood_does() -> None:
    """Wood Handbook, table 5-3a: white oak 0.68; chapter 4: at 12 % moisture 1120 kg/m³ for each of that."""
    plan = planned(2000)
    by_item = {treatment.item: flat_mass_g(treatment, plan.pieces[0]) for treatment in plan.treatments}
    assert by_item["top"] == pytest.approx(2.0 * 1.0 * 0.040 * 0.68 * 1120e3)
    assert by_item["box"] is None


def test_what_one_person_can_lift_is_said_nothing_of() -> None:
    """23 kg of it are 755 mm long."""
    assert "weighs about" not in sheet_html(planned(750))
    heavy = sheet_html(planned(760))
    assert "It weighs about 23.2 kg" in heavy
    assert "not turned alone" in heavy


def test_where_nobody_else_may_be_in_the_room_nobody_helps_to_turn_it() -> None:
    """Its hardener is isocyanate."""
    page = sheet_html(planned(2000, "hardwax-oil-2k"))
    assert "turned by a hoist or on a stand that turns" in page
    assert "whoever helps wears the same" not in page

"""How long a step takes, against sums by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from finplan.catalogue import Step, bundled_catalogue
from finplan.inputs import load_shop
from finplan.system import FaceGroup, Treatment, TreatmentStep
from finplan.timetable import coating_hours
from finplan.timetable.operation import planned_minutes
from finplan.timetable.plan import buffer_wanted_h

CATALOGUE = bundled_catalogue()
FLAT = FaceGroup("top", "rectangle", 1, "beech", ("top",), "flat", "show", 2.0, 0.0, "planed", None)
EDGE = replace(FLAT, faces=("edge",), kind="profile", area_m2=0.3)


def coated(finish: str, method: str, *groups: FaceGroup, item: str = "top", parts: tuple[str, ...] = ("top",)) -> float:
    recipe = Step.model_validate({"do": "coat", "finish": finish})
    step = TreatmentStep("top/x/1", "coat", "coat 1", recipe, 1, finish, method, True, groups)
    return coating_hours(Treatment(item, parts, "x", groups, (step,)), step, CATALOGUE).typical


def test_brushing_a_flat_and_an_edge() -> None:
    # Setting up 3 min, 2 m² at 8 m²/h and 0.3 m² of edge at 3 m²/h, one part handled 1.5 min, cleaning up 8 min.
    assert coated("oil-varnish", "brush", FLAT, EDGE) == pytest.approx((3 + 8 + 1.5) / 60 + 2 / 8 + 0.3 / 3)


def test_waiting_to_wipe_off_counts() -> None:
    # Wiped on at 12 m²/h after 3 min of setting up; 15 min until it is wiped off, 5 to clean up, 1.5 of handling.
    assert coated("hardwax-oil", "wipe", FLAT) == pytest.approx((3 + 15 + 5 + 1.5) / 60 + 2 / 12)


def test_loose_parts_are_each_picked_up_and_an_assembly_once() -> None:
    four = replace(FLAT, count=4)
    loose = coated("oil-varnish", "brush", four)
    together = coated("oil-varnish", "brush", four, item="case", parts=("top", "side"))
    assert loose - together == pytest.approx(3 * 1.5 / 60)


@pytest.mark.parametrize(("hours", "minutes"), [(0.0, 5), (5 / 60, 5), (5.01 / 60, 10), (1.0, 60)])
def test_minutes_are_rounded_up_to_fives(hours: float, minutes: int) -> None:
    assert planned_minutes(hours) == minutes


def test_the_buffer_where_the_shop_names_none() -> None:
    # A day for each week of plan, and at least half a day.
    shop = load_shop(None, methods={}, grits={}).shop
    assert shop.buffer_h is None
    assert buffer_wanted_h(shop, 24.0) == 12.0
    assert buffer_wanted_h(shop, 14 * 24.0) == pytest.approx(48.0)

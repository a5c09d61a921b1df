"""What is done, how long each step takes and what it waits for, against sums by hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest

from finplan.catalogue import Step, bundled_catalogue
from finplan.system import CoatStep, FaceGroup, Treatment
from finplan.timetable import Operation, coating_hours, rack_needs
from finplan.timetable.operation import After, planned_minutes
from tests.conftest import EXAMPLE
from tests.timetable.shops import ONE_PERSON, read, shelf

CATALOGUE = bundled_catalogue()
FLAT = FaceGroup("top", "rectangle", 1, "beech", ("top",), "flat", "show", 2.0, 0.0, "planed", None)
EDGE = replace(FLAT, faces=("edge",), kind="profile", area_m2=0.3)


def coated(finish: str, method: str, *groups: FaceGroup, item: str = "top", parts: tuple[str, ...] = ("top",)) -> float:
    recipe = Step.model_validate({"do": "coat", "finish": finish})
    step = CoatStep("top/x/1", "coat", "coat 1", recipe, 1, finish, method, True, groups)
    return coating_hours(Treatment(item, parts, "x", groups, (step,)), step, CATALOGUE).typical


def by_id(folder: Path, piece: str) -> Mapping[str, Operation]:
    (found,) = read(folder, [piece], ONE_PERSON)
    return {operation.id: operation for operation in found.operations}


# --- how long -------------------------------------------------------------------------------------------------------


def test_brushing_a_flat_and_an_edge() -> None:
    # Setting up 3 min, 2 m² at 8 m²/h and 0.3 m² of edge at 3 m²/h, one part handled 1.5 min; cleaning up is by itself.
    assert coated("oil-varnish", "brush", FLAT, EDGE) == pytest.approx((3 + 1.5) / 60 + 2 / 8 + 0.3 / 3)


def test_waiting_to_wipe_off_counts() -> None:
    # Wiped on at 12 m²/h after 3 min of setting up; 15 min until it is wiped off, 1.5 of handling.
    assert coated("hardwax-oil", "wipe", FLAT) == pytest.approx((3 + 15 + 1.5) / 60 + 2 / 12)


def test_nothing_waits_to_be_wiped_off_that_dries_as_it_is_sprayed() -> None:
    # By the same gun what is dissolved in water is wiped off after 2 min, in alcohol it dries as it lies.
    assert coated("water-dye", "spray-hvlp", FLAT) - coated("alcohol-dye", "spray-hvlp", FLAT) == pytest.approx(2 / 60)
    assert coated("water-dye", "wipe", FLAT) == pytest.approx(coated("alcohol-dye", "wipe", FLAT))


def test_loose_parts_are_each_picked_up_and_an_assembly_once() -> None:
    four = replace(FLAT, count=4)
    loose = coated("oil-varnish", "brush", four)
    together = coated("oil-varnish", "brush", four, item="case", parts=("top", "side"))
    assert loose - together == pytest.approx(3 * 1.5 / 60)


@pytest.mark.parametrize(("hours", "minutes"), [(0.0, 5), (5 / 60, 5), (5.01 / 60, 10), (1.0, 60)])
def test_minutes_are_rounded_up_to_fives(hours: float, minutes: int) -> None:
    assert planned_minutes(hours) == minutes


# --- what, and after what -------------------------------------------------------------------------------------------


def test_a_coat_that_soaks_in_goes_on_all_round_and_is_recoated_in_its_time(tmp_path: Path) -> None:
    found = by_id(tmp_path, shelf("hardwax-oil"))
    assert [one.rpartition("/")[2] for one in found] == ["1", "2", "3", "4"]
    assert found["shelf 1/hardwax-oil/2"].after == (After("shelf 1/hardwax-oil/1", "done"),)
    assert found["shelf 1/hardwax-oil/3"].after == (After("shelf 1/hardwax-oil/2", "recoat"),)
    assert found["shelf 1/hardwax-oil/4"].over is None  # what is abraded has no window


def test_a_film_goes_on_one_side_and_then_on_the_other(tmp_path: Path) -> None:
    found = by_id(tmp_path, shelf("oil-varnish"))
    first, second = "shelf 1/oil-varnish/2/first-side", "shelf 1/oil-varnish/2/second-side"
    assert found[second].after == (After(first, "handle"),)
    # Whatever comes next, it is turned over for it, and laid on the side coated last.
    waits = {After(first, "recoat"), After(second, "recoat"), After(second, "handle")}
    assert set(found["shelf 1/oil-varnish/3"].after) == waits


def test_a_coat_on_a_coat_keeps_to_the_window_of_the_one_below_it(tmp_path: Path) -> None:
    found = by_id(tmp_path, shelf("oil-varnish-blend"))
    coat = found["shelf 1/oil-varnish-blend/3"]
    assert coat.over == "shelf 1/oil-varnish-blend/2"
    assert coat.again is not None
    assert coat.again.makes_dust


def test_what_is_rubbed_out_has_cured(tmp_path: Path) -> None:
    found = by_id(tmp_path, shelf("shellac"))
    rub = next(one for one in found.values() if one.deed == "rub-out")
    assert {after.stage for after in rub.after} == {"cure"}


def test_parts_are_glued_up_once_they_are_sanded_and_put_together_once_they_can_be_handled(tmp_path: Path) -> None:
    found = by_id(tmp_path, EXAMPLE)
    base = [one for one in found.values() if one.item == "base"]
    deeds = [one.deed for one in base]
    assert deeds[:4] == ["sand", "glue-up", "joints", "coat"]
    # Four hours in the cramps, as the catalogue says.
    assert next(one for one in base if one.deed == "glue-up").wait_h == 4.0
    assert set(found["put-together"].after) == {
        After("top/hardwax-oil/4", "handle"),
        After("base/hardwax-oil/4", "handle"),
    }


def test_a_soft_coat_under_a_quick_one_has_to_be_fit_to_handle_too(tmp_path: Path) -> None:
    found = by_id(tmp_path, EXAMPLE.replace("hardwax-oil", "casein-paint"))
    waited = {after.id for after in found["put-together"].after if after.id.startswith("base/")}
    finishes = {found[one].finish for one in waited}
    assert finishes == {"casein-paint", "paste-wax"}


def test_loose_parts_alone_are_not_put_together(tmp_path: Path) -> None:
    assert "put-together" not in by_id(tmp_path, shelf("hardwax-oil", 3))


def test_what_an_item_takes_of_the_rack(tmp_path: Path) -> None:
    # An assembly hangs from one hook, a top lies in one place, four loose legs hang from four hooks.
    (whole,) = read(tmp_path, [EXAMPLE], ONE_PERSON)
    assert rack_needs(whole.treatments, whole.surface) == {"base": (0, 1), "top": (1, 0)}
    (loose,) = read(tmp_path, [EXAMPLE.replace("assemblies:\n  base: {parts: [leg, apron]}\n", "")], ONE_PERSON)
    assert rack_needs(loose.treatments, loose.surface) == {"top": (1, 0), "leg": (0, 4), "apron": (4, 0)}

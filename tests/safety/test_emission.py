"""How fast solvent comes off: that no more comes off than is there."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.catalogue import bundled_catalogue
from finplan.quantity import Range
from finplan.safety.emission import Emission, decay_hours, slowed_hours

HOURS = st.floats(0.02, 12)
CATALOGUE = bundled_catalogue()
EVAPORATION = CATALOGUE.evaporation["coat"]


def emission(start_h: float, worked_h: float, decay_h: float) -> Emission:
    return Emission("id", "room", start_h, start_h + worked_h, 99.0, decay_h, "toluene", Range(1.0, 1.0, 1.0))


@given(worked_h=HOURS, decay_h=HOURS)
def test_all_of_it_comes_off_and_no_more(worked_h: float, decay_h: float) -> None:
    one = emission(0.0, worked_h, decay_h)
    steps = 4000
    span_h = worked_h + 12 * decay_h
    # By the midpoint rule, up to the end and after it.
    first = sum(one.rising((n + 0.5) * worked_h / steps) for n in range(steps)) * worked_h / steps
    rest_h = span_h - worked_h
    rest = sum(one.falling(worked_h + (n + 0.5) * rest_h / steps) for n in range(steps)) * rest_h / steps
    assert first + rest == pytest.approx(1.0, rel=2e-3)
    assert one.still_wet == pytest.approx(1 - first, rel=1e-2, abs=1e-3)


def test_what_is_sprayed_comes_off_while_it_is_sprayed() -> None:
    one = emission(2.0, 0.5, 0.0)
    assert (one.rising(2.1), one.falling(2.5), one.still_wet) == (2.0, 0.0, 0.0)


@pytest.mark.parametrize("finish", ["hardwax-oil", "shellac", "oil-varnish", "waterborne-polyurethane"])
def test_by_dust_free_nineteen_parts_in_twenty_have_left(finish: str) -> None:
    record = CATALOGUE.finishes[finish]
    dry_h = (record.dust_free_h or record.touch_dry_h).low
    assert math.exp(-dry_h / decay_hours(record, EVAPORATION)) == pytest.approx(0.05)


def test_only_slow_solvents_are_slowed() -> None:
    # 60 g on a square metre, which is a heavy coat: white spirit and alcohol keep the film's pace, glycol ether not.
    film_h = 0.5
    for name, slowed in [("ethanol", False), ("white-spirit", False), ("dipropylene-glycol-methyl-ether", True)]:
        hours = slowed_hours(film_h, 60.0, 1.0, CATALOGUE.solvents[name], EVAPORATION)
        assert (hours > film_h) is slowed, name


def test_what_is_not_known_is_not_slowed() -> None:
    assert slowed_hours(0.5, 60.0, 1.0, None, EVAPORATION) == 0.5
    assert slowed_hours(0.5, 60.0, 0.0, CATALOGUE.solvents["ethanol"], EVAPORATION) == 0.5

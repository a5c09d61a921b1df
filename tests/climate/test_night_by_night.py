"""Drying through nights of every temperature: no tenth of a degree changes much, and colder is never sooner."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import pytest

from finplan.catalogue import Finish, bundled_catalogue
from finplan.climate import Air, AirTable, Drying
from tests.climate.airs import day_and_night

CATALOGUE = bundled_catalogue()
LIMITS_C = (5, 7, 10, 12, 13, 15, 18)
"""The least temperatures at which finishes may be put on, or their films form, or their drying begins to fade."""
NIGHTS_C = sorted({*range(5, 26), *(limit + tenth / 10 for limit in LIMITS_C for tenth in (-1, 0, 1) if limit > 5)})
MOST_MIN = 6 * 60


@cache
def air(night_c: float) -> AirTable:
    return day_and_night(Air(20.0, 50.0), Air(night_c, 60.0), day_h=10, days=120)


def ready_min(system: str, night_c: float) -> float:
    """Return when a piece is ready of which every coat goes on when the one before is dry, at whatever hour."""
    coats = [CATALOGUE.finishes[step.finish] for step in CATALOGUE.systems[system].steps if step.finish]
    minute: float | None = 0.0
    for coat in coats[:-1]:
        assert minute is not None
        minute = Drying(coat, CATALOGUE, air(night_c)).reached(minute, "through", coat.recoat_h.typical)
    assert minute is not None
    found = Drying(coats[-1], CATALOGUE, air(night_c)).reached(minute, "hardening", _fit_h(coats[-1]))
    assert found is not None
    return found


def _fit_h(finish: Finish) -> float:
    return (finish.light_use_h or finish.handle_h).typical


@pytest.mark.parametrize("system", CATALOGUE.systems)
def test_a_tenth_of_a_degree_is_little_and_colder_is_no_sooner(system: str) -> None:
    found = [(night_c, ready_min(system, night_c)) for night_c in NIGHTS_C]
    for (cold_c, cold_min), (warm_c, warm_min) in pairwise(found):
        assert warm_min <= cold_min + 1e-6, (system, cold_c)
        assert cold_min - warm_min <= MOST_MIN * max(1.0, (warm_c - cold_c) / 0.1), (system, cold_c)


@pytest.mark.parametrize("name", [name for name, one in CATALOGUE.finishes.items() if one.recoat_limit_h is not None])
def test_no_night_makes_the_recoat_limit_longer(name: str) -> None:
    finish = CATALOGUE.finishes[name]
    assert finish.recoat_limit_h is not None
    for night_c in (*NIGHTS_C, 28.0, 35.0):
        closes = Drying(finish, CATALOGUE, air(night_c)).recoat_closes(0.0)
        assert closes is not None
        assert closes <= finish.recoat_limit_h.low * 60
        warm_h = finish.recoat_limit_h.low / max(1.0, 2 ** ((night_c - 23) / 10))
        assert closes >= min(finish.recoat_limit_h.low, warm_h) * 60 - 1e-6

"""How long a shop takes, and how fast its coats dry."""

from __future__ import annotations

from math import exp, log

import pytest

from finplan.learning import Pace, Timed, paces
from finplan.material import deviation
from tests.material.pieces import CATALOGUE

TAKES = deviation(CATALOGUE.labour["handwork"].takes)


def _sanding(times: float, person: str | None = None, told: str = "") -> Timed:
    return Timed("minutes", "sand", 40.0, 40.0 * times, person, told)


def _pace(found: tuple[Pace, ...], person: str = "") -> Pace:
    return next(one for one in found if one.person == person)


def test_the_shops_own_time_is_met_as_the_closed_form_says() -> None:
    """Nobody says who: what is common has half of the prior's variance (alike: 50 %), each note as much as handwork."""
    found, aside = paces([_sanding(1.2)] * 6, CATALOGUE)
    variance = 1 / (1 / (TAKES**2 / 2) + 6 / TAKES**2)
    assert not aside
    assert _pace(found).said.posterior.typical == pytest.approx(exp(6 * log(1.2) / TAKES**2 * variance))
    assert log(_pace(found).said.posterior.high / _pace(found).said.posterior.typical) == pytest.approx(
        1.6448536 * variance**0.5
    )
    assert _pace(found).said.count == 6


def test_each_is_known_by_own_times() -> None:
    found, _ = paces([_sanding(1.3, "Wenna")] * 8 + [_sanding(0.9, "Osric")] * 8, CATALOGUE)
    assert _pace(found, "Wenna").said.posterior.typical > 1.2
    assert _pace(found, "Osric").said.posterior.typical < 0.95
    assert _pace(found, "Osric").said.posterior.typical < _pace(found).said.posterior.typical < 1.2


def test_what_dries_slowly_here_is_met_by_finish() -> None:
    slow = [Timed("drying", "hardwax-oil", 12.0, 18.0, None, "")] * 5
    other = [Timed("drying", "shellac", 1.0, 1.0, None, "")]
    found, _ = paces(slow + other, CATALOGUE)
    oil, shellac = found
    own, coat = deviation(CATALOGUE.finishes["hardwax-oil"].recoat_h), deviation(CATALOGUE.learning["shop"].dries)
    expected = exp(5 * log(1.5) / coat**2 / (1 / own**2 + 5 / coat**2))
    assert oil.said.posterior.typical == pytest.approx(expected)
    assert (shellac.of, shellac.said.count) == ("shellac", 1)


def test_a_lunch_that_was_counted_in_is_set_aside() -> None:
    found, (doubted,) = paces([*[_sanding(1.1)] * 5, _sanding(3.5, told="Thu, step 4")], CATALOGUE)
    assert (doubted.told, doubted.of) == ("Thu, step 4", "sand")
    assert _pace(found).said.count == 5


def test_no_more_than_the_newest_count() -> None:
    newest = CATALOGUE.learning["shop"].newest
    found, _ = paces([_sanding(1.4)] * newest + [_sanding(0.95)] * newest, CATALOGUE)
    assert _pace(found).said.posterior.typical == pytest.approx(0.95, abs=0.01)
    assert paces([], CATALOGUE) == ((), ())

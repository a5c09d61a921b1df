"""A shop's own times, as plans are made with them."""

from __future__ import annotations

from math import exp, log

import numpy as np
import pytest

from finplan.learning import NO_TIMES, OwnTime, Timed, Times, paces, times_of
from finplan.material import deviation
from finplan.quantity import Range
from tests.material.pieces import CATALOGUE

OIL = CATALOGUE.finishes["hardwax-oil"]
TAKES = deviation(CATALOGUE.labour["handwork"].takes)


def _times(log_mean: float, log_sd: float, count: int = 5) -> OwnTime:
    wide = exp(1.6448536 * log_sd)
    return OwnTime(Range(exp(log_mean) / wide, exp(log_mean), exp(log_mean) * wide), count)


def test_one_who_works_alone_is_known_as_the_closed_form_says() -> None:
    """Of one unknown with a normal prior and n notes: precisions add (Johnson, Ott and Dogucu, "Bayes Rules!", ch. 5).

    Prior and note are both as wide as handwork, so after n notes the mean has n / (n + 1) of what they say.
    """
    timed = [Timed("minutes", "sand", 40.0, 50.0, None, "")] * 3
    found = times_of(paces(timed, CATALOGUE, ("Wenna",))[0], ("Wenna",)).work["sand"]
    assert found.times.typical == pytest.approx(exp(0.75 * log(1.25)))
    assert log(found.times.high / found.times.typical) == pytest.approx(1.6448536 * TAKES / 2)
    assert found.count == 3


def test_of_two_who_were_timed_each_is_as_likely_to_do_it() -> None:
    timed = [Timed("minutes", "sand", 40.0, 40.0 * times, who, "") for who, times in (("Ada", 1.3), ("Bo", 0.9))] * 6
    known, _ = paces(timed, CATALOGUE, ("Ada", "Bo"))
    each = {one.person: one.said.posterior.typical for one in known}
    both = times_of(known, ("Ada", "Bo")).work["sand"]
    assert both.times.typical == pytest.approx((each["Ada"] * each["Bo"]) ** 0.5)
    assert both.count == 12
    assert times_of(known, ("Ada",)).work["sand"].times.typical == pytest.approx(each["Ada"])
    assert times_of(known, ("Cy",)).work["sand"].times.typical == pytest.approx(each[""]), "what they have in common"


def test_what_was_never_timed_takes_what_is_reckoned() -> None:
    assert NO_TIMES.of_work("coat") == 1
    assert NO_TIMES.over(CATALOGUE) is CATALOGUE
    assert Times(drying={"gone": _times(0.3, 0.1)}).over(CATALOGUE) is CATALOGUE


def test_what_dries_slowly_here_does_so_at_every_stage() -> None:
    slow = Times(drying={"hardwax-oil": _times(log(1.5), 0.1)}).over(CATALOGUE).finishes["hardwax-oil"]
    for stage in ("touch_dry_h", "dust_free_h", "handle_h", "light_use_h", "cure_h"):
        before, after = getattr(OIL, stage), getattr(slow, stage)
        assert after == (None if before is None else before.scaled(1.5)), stage
    wide = (0.1**2 + deviation(CATALOGUE.learning["shop"].dries) ** 2) ** 0.5
    assert slow.recoat_h.typical == pytest.approx(1.5 * OIL.recoat_h.typical)
    assert slow.recoat_h.high == pytest.approx(1.5 * OIL.recoat_h.typical * exp(1.6448536 * wide))
    assert slow.recoat_limit_h == OIL.recoat_limit_h, "what is too hard for another coat is so no later"
    assert CATALOGUE.finishes["hardwax-oil"] is OIL


@pytest.mark.parametrize("times", [0.9, 0.5, 0.05])
def test_what_dries_fast_here_is_never_recoated_before_the_label_allows_it(times: float) -> None:
    quick = Times(drying={"hardwax-oil": _times(log(times), 0.05)}).over(CATALOGUE).finishes["hardwax-oil"]
    assert quick.recoat_h.low >= OIL.recoat_h.low
    assert quick.recoat_h.typical == pytest.approx(max(OIL.recoat_h.low, times * OIL.recoat_h.typical))
    assert (quick.handle_h, quick.light_use_h, quick.cure_h) == (OIL.handle_h, OIL.light_use_h, OIL.cure_h)


def test_in_shops_with_a_truth_of_their_own_it_lies_in_the_interval() -> None:
    """Two thousand made-up shops, each of a pace drawn from what is known beforehand, with six notes of its work."""
    random = np.random.default_rng(20270419)
    inside = 0
    for truth in random.normal(0, TAKES, 2000):
        notes = truth + random.normal(0, TAKES, 6)
        timed = [Timed("minutes", "coat", 30.0, 30.0 * exp(note), "Wenna", "") for note in notes]
        known = times_of(paces(timed, CATALOGUE, ("Wenna",))[0], ("Wenna",)).work["coat"].times
        inside += known.low <= exp(truth) <= known.high
    assert 0.88 < inside / 2000 < 0.92

"""What a shop learns from weighed coats, and what its plans make of that."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from finplan.learning import Coated, Weighed, coated_of, lessons
from finplan.material import Cause, CoatNeed, Learnt, Lessons, Term, coat_needs, total
from finplan.quantity import Range
from tests.learning.shops import worked
from tests.material.pieces import CATALOGUE, GROUP, job, treatment

COATERS = ("Wenna",)


def _needs(area_m2: float = 2.0, known: Lessons | None = None, method: str = "wipe") -> list[CoatNeed]:
    needs = coat_needs([job(treatment("hardwax-oil", area_m2=area_m2, method=method))], CATALOGUE, known or Lessons())
    return [need for need in needs if need.item != "sample board"]


def _weighed(times: float, number: int = 0, person: str | None = "Wenna", method: str = "wipe") -> list[Weighed]:
    """Both coats of a table, each so many times what the catalogue says."""
    return [
        Weighed((coated_of(need, {}),), need.wet_ml.typical * times, f"job {number}", person, f"job {number}")
        for need in _needs(method=method)
    ]


def test_a_coat_is_kept_as_it_is_and_reckoned_again_from_that() -> None:
    for need in _needs():
        kept = Coated.of(coated_of(need, {GROUP: "P180"}).plain())
        assert kept == coated_of(need, {GROUP: "P180"})
        assert kept.terms_ml(CATALOGUE) == coated_of(need, {}).terms_ml(CATALOGUE), "no grade is the usual one"
        ours = total(coated_of(need, {}).terms_ml(CATALOGUE))
        assert ours.range == total(need.wet_terms_ml).range


def test_what_is_weighed_as_the_catalogue_says_moves_nothing_and_makes_sure() -> None:
    known, rates, aside = lessons(_weighed(1.0) + _weighed(1.0, 1), CATALOGUE, COATERS)
    assert not aside
    for rate in rates:
        assert rate.said.posterior.typical == pytest.approx(1.0, abs=0.03)
        assert rate.said.posterior.high < 1 + 0.6 * (rate.said.prior.high - 1)
        assert rate.said.data == pytest.approx(1.0)
    plain, learnt = (total(need.finish_terms_ml[0:1]) for need in (_needs()[1], _needs(known=known)[1]))
    assert learnt.at(0.95) / learnt.at(0.5) < plain.at(0.95) / plain.at(0.5)


def test_a_thick_hand_is_met_more_and_more() -> None:
    before = 1.0
    for jobs in (1, 2, 4, 8):
        weighed = [one for number in range(jobs) for one in _weighed(1.3, number)]
        _, rates, _ = lessons(weighed, CATALOGUE, COATERS)
        later = next(rate for rate in rates if not rate.bare)
        assert before - 0.01 < later.said.posterior.typical < 1.5
        assert later.said.count == jobs
        before = later.said.posterior.typical
    assert before == pytest.approx(1.28, abs=0.05), "some of it may be what the pot keeps, in jobs that are all alike"


def test_plans_take_what_was_learnt() -> None:
    weighed = [one for number in range(5) for one in _weighed(1.3, number)]
    known, _, _ = lessons(weighed, CATALOGUE, COATERS)
    usual, own = (sum(need.needed_ml.typical for need in _needs(known=one)) for one in (None, known))
    assert own / usual == pytest.approx(1.3, abs=0.03)


def test_one_coat_teaches_something_of_the_other_method_too() -> None:
    """The product is the same; only the hand is another."""
    known, _, _ = lessons([one for number in range(6) for one in _weighed(1.4, number)], CATALOGUE, COATERS)
    brushed, usual = (_needs(known=one, method="brush")[1].needed_ml for one in (known, None))
    wiped = _needs(known=known)[1].needed_ml.typical / _needs()[1].needed_ml.typical
    assert 1.05 < brushed.typical / usual.typical < wiped
    assert brushed.high / brushed.typical < usual.high / usual.typical


def test_each_hand_is_known_by_its_own_coats_and_a_new_one_by_the_others() -> None:
    weighed = [one for number in range(5) for one in _weighed(1.35, number, "Wenna")]
    weighed += [one for number in range(5, 10) for one in _weighed(1.0, number, "Osric")]
    _, rates, _ = lessons(weighed, CATALOGUE, ("Wenna", "Osric", "Tamsin"))
    later = {rate.person: rate.said.posterior for rate in rates if not rate.bare}
    assert later["Wenna"].typical == pytest.approx(1.35, abs=0.08)
    assert later["Osric"].typical == pytest.approx(1.0, abs=0.08)
    assert set(later) == {"Wenna", "Osric"}


def test_a_plan_that_does_not_know_who_coats_is_as_wide_as_they_differ() -> None:
    one_hand = [one for number in range(5) for one in _weighed(1.2, number, "Wenna")]
    two = [one for number in range(5) for one in _weighed(1.45 if number % 2 else 1.0, number, "WO"[number % 2])]
    spread = []
    for weighed, coaters in ((one_hand, ("Wenna",)), (two, ("W", "O"))):
        known, _, _ = lessons(weighed, CATALOGUE, coaters)
        needed = _needs(known=known)[1].needed_ml
        spread.append(needed.high / needed.low)
    assert spread[1] > 1.2 * spread[0]


def test_a_coat_of_nobody_is_the_only_coaters() -> None:
    named = lessons(_weighed(1.2), CATALOGUE, COATERS)
    nameless = lessons(_weighed(1.2, person=None), CATALOGUE, COATERS)
    assert named[0] == nameless[0]


def test_a_slip_of_the_pen_is_set_aside_and_told() -> None:
    weighed = [one for number in range(4) for one in _weighed(1.1, number)]
    slip = replace(weighed[3], used_ml=weighed[3].used_ml * 10, told="Wed 10 Feb, coat 2")
    known, _, aside = lessons([*weighed[:3], slip, *weighed[4:]], CATALOGUE, COATERS)
    (doubted,) = aside
    assert doubted.told == "Wed 10 Feb, coat 2"
    assert doubted.times == pytest.approx(10, rel=0.2)
    without, _, _ = lessons([*weighed[:3], *weighed[4:]], CATALOGUE, COATERS)
    assert known.by_finish["hardwax-oil"].mean == pytest.approx(without.by_finish["hardwax-oil"].mean, abs=0.01)


def test_a_label_that_is_entered_later_is_reckoned_with_for_old_coats() -> None:
    """Weighed at 1.2 times the catalogue; the label then says a quarter more by itself."""
    weighed = [one for number in range(5) for one in _weighed(1.2, number)]
    oil = CATALOGUE.finishes["hardwax-oil"]
    rates = oil.spread_rate.model_copy(
        update={
            "first_m2_l": Range(*(one / 1.25 for one in _three(oil.spread_rate.first_m2_l))),
            "next_m2_l": Range(*(one / 1.25 for one in _three(oil.spread_rate.next_m2_l))),
        }
    )
    labelled = replace(
        CATALOGUE,
        finishes={**CATALOGUE.finishes, "hardwax-oil": oil.model_copy(update={"spread_rate": rates})},
    )
    _, before, _ = lessons(weighed, CATALOGUE, COATERS)
    _, after, _ = lessons(weighed, labelled, COATERS)
    for old, new in zip(before, after, strict=True):
        assert 1.12 < old.said.posterior.typical / new.said.posterior.typical < 1.26
        assert old.said.data / new.said.data == pytest.approx(1.2, abs=0.05), "the pot's share is as it was"


def _three(known: Range) -> tuple[float, float, float]:
    return known.low, known.typical, known.high


def test_what_the_catalogue_knows_no_more_teaches_nothing() -> None:
    gone = {name: one for name, one in CATALOGUE.finishes.items() if name != "hardwax-oil"}
    known, rates, aside = lessons(_weighed(1.2), replace(CATALOGUE, finishes=gone), COATERS)
    assert (known.by_finish, rates, aside) == ({}, (), ())


def test_several_coats_weighed_together_teach_less_than_each_by_itself() -> None:
    each = [one for number in range(3) for one in _weighed(1.25, number)]
    together = [
        Weighed(one.coats + other.coats, one.used_ml + other.used_ml, one.job, "Wenna", "")
        for one, other in zip(each[::2], each[1::2], strict=True)
    ]
    wide = []
    for weighed in (each, together):
        known, _, _ = lessons(weighed, CATALOGUE, COATERS)
        needed = _needs(known=known)[1].needed_ml
        assert needed.typical / _needs()[1].needed_ml.typical == pytest.approx(1.22, abs=0.05)
        wide.append(needed.high / needed.low)
    assert wide[0] < wide[1]


def test_causes_that_were_learnt_together_keep_hanging_together() -> None:
    """A term of both, against a million draws of the two."""
    random = np.random.default_rng(5)
    covariance = np.array([[0.5, -0.4], [-0.4, 0.6]])
    root = np.linalg.cholesky(covariance)
    keys = (("product", ("oil",)), ("hand", ("oil", "wipe")))
    learnt = Learnt(keys, (0.5, -0.2), tuple(map(tuple, root.tolist())))  # type: ignore[arg-type]
    term = Term(
        100.0,
        (Cause("product", ("oil",), 0.2), Cause("hand", ("oil", "wipe"), 0.3), Cause("coat", ("a", "b", "c"), 0.1)),
    )
    z = random.multivariate_normal([0.5, -0.2], covariance, 1_000_000)
    drawn = 100 * np.exp(0.2 * z[:, 0] + 0.3 * z[:, 1] + 0.1 * random.standard_normal(1_000_000))
    found = total([learnt.of(term)])
    for share in (0.05, 0.5, 0.9, 0.95):
        assert found.at(share) == pytest.approx(float(np.quantile(drawn, share)), rel=0.005)


def test_shops_of_which_the_truth_is_known_learn_it() -> None:
    """A part of ``python -m tests.learning.shops``, in which 200 shops do ten jobs each."""
    found = worked(40, 4)
    inside = sum(one.inside for one in found) / len(found)
    assert 0.78 <= inside <= 0.99, "four deviations of a binomial about 90 %"
    first, fourth = (float(np.mean([one.excess[number] for one in found])) for number in (0, 3))
    assert fourth < 2 / 3 * first
    assert sum(one.aside for one in found) <= 2

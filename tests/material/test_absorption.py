"""What a surface drinks: pores, end grain and the last grade."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from finplan.material import absorption
from finplan.quantity import Range
from tests.material.pieces import CATALOGUE, GROUP, typical_m2

OIL, VARNISH = CATALOGUE.finishes["hardwax-oil"], CATALOGUE.finishes["oil-polyurethane"]
GRADES = ["P80", "P120", "P150", "P180", "P220", "P240", "P320", "P400"]


def test_end_grain_drinks_more() -> None:
    # A top of 1500 x 900 x 25 mm: 2.775 m² of faces and long edges, 0.045 m² of ends, twice to five times as thirsty.
    group = replace(GROUP, area_m2=2.775 + 0.045, end_grain_m2=0.045)
    drinks = absorption(group, OIL, CATALOGUE, bare=True)
    assert (drinks.along_m2, drinks.end_m2) == pytest.approx((2.775, 0.045))
    assert (drinks.pores, drinks.ends) == (Range(0.9, 1.0, 1.1), Range(2.0, 3.0, 5.0))
    assert typical_m2(drinks) == pytest.approx(2.775 + 0.045 * 3.0)


def test_end_grain_never_drinks_less_than_the_face_beside_it() -> None:
    # Later film coats on an end take what a face takes (factor 1), also where the timber's faces take more.
    ends = replace(GROUP, timber="ash", end_grain_m2=GROUP.area_m2)
    assert typical_m2(absorption(ends, VARNISH, CATALOGUE, bare=False)) == pytest.approx(GROUP.area_m2 * 1.0)
    assert typical_m2(absorption(ends, VARNISH, CATALOGUE, bare=True)) == pytest.approx(GROUP.area_m2 * 3.0)
    thirsty = CATALOGUE.absorption["ring-porous"].model_copy(update={"later": Range(1.5, 2.0, 3.0)})
    catalogue = replace(CATALOGUE, absorption={**CATALOGUE.absorption, "ring-porous": thirsty})
    assert absorption(ends, VARNISH, catalogue, bare=False).ends == Range(1.5, 2.0, 3.0)


def test_a_finer_last_grade_never_drinks_more() -> None:
    drinks = [absorption(GROUP, OIL, CATALOGUE, bare=True, last_grit=grit) for grit in GRADES]
    for coarser, finer in pairwise(drinks):
        assert finer.grade.low <= coarser.grade.low
        assert finer.grade.high <= coarser.grade.high
        assert typical_m2(finer) <= typical_m2(coarser)
    assert typical_m2(drinks[0]) > typical_m2(drinks[-1])


@pytest.mark.parametrize(
    ("grit", "factor", "source"),
    [
        ("P100", 1.1, "no finer than P120"),
        ("P150", 1.0, "the usual grade, for which the spread rates are"),
        ("P180", 1.0, "the same"),
        ("P240", 0.95, "P220 to P240"),
        ("P400", 0.9, "finer than P240"),
    ],
)
def test_the_last_grade(grit: str, factor: float, source: str) -> None:
    usual = absorption(GROUP, OIL, CATALOGUE, bare=True)
    assert typical_m2(absorption(GROUP, OIL, CATALOGUE, bare=True, last_grit=grit)) == pytest.approx(
        factor * typical_m2(usual)
    ), source


def test_the_grade_counts_on_bare_wood_only() -> None:
    assert absorption(GROUP, OIL, CATALOGUE, bare=False, last_grit="P80") == absorption(
        GROUP, OIL, CATALOGUE, bare=False
    )

"""Mean grain diameters against two public charts of ISO 6344 (FEPA 43-1) and one of ANSI B74.18 (CAMI).

ISO 6344-2:2021 defines P12 to P220 by sieve fractions, so their mean diameters are derived and charts differ by a few
per cent; ISO 6344-3:2021 defines P240 and finer by a median with a tolerance.
"""

from __future__ import annotations

from math import log

import pytest

from finplan.catalogue import bundled_catalogue

P = bundled_catalogue().grades["p-grade"].sizes_um
CAMI = bundled_catalogue().grades["cami"].sizes_um

# Grade, µm of the chart followed, µm of a second chart or None.
MACRO = [
    *[("P12", 1815, None), ("P16", 1324, None), ("P20", 1000, None), ("P24", 764, None), ("P30", 642, None)],
    *[("P36", 538, None), ("P40", 425, None), ("P50", 336, None), ("P60", 269, 260), ("P80", 201, 197)],
    *[("P100", 162, 156), ("P120", 125, 127), ("P150", 100, 97), ("P180", 82, 78), ("P220", 68, 65)],
]
# Grade, median in µm, tolerance of the standard in µm (recalled), the rounded figure of a second chart or None.
MICRO = [
    *[("P240", 58.5, 2.0, 58.4), ("P280", 52.2, 2.0, 52.5), ("P320", 46.2, 1.5, 46), ("P360", 40.5, 1.5, 40)],
    *[("P400", 35.0, 1.5, 35), ("P500", 30.2, 1.5, 30), ("P600", 25.8, 1.0, 25.75), ("P800", 21.8, 1.0, 22)],
    *[("P1000", 18.3, 1.0, 18), ("P1200", 15.3, 1.0, 15), ("P1500", 12.6, 1.0, 13), ("P2000", 10.3, 0.8, 10)],
    ("P2500", 8.4, 0.5, 8),
]


def test_the_scale_is_complete() -> None:
    assert list(P) == [grade for grade, *_ in MACRO] + [grade for grade, *_ in MICRO]


@pytest.mark.parametrize(("grade", "size_um", "other_um"), MACRO)
def test_macrogrits(grade: str, size_um: float, other_um: float | None) -> None:
    assert P[grade] == size_um
    if other_um is not None:
        assert P[grade] == pytest.approx(other_um, rel=0.055)


@pytest.mark.parametrize(("grade", "median_um", "tolerance_um", "other_um"), MICRO)
def test_microgrits(grade: str, median_um: float, tolerance_um: float, other_um: float) -> None:
    assert P[grade] == median_um
    assert abs(P[grade] - other_um) <= tolerance_um


@pytest.mark.parametrize(
    ("cami", "size_um", "p_grade"),
    # By hand: the P-grade with the least |ln(size ratio)|; sizes of the CAMI chart. 500 lies between P800 and P1000.
    [
        *[("40", 428, "P40"), ("50", 351, "P50"), ("60", 268, "P60"), ("80", 192, "P80")],
        *[("100", 141, "P120"), ("120", 116, "P120"), ("150", 93, "P150"), ("180", 78, "P180"), ("220", 66, "P220")],
        *[("240", 53.5, "P280"), ("280", 44, "P320"), ("320", 36, "P400"), ("360", 28.8, "P500")],
        *[("400", 23, "P800"), ("600", 16, "P1200"), ("800", 12.2, "P1500")],
    ],
)
def test_cami_grades_lie_nearest_to(cami: str, size_um: float, p_grade: str) -> None:
    assert CAMI[cami] == size_um
    assert min(P, key=lambda grade: abs(log(P[grade] / size_um))) == p_grade


@pytest.mark.parametrize(
    ("coarse", "fine", "ratio"),
    # By hand from the two columns above. P400 to P800 doubles the number, and the grain shrinks by 1.6 only.
    [("P80", "P120", 1.608), ("P80", "P150", 2.010), ("P240", "P400", 1.671), ("P400", "P800", 1.606)],
)
def test_the_number_is_not_the_size(coarse: str, fine: str, ratio: float) -> None:
    assert P[coarse] / P[fine] == pytest.approx(ratio, abs=6e-4)


def test_coarse_grades_of_both_scales_are_alike_by_number() -> None:
    # Both are sieved by nearly the same sieves up to 220: charts of either differ by a seventh at most.
    for number in ("16", "20", "24", "30", "36", "40", "50", "60", "80", "100", "120", "150", "180", "220"):
        assert CAMI[number] == pytest.approx(P[f"P{number}"], rel=0.15), number

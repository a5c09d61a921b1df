"""Spread rate, film thickness and thinning against worked values that coating makers publish.

Sources, as seen in makers' and trade technical notes on spreading rate and film thickness:
``m²/L = 10 · VS% / DFT_µm``; ``WFT = DFT · 100 / VS%``; ``VS' = VS / (1 + p)``.
"""

from __future__ import annotations

import pytest

from finplan.material import thinned_solids, wet_film

FT2_PER_GAL = 40.745833  # of 1 m²/L, from the foot of 0.3048 m and the US gallon of 231 in³ (NIST Handbook 44)


def dry_film_um(rate_m2_l: float, solids_pct: float) -> float:
    """What is left of the wet film at a spread rate."""
    return wet_film(rate_m2_l) * solids_pct / 100


@pytest.mark.parametrize(
    ("solids_pct", "dry_um", "rate_m2_l", "source"),
    [
        (65.0, 125.0, 5.2, "technical note: 65 % at 125 µm covers 5.2 m²/L"),
        (71.0, 125.0, 5.7, "technical note: 71 % at 125 µm covers 5.7 m²/L"),
        (30.0, 50.0, 6.0, "maker's sheet of a moisture-curing varnish: 30 % at 50 µm covers 6 m²/L"),
        (22.0, 50.0, 4.4, "the same: 22 % at 50 µm covers 4.4 m²/L"),
    ],
)
def test_spread_rate(solids_pct: float, dry_um: float, rate_m2_l: float, source: str) -> None:
    assert dry_film_um(rate_m2_l, solids_pct) == pytest.approx(dry_um, rel=0.05 / rate_m2_l), source


def test_us_spread_rate() -> None:
    # Technical note: 65 % solids at 5.0 mil cover 208.52 ft²/gal, with the rounded constant 1604 for 1604.17.
    rate_m2_l = 208.52 * 1604.1667 / 1604 / FT2_PER_GAL
    assert dry_film_um(rate_m2_l, 65.0) == pytest.approx(5.0 * 25.4, rel=1e-4)


def test_wet_film() -> None:
    # Technical notes: 500 ft²/gal are 3.2 mil wet; 71 % of solids at 125 µm dry are 176 µm wet.
    assert wet_film(500 / FT2_PER_GAL) / 25.4 == pytest.approx(3.2, abs=0.05)
    assert wet_film(5.68) == pytest.approx(176, abs=0.5)


def test_thinning() -> None:
    # Trade note: 50 % solids thinned by 10 % are 45.45 %; at 60 µm dry they cover 7.57 m²/L, less 30 % loss 5.299.
    solids_pct = thinned_solids(50.0, 10.0)
    assert solids_pct == pytest.approx(45.45, abs=0.005)
    assert dry_film_um(7.57, solids_pct) == pytest.approx(60.0, rel=0.01 / 7.57)
    assert dry_film_um(5.299 / 0.7, solids_pct) == pytest.approx(60.0, rel=0.005 / 5.299)

"""Pack sizes against the legal units: NIST Handbook 44, appendix C, General Tables of Units of Measurement.

1 US gallon = 231 cubic inches, 1 inch = 25.4 mm exactly, hence 3.785 411 784 L; quart, pint and half pint by halves.
"""

from __future__ import annotations

import pytest

from finplan.catalogue import bundled_catalogue

PACKS = bundled_catalogue().packs
US_GALLON_ML = 231 * 2.54**3


def test_the_gallon() -> None:
    assert pytest.approx(3785.411784, rel=1e-12) == US_GALLON_ML


@pytest.mark.parametrize(
    ("index", "size_ml", "source"),
    [
        (0, 236.588236500, "half pint, 1/16 gallon: appendix C, 236.588 2 mL a cup"),
        (1, 473.176473, "pint, 1/8 gallon: appendix C, 0.473 176 5 L"),
        (2, 946.352946, "quart, 1/4 gallon: appendix C, 0.946 352 9 L"),
        (3, 3785.411784, "gallon: appendix C, 3.785 412 L"),
        (4, 18927.05892, "five gallons"),
    ],
)
def test_us_packs(index: int, size_ml: float, source: str) -> None:
    held = PACKS["us"].sizes[index].holds
    assert held.measure == "ml", source
    assert held.value == pytest.approx(size_ml, rel=1e-12), source


def test_litre_packs() -> None:
    # As commonly sold.
    litres = [0.125, 0.25, 0.375, 0.5, 0.75, 1, 2.5, 3, 5, 10, 20]
    assert [pack.holds.value for pack in PACKS["metric"].sizes] == pytest.approx([1000 * size for size in litres])


@pytest.mark.parametrize(
    ("index", "mass_g", "source"),
    [
        (0, 113.398, "4 oz, a quarter of the avoirdupois pound of 453.592 37 g"),
        (2, 453.59237, "the pound"),
        (4, 2267.96185, "five pounds"),
    ],
)
def test_us_packs_by_mass(index: int, mass_g: float, source: str) -> None:
    held = PACKS["us"].masses[index].holds
    assert held.measure == "g", source
    assert held.value == pytest.approx(mass_g, rel=1e-6), source


@pytest.mark.parametrize("units", list(PACKS))
@pytest.mark.parametrize("of", ["sizes", "solvents", "masses"])
def test_packs_stand_in_order_and_without_a_price(units: str, of: str) -> None:
    packs = getattr(PACKS[units], of)
    sizes = [pack.holds.value for pack in packs]
    assert sizes == sorted(set(sizes))
    assert all(pack.price is None for pack in packs)
    assert {pack.holds.measure for pack in packs} == {"g" if of == "masses" else "ml"}

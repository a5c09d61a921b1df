"""Whether the solvents agree with themselves."""

from __future__ import annotations

import pytest

from finplan.catalogue import Solvent, bundled_catalogue
from tests.each import each

CATALOGUE = bundled_catalogue()
SOLVENTS = [pytest.param(name, solvent, id=name) for name, solvent in CATALOGUE.solvents.items()]
ATMOSPHERE_KPA = 101.325
ROOM_C = 20.0


def test_the_solvents_of_the_trade_are_there() -> None:
    assert set(CATALOGUE.solvents) >= {
        *["white-spirit", "naphtha", "ethanol", "isopropanol", "acetone", "toluene", "xylene", "butyl-acetate"],
        *["turpentine", "limonene", "butoxyethanol", "methoxypropanol", "dipropylene-glycol-methyl-ether"],
        *["dichloromethane", "lacquer-thinner", "water"],
    }


@each(("name", "solvent"), SOLVENTS)
def test_what_has_a_flash_point_has_a_flammable_limit(name: str, solvent: Solvent) -> None:
    if solvent.flash_point_c is not None:
        assert solvent.flammable, name
    # Dichloromethane burns in a narrow range and is hard to light: no flash point, as its data sheets say.
    assert solvent.flammable == (name != "water"), name
    assert (solvent.flash_point_c is None) == (name in ("water", "dichloromethane")), name


@each(("name", "solvent"), SOLVENTS)
def test_still_air_burns_at_room_temperature_just_where_the_flash_point_says(name: str, solvent: Solvent) -> None:
    # Over its flash point the vapour over a liquid reaches the lower flammable limit. A flash point is measured within
    # a few degrees, so what flashes between 15 and 30 °C may fall on either side.
    if solvent.flash_point_c is None or solvent.lower_flammable_limit_pct is None or 15 < solvent.flash_point_c < 30:
        return
    share_pct = 100 * solvent.vapour_pressure_kpa.typical / ATMOSPHERE_KPA
    burns = share_pct >= solvent.lower_flammable_limit_pct.low
    assert burns == (solvent.flash_point_c <= ROOM_C), (name, share_pct)


@each(("name", "solvent"), SOLVENTS)
def test_short_limits_are_above_those_of_a_day(name: str, solvent: Solvent) -> None:
    limits = solvent.limits
    if limits is None:
        # OSHA, NIOSH and ACGIH set none; a blend is reckoned by its parts
        assert name in ("limonene", "stripper-gel", "water") or solvent.components
        return
    for short, day in ((limits.niosh_short_ppm, limits.niosh_ppm), (limits.acgih_short_ppm, limits.acgih_ppm)):
        if short is not None and day is not None:
            assert short > day, name


@each(("name", "solvent"), SOLVENTS)
def test_what_harms_is_far_less_than_what_burns(name: str, solvent: Solvent) -> None:
    # Ventilation for health asks for far more air than a quarter of the flammable limit does.
    if solvent.limits is None or solvent.lower_flammable_limit_pct is None:
        return
    day = [one for one in (solvent.limits.osha_ppm, solvent.limits.niosh_ppm, solvent.limits.acgih_ppm) if one]
    quarter_ppm = solvent.lower_flammable_limit_pct.low * 1e4 / 4
    assert all(limit < quarter_ppm for limit in day), name


@each(("name", "solvent"), SOLVENTS)
def test_densities_and_masses_are_those_of_liquids(name: str, solvent: Solvent) -> None:
    assert 700 <= solvent.density_g_l.low <= solvent.density_g_l.high <= 1400, name
    assert 18 <= solvent.molar_mass_g_mol.low <= solvent.molar_mass_g_mol.high <= 160, name
    assert solvent.vapour_pressure_kpa.high < ATMOSPHERE_KPA / 2, name


@pytest.mark.parametrize("blend", ["lacquer-thinner", "denatured-alcohol"])
def test_a_blend_weighs_and_evaporates_as_its_parts_do(blend: str) -> None:
    thinner = CATALOGUE.solvents[blend]
    parts = [(CATALOGUE.solvents[name], share) for name, share in thinner.components.items()]
    whole = sum(share for _, share in parts)
    mass = sum(share * one.density_g_l.typical for one, share in parts)
    moles = [share * one.density_g_l.typical / one.molar_mass_g_mol.typical for one, share in parts]
    assert thinner.density_g_l.typical == pytest.approx(mass / whole, rel=0.01)
    assert thinner.molar_mass_g_mol.typical == pytest.approx(mass / sum(moles), rel=0.01)
    # Raoult's law: each part by its share of the moles.
    pressure_kpa = sum(
        mole / sum(moles) * one.vapour_pressure_kpa.typical for mole, (one, _) in zip(moles, parts, strict=True)
    )
    assert thinner.vapour_pressure_kpa.typical == pytest.approx(pressure_kpa, rel=0.03)
    assert thinner.flash_point_c == min(one.flash_point_c for one, _ in parts if one.flash_point_c is not None)

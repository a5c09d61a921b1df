"""Fresh air and purging against published worked examples, to the digits that are printed.

- 29 CFR 1910.94(c)(6)(ii), Table G-11: air to dilute the vapour of a US gallon to a quarter of the lower explosive
  limit. The example of the rule is toluene, 4 (100 - 1.4) 30.4 / 1.4 = 8,564 cubic feet (recalled).
- ACGIH, Industrial Ventilation, dilution ventilation: Q = 403 SG ER 10⁶ K / (MW C), as printed on the equation sheets
  of the American Board of Industrial Hygiene and of universities; C = C0 exp(-Q t / V), the room purge equation; 387
  ft³ a pound mole.
- NIOSH Pocket Guide to Chemical Hazards: 1 ppm of toluene is 3.77 mg/m³.
- 29 CFR 1910.1000(d)(2): limits of several vapours add up.
"""

from __future__ import annotations

import numpy as np
import pytest

from finplan.catalogue import bundled_catalogue
from finplan.quantity import Range
from finplan.safety import fire_air, health_air, mass_in_air, molar_volume, vapour_volume
from finplan.safety.box import GivenOff
from finplan.safety.emission import Emission
from finplan.safety.loads import loads
from tests.published.solvents import le_chatelier_pct

GALLON_L = 3.785411784
FT3_M3 = 0.3048**3
FAHRENHEIT_70_C = (70 - 32) * 5 / 9


def test_the_rule_s_own_example() -> None:
    assert f"{fire_air(30.4, 1.4, 0.25):,.0f}" == "8,564"


def test_the_rule_from_density_and_molar_mass() -> None:
    # Toluene, 0.867 g/mL and 92.14 g/mol at 70 °F: the table's 30.4 ft³ of vapour from a gallon.
    vapour_ft3 = vapour_volume(867 * GALLON_L, 92.14, FAHRENHEIT_70_C) / FT3_M3
    assert f"{vapour_ft3:.1f}" == "30.4"
    ethanol_ft3 = vapour_volume(789 * GALLON_L, 46.07, FAHRENHEIT_70_C) / FT3_M3
    assert ethanol_ft3 == pytest.approx(55.2, abs=0.1)


def test_molar_volumes_as_they_are_printed() -> None:
    assert f"{molar_volume(25.0):.2f}" == "24.47"
    assert f"{molar_volume(20.0):.2f}" == "24.06"
    pound_mole_ft3 = molar_volume(FAHRENHEIT_70_C) * 453.59237 / 1000 / FT3_M3
    assert round(pound_mole_ft3) == 387


def test_a_ppm_of_toluene() -> None:
    assert f"{mass_in_air(1.0, 92.14):.2f}" == "3.77"


def us_flow_cfm(pints_min: float, gravity: float, molar_mass: float, limit_ppm: float, mixing: float) -> float:
    """The formula as it is printed."""
    return 403 * gravity * pints_min * 1e6 * mixing / (molar_mass * limit_ppm)


@pytest.mark.parametrize(
    ("pints_h", "gravity", "molar_mass", "limit_ppm", "mixing", "derived_cfm"),
    [(2.0, 0.805, 72.11, 200.0, 4.0, 2999), (1.0, 0.78, 140.0, 100.0, 5.0, 1871)],
    ids=["butanone", "white spirit"],
)
def test_health_dilution_in_both_forms(
    pints_h: float, gravity: float, molar_mass: float, limit_ppm: float, mixing: float, derived_cfm: int
) -> None:
    assert round(us_flow_cfm(pints_h / 60, gravity, molar_mass, limit_ppm, mixing)) == derived_cfm
    # The metric form: the same within the rounding of 403, and 25 °C in place of 70 °F.
    grams_h = pints_h * GALLON_L / 8 * gravity * 1000
    metric_m3_h = health_air(grams_h * 1000, mass_in_air(limit_ppm, molar_mass), mixing)
    assert metric_m3_h / FT3_M3 / 60 == pytest.approx(derived_cfm, rel=0.02)


@pytest.mark.parametrize(("mixing", "derived"), [(1, "714"), (3, "2143")])
def test_the_metric_form(mixing: float, derived: str) -> None:
    # 250 g an hour and a limit of 350 mg/m³, by hand.
    assert f"{health_air(250e3, 350.0, mixing):.0f}" == derived


def left(changes: float, hours: float) -> float:
    """What is left of vapour that was set free at once in a box, by the box that the sessions are reckoned with."""
    puff = Emission("id", "room", 0.0, 1e-9, 0.0, 0.0, "toluene", Range(1.0, 1.0, 1.0))
    return float(GivenOff([puff], np.array([hours])).held(changes)[0, 0])


def test_purging_a_room() -> None:
    # 40 m³ at 300 m³/h from 1000 to 10 ppm takes 36.8 minutes.
    assert left(300 / 40, 36.8 / 60) == pytest.approx(10 / 1000, rel=1e-2)


@pytest.mark.parametrize(("changes", "left_pct"), [(1, "36.8"), (3, "4.98"), (4, "1.83"), (6, "0.248")])
def test_what_air_changes_leave(changes: int, left_pct: str) -> None:
    assert f"{left(1.0, changes) * 100:.3g}" == left_pct


def test_dust_that_hangs_in_the_air_goes_the_same_way() -> None:
    # 1 g in 40 m³ is 25 mg/m³; at six air changes an hour it is down to 1 mg/m³ after ln 25 / 6 h, 32.2 minutes.
    assert left(6.0, 32.2 / 60) == pytest.approx(1 / 25, rel=5e-3)


def test_half_a_litre_of_alcohol_in_a_small_room() -> None:
    vapour_m3 = vapour_volume(0.5 * 789, 46.07, 20.0)
    assert f"{vapour_m3:.4f}" == "0.2060"
    assert f"{vapour_m3 / 40 * 1e6:,.0f}" == "5,150"
    assert f"{vapour_m3 / 40 / 0.033 * 100:.1f}" == "15.6"
    assert f"{fire_air(vapour_m3, 3.3, 0.25):.1f}" == "24.1"


def test_several_vapours_burn_as_le_chatelier_says() -> None:
    # 60 % toluene and 40 % acetone by volume of vapour, of 1.0 and 2.5 %, our lowest.
    catalogue = bundled_catalogue()
    molar = {name: catalogue.solvents[name].molar_mass_g_mol.low for name in ("toluene", "acetone")}
    moles = {"toluene": 0.6, "acetone": 0.4}
    grams = {name: moles[name] * molar[name] for name in moles}
    volume_m3 = sum(moles.values()) * molar_volume(25.0) / 1000
    mixed_pct = le_chatelier_pct([0.6, 0.4], [1.0, 2.5])
    found = loads(grams, catalogue)
    assert found.air.fire == pytest.approx(fire_air(volume_m3, mixed_pct, 0.25), rel=1e-9)
    assert found.fire == pytest.approx(volume_m3 / (mixed_pct / 100), rel=1e-9)


def test_le_chatelier_as_printed() -> None:
    assert f"{100 / (60 / 1.1 + 40 / 2.5):.3f}" == "1.418"
    # As the general-purpose package ``chemicals`` (1.5.2) mixes them.
    assert le_chatelier_pct([0.6, 0.4], [1.1, 2.5]) == pytest.approx(1.41753, abs=1e-5)


def test_several_vapours_harm_together() -> None:
    # 29 CFR 1910.1000(d)(2): as much of each as would need the room alone needs it twice.
    catalogue = bundled_catalogue()
    one = loads({"toluene": 10.0}, catalogue).day
    other = loads({"acetone": 10.0}, catalogue).day
    both = loads({"toluene": 10.0, "acetone": 10.0}, catalogue).day
    assert one is not None
    assert other is not None
    assert both == pytest.approx(one + other)

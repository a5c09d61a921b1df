"""Vapour and fresh air: the formulas, each by itself."""

from __future__ import annotations

GAS_CONSTANT = 8.314462618
"""[J/(mol·K)]. Source: CODATA 2018, exact."""
ATMOSPHERE_KPA = 101.325
LIST_TEMPERATURE_C = 25.0
"""At which lists of limits turn ppm into mg/m³, by 24.45 L a mole. Source: NIOSH Pocket Guide, conversion factors."""


def molar_volume(temperature_c: float) -> float:
    """Return the volume of a mole of vapour at one atmosphere. [L/mol]

    Parameters
    ----------
    temperature_c
        Of the air. [°C], above -273.15

    Notes
    -----
    Ideal gas: ``V = R · T / p``.

    Examples
    --------
    >>> molar_volume(20.0), molar_volume(25.0)
    (24.06, 24.47)
    """
    return GAS_CONSTANT * (temperature_c + 273.15) / ATMOSPHERE_KPA


def vapour_volume(mass_g: float, molar_mass_g_mol: float, temperature_c: float) -> float:
    """Return the volume of the vapour of a solvent. [m³]

    Parameters
    ----------
    mass_g
        Of the solvent. [g]
    molar_mass_g_mol
        [g/mol], above 0
    temperature_c
        Of the air. [°C]

    Notes
    -----
    Ideal gas: ``v = m / M · R · T / p``.

    Examples
    --------
    Half a litre of ethanol at 20 °C:

    >>> vapour_volume(0.5 * 789, 46.07, 20.0)
    0.2060
    """
    return mass_g / molar_mass_g_mol * molar_volume(temperature_c) / 1000


def saturated(vapour_pressure_kpa: float, molar_mass_g_mol: float, temperature_c: float) -> float:
    """Return the mass of vapour in air over the liquid. [g/m³]

    Parameters
    ----------
    vapour_pressure_kpa
        [kPa]
    molar_mass_g_mol
        [g/mol]
    temperature_c
        Of the air. [°C]

    Notes
    -----
    Ideal gas: ``p · M / (R · T)``.

    Examples
    --------
    >>> saturated(2.92, 92.14, 20.0)
    110.4
    """
    return vapour_pressure_kpa / ATMOSPHERE_KPA * molar_mass_g_mol / molar_volume(temperature_c) * 1000


def fire_air(vapour: float, limit_pct: float, share: float) -> float:
    """Return the fresh air that keeps vapour at a share of its lower flammable limit, in the unit of the vapour.

    Parameters
    ----------
    vapour
        Its volume, in any unit
    limit_pct
        Lower flammable limit, by volume of air. [%], above 0, below 100
    share
        The share of it that the air may hold. 0 to 1; a quarter in the rule

    Notes
    -----
    ``D = (1 / share) · (100 - LEL) · V / LEL``; with a share of 0.25 the rule's ``4 (100 - LEL) V / LEL``. Source:
    29 CFR 1910.94(c)(6)(ii). It counts on even mixing.

    Examples
    --------
    The rule's own: toluene, cubic feet for a gallon.

    >>> fire_air(30.4, 1.4, 0.25)
    8564.1
    """
    return (100 - limit_pct) * vapour / (share * limit_pct)


def health_air(mass_mg: float, limit_mg_m3: float, mixing: float = 1.0) -> float:
    """Return the fresh air that keeps vapour at what may be breathed; of a mass per hour, the air per hour. [m³]

    Parameters
    ----------
    mass_mg
        Of the solvent that evaporates. [mg]
    limit_mg_m3
        Occupational limit. [mg/m³], above 0
    mixing
        How much more air it takes because it mixes badly. 1 (at once) to 10

    Notes
    -----
    ``Q = K · G / C``, the metric form of ``Q = 403 · SG · ER · K · 10⁶ / (MW · C)``. Source: ACGIH, Industrial
    Ventilation, dilution ventilation.

    Examples
    --------
    >>> health_air(250e3, 350.0, 1), health_air(250e3, 350.0, 3)
    (714.3, 2142.9)
    """
    return mixing * mass_mg / limit_mg_m3


def mass_in_air(share_ppm: float, molar_mass_g_mol: float) -> float:
    """Return a share of vapour in the air as a mass, at 25 °C. [mg/m³]

    >>> mass_in_air(100.0, 92.14)
    376.6
    """
    return share_ppm * molar_mass_g_mol / molar_volume(LIST_TEMPERATURE_C)

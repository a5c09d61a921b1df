"""How fast a finish dries in given air, against its nominal time at 23 °C and 50 % humidity."""

from __future__ import annotations

from math import exp

from finplan.catalogue import DryingPace
from finplan.climate.air import saturation_pressure, wet_bulb
from finplan.climate.weather import STANDARD, Air

GAS_CONSTANT_J_MOL_K = 8.314462618
# Source: CODATA 2018, exact since the SI of 2019.
_ZERO_CELSIUS_K = 273.15


def rate_by_doubling(temperature_c: float, doubling_k: float) -> float:
    """Return the rate of drying against that at 23 °C where so many degrees double it. [-]

    Examples
    --------
    The 10 °C rule: a time of 16 h at 23 °C becomes 27.86 h at 15 °C.

    >>> 16 / rate_by_doubling(15.0, 10.0)
    27.86
    """
    return float(2.0 ** ((temperature_c - STANDARD.temperature_c) / doubling_k))


def rate_by_energy(temperature_c: float, energy_kj_mol: float) -> float:
    """Return the rate against that at 23 °C by an Arrhenius or Clausius-Clapeyron law. [-]

    Parameters
    ----------
    temperature_c
        Air temperature. [°C]
    energy_kj_mol
        Activation energy, or heat of vaporisation. [kJ/mol]

    Examples
    --------
    >>> 16 / rate_by_energy(15.0, 50.0)
    28.12
    """
    standard_k = STANDARD.temperature_c + _ZERO_CELSIUS_K
    exponent = energy_kj_mol * 1000 / GAS_CONSTANT_J_MOL_K * (1 / standard_k - 1 / (temperature_c + _ZERO_CELSIUS_K))
    return exp(exponent)


def rate_of_evaporation(air: Air) -> float:
    """Return the rate at which water leaves, against 23 °C and 50 % humidity. [-]

    The drive is the gap between the pressure of vapour at the film and that in the air. Evaporation cools the film to
    the wet-bulb temperature, where the heat that the air gives it is what evaporation takes.

    >>> rate_of_evaporation(Air(23.0, 80.0))
    0.37
    """
    return _drive_hpa(air) / _drive_hpa(STANDARD)


def _drive_hpa(air: Air) -> float:
    vapour_hpa = saturation_pressure(air.temperature_c) * air.humidity_pct / 100
    return max(saturation_pressure(wet_bulb(air.temperature_c, air.humidity_pct)) - vapour_hpa, 0.0)


def time_by_thickness(thickness_factor: float) -> float:
    """Return how many times as long a coat takes that is so many times as heavy as a nominal one. [-]

    What leaves a film or comes into it diffuses, so the time grows with the square of the way. A lighter coat counts as
    a nominal one: its edges and runs are not lighter.

    >>> time_by_thickness(2.0), time_by_thickness(0.8)
    (4.0, 1.0)
    """
    return max(thickness_factor, 1.0) ** 2


def drying_rate(pace: DryingPace, air: Air) -> float:
    """Return how fast what dries by a law does so in *air*, against its nominal time. [-]

    The law goes on in the cold, and falls off to nothing over the degrees over which the pace fades.
    """
    return _rate(pace, air) * _left_in_the_cold(pace, air.temperature_c)


def _rate(pace: DryingPace, air: Air) -> float:
    if pace.by == "water-evaporation":
        return rate_of_evaporation(air)
    if pace.by == "vapour-pressure":
        return rate_by_energy(air.temperature_c, _given(pace.enthalpy_kj_mol))
    if pace.by == "arrhenius":
        return rate_by_energy(air.temperature_c, _given(pace.energy_kj_mol))
    return rate_by_doubling(air.temperature_c, _given(pace.doubling))


def _left_in_the_cold(pace: DryingPace, temperature_c: float) -> float:
    fades = pace.fades_c
    if fades is None or temperature_c >= fades.high:
        return 1.0
    return max(temperature_c - fades.low, 0.0) / (fades.high - fades.low)


def _given(figure: float | None) -> float:
    if figure is None:
        msg = "the record of a pace lets none through without its figure"
        raise ValueError(msg)
    return figure

"""Moist air: vapour pressure, dew point and the moisture of wood in it."""

from __future__ import annotations

from functools import lru_cache

import psychrolib

_PA_PER_HPA = 100.0
_SEA_LEVEL_PA = 101325.0
_DRIEST_PCT = 1.0
"""Bone-dry air has no dew point; no meter of a shop tells such air from one per cent."""


@lru_cache(maxsize=2**16)
def saturation_pressure(temperature_c: float) -> float:
    """Return the pressure of water vapour in saturated air. [hPa]

    Parameters
    ----------
    temperature_c
        Air temperature. [°C], valid -100 to 200

    Notes
    -----
    Over water, and below its triple point over ice. Source: ASHRAE Handbook, Fundamentals (2017), chapter 1,
    equations 5 and 6, by psychrolib.

    Examples
    --------
    >>> saturation_pressure(23.0)
    28.11
    """
    psychrolib.SetUnitSystem(psychrolib.SI)  # a state of the whole process: set at every call
    return float(psychrolib.GetSatVapPres(temperature_c)) / _PA_PER_HPA


@lru_cache(maxsize=2**16)
def dew_point(temperature_c: float, humidity_pct: float) -> float:
    """Return the surface temperature below which this air wets the piece. [°C]

    Parameters
    ----------
    temperature_c
        Air temperature. [°C], valid -60 to 100
    humidity_pct
        Relative humidity. [%], 0 to 100; below 1 it counts as 1

    Notes
    -----
    The temperature at which ``saturation_pressure`` is the pressure of the vapour. Source: as there, by psychrolib.

    Examples
    --------
    >>> dew_point(20.0, 65.0)
    13.23
    """
    psychrolib.SetUnitSystem(psychrolib.SI)
    return float(psychrolib.GetTDewPointFromRelHum(temperature_c, max(humidity_pct, _DRIEST_PCT) / 100))


@lru_cache(maxsize=2**16)
def wet_bulb(temperature_c: float, humidity_pct: float) -> float:
    """Return the temperature to which evaporation cools what is wet with water in this air. [°C]

    Parameters
    ----------
    temperature_c
        Air temperature. [°C], valid -60 to 100
    humidity_pct
        Relative humidity. [%], 0 to 100

    Notes
    -----
    At the pressure of sea level. Source: ASHRAE Handbook, Fundamentals (2017), chapter 1, equations 33 and 35 solved
    for the wet bulb, by psychrolib.

    Examples
    --------
    >>> wet_bulb(23.0, 50.0)
    16.25
    """
    psychrolib.SetUnitSystem(psychrolib.SI)
    return float(psychrolib.GetTWetBulbFromRelHum(temperature_c, humidity_pct / 100, _SEA_LEVEL_PA))


def wood_moisture(temperature_c: float, humidity_pct: float) -> float:
    """Return the equilibrium moisture content of wood in this air. [%]

    Parameters
    ----------
    temperature_c
        Air temperature. [°C], valid -1 to 60
    humidity_pct
        Relative humidity. [%], valid 5 to 95

    Notes
    -----
    One fit for all species, without hysteresis.
    Source: USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), chapter 4, equation 4-5.

    Examples
    --------
    >>> wood_moisture(20.0, 50.0)
    9.271
    """
    t = temperature_c
    h = humidity_pct / 100
    w = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * h
    hydrated = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return 1800 / w * (kh / (1 - kh) + hydrated)

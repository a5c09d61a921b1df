"""Moist air: vapour pressure, dew point and the moisture of wood in it."""

from __future__ import annotations

from math import exp, log


def saturation_pressure(temperature_c: float) -> float:
    """Return the pressure of water vapour in saturated air over water. [hPa]

    Parameters
    ----------
    temperature_c
        Air temperature. [°C], valid -45 to 60

    Notes
    -----
    Magnus form ``6.1094 · exp(17.625 t / (243.04 + t))``.
    Source: O. A. Alduchov and R. E. Eskridge, Improved Magnus form approximation of saturation vapor pressure,
    J. Appl. Meteorol. 35 (1996) 601-609.

    Examples
    --------
    >>> saturation_pressure(23.0)
    28.04
    """
    return 6.1094 * exp(17.625 * temperature_c / (243.04 + temperature_c))


def dew_point(temperature_c: float, humidity_pct: float) -> float:
    """Return the surface temperature below which this air wets the piece. [°C]

    Parameters
    ----------
    temperature_c
        Air temperature. [°C], valid -45 to 60
    humidity_pct
        Relative humidity over water. [%], above 0 to 100

    Notes
    -----
    The Magnus form of ``saturation_pressure``, solved for the temperature. Source: as there.

    Examples
    --------
    >>> dew_point(20.0, 65.0)
    13.22
    """
    x = log(humidity_pct / 100) + 17.625 * temperature_c / (243.04 + temperature_c)
    return 243.04 * x / (17.625 - x)


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

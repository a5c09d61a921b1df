"""Showing quantities to people: in their units, to as many figures as they can use."""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction
from typing import Literal

from finplan.quantity import MM_PER_IN, Units

_FT2_PER_M2 = 1 / 0.3048**2
ML_PER_FL_OZ = 29.5735295625
ML_PER_QT = 946.352946
G_PER_OZ = 28.349523125
_ML_PER_L = 1000.0
_M3_PER_FT3 = 0.3048**3
_SMALL_AREA = 0.1
"""In either unit: below it a third figure is none that anybody can use."""


def round_figures(value: float, figures: int) -> float:
    """Return *value* rounded to so many significant figures.

    >>> round_figures(1234.5, 2), round_figures(0.04567, 2)
    (1200.0, 0.046)
    """
    if value == 0 or not math.isfinite(value):
        return value
    return round(value, figures - 1 - math.floor(math.log10(abs(value))))


def plain(value: float, figures: int = 3) -> str:
    """Return *value* to so many significant figures, without an exponent and without idle zeros.

    >>> plain(1234.5, 2), plain(0.0456), plain(3.0)
    ('1200', '0.0456', '3')
    """
    rounded = round_figures(value, figures)
    if rounded == 0:
        return "0"
    places = max(0, figures - 1 - math.floor(math.log10(abs(rounded))))
    text = f"{rounded:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def show_area(area_m2: float, units: Units) -> str:
    """Return an area as m² or ft², a small one to two figures.

    >>> show_area(0.950332, "metric"), show_area(0.950332, "us"), show_area(0.06, "metric")
    ('0.950 m²', '10.2 ft²', '0.06 m²')
    """
    value, unit = (area_m2, "m²") if units == "metric" else (area_m2 * _FT2_PER_M2, "ft²")
    if value < _SMALL_AREA:
        return f"{plain(round(value, 4), 2)} {unit}"
    places = max(0, 2 - math.floor(math.log10(abs(round_figures(value, 3)))))
    return f"{round_figures(value, 3):.{min(places, 4)}f} {unit}"


def show_rough_area(area_m2: float, units: Units) -> str:
    """Return an area of which two figures are known, as m² or ft².

    >>> show_rough_area(0.1333, "metric"), show_rough_area(0.1333, "us")
    ('0.13 m²', '1.4 ft²')
    """
    value, unit = (area_m2, "m²") if units == "metric" else (area_m2 * _FT2_PER_M2, "ft²")
    return f"{plain(value, 2)} {unit}"


def inch_fraction(length_mm: float, denominator: int = 16) -> str:
    """Return a length as whole inches and a fraction.

    >>> inch_fraction(1384.3), inch_fraction(19.05), inch_fraction(25.4)
    ('54-1/2', '3/4', '1')
    """
    nearest = round(Fraction(length_mm / MM_PER_IN) * denominator)
    whole, rest = divmod(nearest, denominator)
    if not rest:
        return str(whole)
    fraction = Fraction(rest, denominator)
    return f"{whole}-{fraction}" if whole else f"{fraction}"


def show_length(length_mm: float, units: Units) -> str:
    """Return a length as millimetres, or as inches with a fraction to the sixteenth.

    >>> show_length(1100.0, "metric"), show_length(1384.3, "us"), show_length(0.5, "us")
    ('1100 mm', '54-1/2 in', '0.02 in')
    """
    if units == "metric":
        return f"{plain(length_mm, 4 if length_mm >= 100 else 3)} mm"
    if length_mm < MM_PER_IN / 16:
        return f"{plain(length_mm / MM_PER_IN, 2)} in"
    return f"{inch_fraction(length_mm)} in"


def show_volume(volume_ml: float, units: Units, like_ml: float | None = None) -> str:
    """Return a volume as ml or litres, or as US fluid ounces, quarts or gallons, to two or three figures.

    Parameters
    ----------
    volume_ml, units
        The volume, and whose units
    like_ml
        The volume in whose unit it is shown, where several stand in a row; by default its own. [ml]

    Examples
    --------
    >>> show_volume(263.4, "metric"), show_volume(1840.0, "metric"), show_volume(263.4, "us")
    ('263 ml', '1.84 L', '8.9 fl oz')
    >>> show_volume(712.0, "metric", 1050.0), show_volume(1700.0, "us", 2000.0)
    ('0.712 L', '1.8 qt')
    """
    like_ml = volume_ml if like_ml is None else like_ml
    if units == "metric":
        return f"{plain(volume_ml / _ML_PER_L)} L" if like_ml >= _ML_PER_L else f"{plain(volume_ml)} ml"
    if like_ml >= 4 * ML_PER_QT:
        return f"{plain(volume_ml / (4 * ML_PER_QT))} gal"
    if like_ml >= 2 * ML_PER_QT:
        return f"{plain(volume_ml / ML_PER_QT)} qt"
    return f"{plain(volume_ml / ML_PER_FL_OZ, 2)} fl oz"


def show_measured(volume_ml: float, units: Units) -> str:
    """Return a volume that is measured out as the marks of a cup name it, fluid ounces to the eighth.

    >>> show_measured(68.0, "metric"), show_measured(18.483, "us"), show_measured(81.33, "us")
    ('68 ml', '5/8 fl oz', '2-3/4 fl oz')
    """
    if units == "metric":
        return show_volume(volume_ml, units)
    whole, rest = divmod(max(1, round(volume_ml / ML_PER_FL_OZ * 8)), 8)
    texts = [str(whole)] if whole else []
    texts += [str(Fraction(rest, 8))] if rest else []
    return f"{'-'.join(texts)} fl oz"


def show_pack(volume_ml: float, units: Units) -> str:
    """Return a pack by the name under which it is sold.

    >>> show_pack(946.352946, "us"), show_pack(750.0, "us"), show_pack(750.0, "metric")
    ('quart', '25 fl oz', '750 ml')
    """
    names = {0.25: "half pint", 0.5: "pint", 1.0: "quart", 4.0: "gallon", 20.0: "5-gallon pail"}
    quarts = round(volume_ml / ML_PER_QT, 4)
    return names[quarts] if units == "us" and quarts in names else show_volume(volume_ml, units)


def show_mass(mass_g: float, units: Units, like_g: float | None = None) -> str:
    """Return a mass as g or kg, or as oz or lb; in the unit of another one where several stand in a row.

    >>> show_mass(169.0, "metric"), show_mass(169.0, "us"), show_mass(169.0, "us", 500.0)
    ('169 g', '6 oz', '0.373 lb')
    """
    like_g = mass_g if like_g is None else like_g
    if units == "metric":
        return f"{plain(mass_g / 1000)} kg" if like_g >= 1000 else f"{plain(mass_g)} g"
    ounces = mass_g / G_PER_OZ
    return f"{plain(ounces / 16)} lb" if like_g / G_PER_OZ >= 16 else f"{plain(ounces, 2)} oz"


def show_amount(amount: float, measure: Literal["ml", "g"], units: Units, like: float | None = None) -> str:
    """Return an amount of a material by how it is measured, in the unit of another one where several stand in a row.

    >>> show_amount(263.4, "ml", "metric"), show_amount(0.0, "g", "metric"), show_amount(169.0, "g", "us")
    ('263 ml', '0 g', '6 oz')
    """
    return show_volume(amount, units, like) if measure == "ml" else show_mass(amount, units, like)


def show_pack_of(size: float, measure: Literal["ml", "g"], units: Units) -> str:
    """Return a pack of a material by how it is measured.

    >>> show_pack_of(946.352946, "ml", "us"), show_pack_of(453.59237, "g", "us")
    ('quart', '1 lb')
    """
    return show_pack(size, units) if measure == "ml" else show_mass(size, units)


def show_film(thickness_um: float, units: Units) -> str:
    """Return how thick a film is, to two figures.

    >>> show_film(102.0, "metric"), show_film(102.0, "us")
    ('100 µm', '4 mil')
    """
    if units == "metric":
        return f"{plain(thickness_um, 2)} µm"
    return f"{plain(thickness_um / MM_PER_IN, 2)} mil"


def show_strength(strength_g_l: float, units: Units) -> str:
    """Return how much of a solid goes into how much of a liquid.

    >>> show_strength(239.7, "metric"), show_strength(239.7, "us")
    ('240 g to a litre', '8 oz to a quart')
    """
    if units == "metric":
        return f"{plain(strength_g_l)} g to a litre"
    return f"{plain(strength_g_l * ML_PER_QT / _ML_PER_L / G_PER_OZ, 2)} oz to a quart"


def show_temperature(temperature_c: float, units: Units) -> str:
    """Return a temperature in whole degrees.

    >>> show_temperature(18.0, "metric"), show_temperature(18.0, "us")
    ('18 °C', '64 °F')
    """
    return f"{temperature_c:.0f} °C" if units == "metric" else f"{temperature_c * 9 / 5 + 32:.0f} °F"


def show_warmer(degrees_c: float, units: Units) -> str:
    """Return a difference of temperatures, up to a tenth.

    >>> show_warmer(5, "metric"), show_warmer(5, "us"), show_warmer(2, "us")
    ('5 °C', '9 °F', '3.6 °F')
    """
    return f"{degrees_c:g} °C" if units == "metric" else f"{degrees_c * 9 / 5:.3g} °F"


def show_duration(duration_h: float) -> str:
    """Return a duration as a person says it.

    >>> show_duration(0.25), show_duration(1.5), show_duration(27.9), show_duration(240.0)
    ('15 min', '1 h 30 min', '28 h', '10 days')
    """
    if duration_h >= 72:
        return f"{plain(duration_h / 24, 2)} days"
    if duration_h >= 10:
        return f"{duration_h:.0f} h"
    hours, minutes = divmod(round(duration_h * 60), 60)
    if hours and minutes:
        return f"{hours} h {minutes:02d} min"
    return f"{hours} h" if hours else f"{minutes} min"


_LITTLE = 1e-6


def show_working_time(hours: float, day_h: float, cut: Callable[[float], int] = math.floor) -> str:
    """Return time in which somebody works in days of a shop; below one in hours.

    Parameters
    ----------
    hours
        The time. [h]
    day_h
        How long somebody works on a day on which anybody does. [h]
    cut
        To which side it is cut to a tenth: that which promises no more than there is

    Examples
    --------
    >>> show_working_time(96.0, 8.0), show_working_time(8.0, 8.0), show_working_time(2.5, 8.0)
    ('12 working days', '1 working day', '2.5 working hours')
    """
    if hours >= day_h - _LITTLE:
        return _counted(hours / day_h, "working day", cut)
    return _counted(hours, "working hour", cut)


def show_clock_time(hours: float, cut: Callable[[float], int] = math.floor) -> str:
    """Return time by the clock in days; below one in hours.

    >>> show_clock_time(36.0), show_clock_time(2.0)
    ('1.5 days', '2 hours')
    """
    return _counted(hours / 24, "day", cut) if hours >= 24 - _LITTLE else _counted(hours, "hour", cut)


def _counted(amount: float, unit: str, cut: Callable[[float], int]) -> str:
    tenths = cut(round(amount * 10, 6)) / 10
    return f"{plain(tenths)} {unit}" + ("" if tenths == 1 else "s")


def show_spread_rate(rate_m2_l: float, units: Units) -> str:
    """Return a spread rate as m² per litre or ft² per US gallon.

    >>> show_spread_rate(12.0, "metric"), show_spread_rate(12.0, "us")
    ('12 m²/L', '490 ft²/gal')
    """
    if units == "metric":
        return f"{plain(rate_m2_l)} m²/L"
    return f"{plain(rate_m2_l * _FT2_PER_M2 * 3.785411784, 2)} ft²/gal"


def show_flow(flow_m3_h: float, units: Units) -> str:
    """Return a flow of air as m³/h or cubic feet a minute, rounded up to two figures: it is what has to come in.

    >>> show_flow(214.2, "metric"), show_flow(214.2, "us"), show_flow(0.0, "metric")
    ('220 m³/h', '130 cfm', '0 m³/h')
    """
    value, unit = (flow_m3_h, "m³/h") if units == "metric" else (flow_m3_h / _M3_PER_FT3 / 60, "cfm")
    return f"{plain(round_up(value, 2), 2)} {unit}"


def show_speed(speed_m_s: float, units: Units) -> str:
    """Return how fast air moves, as m/s or feet a minute.

    >>> show_speed(0.508, "metric"), show_speed(0.508, "us")
    ('0.51 m/s', '100 ft/min')
    """
    if units == "metric":
        return f"{plain(speed_m_s, 2)} m/s"
    return f"{plain(speed_m_s * 60 / 0.3048, 2)} ft/min"


def show_air(volume_m3: float, units: Units) -> str:
    """Return a volume of air as m³ or ft³, to two figures.

    >>> show_air(60.0, "metric"), show_air(60.0, "us")
    ('60 m³', '2100 ft³')
    """
    value, unit = (volume_m3, "m³") if units == "metric" else (volume_m3 / _M3_PER_FT3, "ft³")
    return f"{plain(value, 2)} {unit}"


def show_share(share: float) -> str:
    """Return how much of a limit there is, rounded up: in whole percent of it, and beyond it as times.

    >>> show_share(0.214), show_share(1.31), show_share(12.4), show_share(0.0001)
    ('22 %', '1.4 times', '13 times', 'under 1 %')
    """
    if share < 0.01:
        return "under 1 %"
    percent = _percent(share)
    return f"{percent} %" if percent <= 100 else f"{plain(round_up(share, 2), 2)} times"


def show_of_limit(share: float, limit: str) -> str:
    """Return the same with the limit.

    >>> show_of_limit(0.214, "the limit"), show_of_limit(1.31, "the limit")
    ('22 % of the limit', '1.4 times the limit')
    """
    return f"{show_share(share)} {'of ' if _percent(share) <= 100 else ''}{limit}"


def _percent(share: float) -> int:
    """Return a share rounded up, which forgets what rounding alone adds."""
    return math.ceil(share * 100 - 1e-9)


def round_up(value: float, figures: int) -> float:
    """Return *value* rounded up to so many significant figures.

    >>> round_up(214.2, 2), round_up(210.0, 2)
    (220.0, 210.0)
    """
    if value == 0 or not math.isfinite(value):
        return value
    step = 10.0 ** (math.floor(math.log10(abs(value))) - figures + 1)
    return round_figures(math.ceil(value / step - 1e-9) * step, figures)


def capital(text: str) -> str:
    """Return *text* with a capital at its beginning, the rest as it is."""
    return text[:1].upper() + text[1:]

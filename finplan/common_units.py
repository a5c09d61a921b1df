"""The units that files mostly use, with what one of each is in the unit of its kind.

What is written here needs no unit library, which takes longer to load than a whole catalogue to read. Exact, as in
``units.txt``; a test holds every one against it.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

_INCH_MM = Fraction("25.4")
_POUND_G = Fraction("453.59237")
_US_GALLON_ML = 231 * (_INCH_MM / 10) ** 3

COMMON_UNITS: Mapping[str, Mapping[str, Fraction]] = {
    "mm": {
        "mm": Fraction(1),
        "cm": Fraction(10),
        "m": Fraction(1000),
        "um": Fraction(1, 1000),
        "in": _INCH_MM,
        '"': _INCH_MM,
        "ft": 12 * _INCH_MM,
        "'": 12 * _INCH_MM,
    },
    "m**2": {"m2": Fraction(1)},
    "ml": {
        "ml": Fraction(1),
        "l": Fraction(1000),
        "m3": Fraction(1_000_000),
        "gallon": _US_GALLON_ML,
        "quart": _US_GALLON_ML / 4,
        "pint": _US_GALLON_ML / 8,
        "half pint": _US_GALLON_ML / 16,
    },
    "g": {"g": Fraction(1), "kg": Fraction(1000), "lb": _POUND_G, "oz": _POUND_G / 16},
    "degC": {"degC": Fraction(1), "°C": Fraction(1)},
    "h": {"h": Fraction(1), "min": Fraction(1, 60), "d": Fraction(24), "mo": Fraction(30 * 24)},
    "percent": {"%": Fraction(1)},
    "m**3/h": {"m3/h": Fraction(1)},
    "m**2/l": {"m2/l": Fraction(1)},
    "g/l": {"g/l": Fraction(1), "lb/gal": 1000 * _POUND_G / _US_GALLON_ML},
    "m**2/h": {"m2/h": Fraction(1)},
    "1/m**2": {"per m2": Fraction(1)},
    "g/mol": {"g/mol": Fraction(1)},
    "kPa": {"kPa": Fraction(1), "mmHg": Fraction("0.133322387415")},
    "ppm": {"ppm": Fraction(1)},
    "mg/m**3": {"mg/m3": Fraction(1)},
}
"""By the unit of a kind, how many of it are one of each unit of that kind; zero is zero in all of them."""

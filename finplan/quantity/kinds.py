"""Kinds of quantities, each with the one unit in which it is held inside, and what is said where text is none of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Units = Literal["metric", "us"]
MM_PER_IN = 25.4
"""Of the international inch, exactly."""


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of quantity and the one unit in which it is held inside."""

    name: str
    unit: str
    example: str


LENGTH = Kind("a length", "mm", "28 mm or 1-1/8 in")
AREA = Kind("an area", "m**2", "0.8 m2 or 12 ft2")
VOLUME = Kind("a volume", "ml", "250 ml or 1 US quart")
MASS = Kind("a mass", "g", "500 g or 2 lb")
TEMPERATURE = Kind("a temperature", "degC", "18 degC or 65 degF")
DURATION = Kind("a duration", "h", "45 min, 16 h or 7 d")
PERCENTAGE = Kind("a percentage", "percent", "55 %")
FLOW = Kind("a flow", "m**3/h", "300 m3/h")
SPREAD_RATE = Kind("a spread rate", "m**2/l", "12 m2/l or 500 ft2/gal")
CONCENTRATION = Kind("a concentration", "g/l", "450 g/l")
VELOCITY = Kind("a velocity", "m/s", "0.5 m/s or 100 ft/min")
SPEED = Kind("an area per time", "m**2/h", "8 m2/h")
MASS_PER_TIME = Kind("a mass per time", "g/min", "3 g/min")
PER_AREA = Kind("a number per area", "1/m**2", "0.5 per m2")
MOLAR_MASS = Kind("a molar mass", "g/mol", "92.1 g/mol")
PRESSURE = Kind("a pressure", "kPa", "2.9 kPa or 22 mmHg")
SHARE_OF_AIR = Kind("a share of the air", "ppm", "100 ppm")
MASS_IN_AIR = Kind("a mass in the air", "mg/m**3", "350 mg/m3")
RATIO = Kind("a plain number", "one", "1.5")
PLAIN = (LENGTH, AREA, VOLUME, MASS, TEMPERATURE, DURATION)
"""Kinds of which no two share a unit."""


class QuantityError(ValueError):
    """Text that is not the quantity wanted: what is wrong, and what is expected."""

    def __init__(self, wrong: str, expected: str) -> None:
        self.wrong = wrong
        self.expected = expected
        super().__init__(f"{wrong}; {expected}")


def not_a(kind: Kind, quoted: str, *, bare_unit: str | None = None) -> QuantityError:
    """Return what is said of text that is no quantity of a kind."""
    also = f", or a bare number of {bare_unit}" if bare_unit else ""
    return QuantityError(f"{quoted} is not {kind.name}", f"expected {kind.name} such as {kind.example}{also}")

"""What the air has against a coat, as facts; telling words them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class OutsideLimits:
    """The air is outside what the finish may be put on in. Temperatures in °C, humidities in %."""

    of: Literal["temperature", "humidity"]
    value: float
    low: float
    high: float
    later: bool
    """Whether only before all of it is on, not as it is begun."""


@dataclass(frozen=True, slots=True)
class NearDewPoint:
    """The air comes near its dew point before the coat is dust-free."""

    margin_c: float
    """How near, to a tenth. [°C]"""


@dataclass(frozen=True, slots=True)
class FilmFails:
    """It gets too cold for the film to form before the coat is through-dry."""

    air_c: float
    above_c: float
    """What its film asks for."""


Objection = OutsideLimits | NearDewPoint | FilmFails

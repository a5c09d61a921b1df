"""Air in the room: how clean it has to be, how well it mixes, and how fast solvent gets into it."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from finplan.catalogue.record import Sourced
from finplan.reading import Percentage, TemperatureC

AirLimit = Literal["lower-flammable-limit", "occupational-limit"]


class AirTarget(Sourced):
    """How much vapour the air may hold for something, as a share of a limit."""

    limit: AirLimit
    """Of which limit: that above which vapour burns, or that which may be breathed."""
    share_pct: Percentage = Field(gt=0)
    """How much of it the air may hold."""
    short_times: float = Field(1.0, ge=1, le=5)
    """How many times as much it may hold for a short time, where no limit of its own is stricter."""
    air_changes: float = Field(0.0, ge=0, le=100)
    """How often the air of the room has to be changed at least, however little it holds."""


class MixingFactor(Sourced):
    """How much more air it takes because fresh air does not reach all of a room alike."""

    factor: float = Field(ge=1, le=20)
    """1 where every breath of fresh air mixes at once with all of the room."""


class Evaporation(Sourced):
    """How fast solvent leaves a wet coat, and at what temperature vapour is reckoned."""

    by_dust_free_pct: Percentage = Field(gt=0, lt=100)
    """How much has left when dust no longer sticks; it leaves in proportion to what is still there."""
    draught: float = Field(gt=0.01, le=10_000)
    """Metres of air an hour that carry vapour off a wet surface, saturated: it evaporates no faster than that."""
    temperature_c: TemperatureC
    """Of the air in which vapour is measured, at one atmosphere."""


class Respirator(Sourced):
    """Breathing protection against vapour."""

    factor: float = Field(gt=1, le=10_000)
    """How many times the limit the air may hold where it is worn: its assigned protection factor."""

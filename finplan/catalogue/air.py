"""Air in the room: how clean it has to be, how well it mixes, and how fast solvent gets into it."""

import math
from typing import Literal

from pydantic import Field

from finplan.catalogue.ranges import FlowRange
from finplan.catalogue.record import Sourced
from finplan.reading import AreaM2, DurationH, LengthMm, Percentage, Sentence, TemperatureC, VelocityMS

AirLimit = Literal["lower-flammable-limit", "occupational-limit"]


class AirTarget(Sourced):
    """How much vapour the air may hold for something, as a share of a limit."""

    limit: AirLimit
    """Of which limit: that above which vapour burns, or that which may be breathed."""
    share_pct: Percentage = Field(gt=0)
    """How much of it the air may hold."""
    short_times: float = Field(1.0, ge=1, le=5)
    """How many times as much it may hold for a short time, where no limit of its own is stricter."""
    margin: float = Field(1.0, ge=1, le=10)
    """By how much less than that it has to hold before it is called enough, as it is usually used."""
    over_h: DurationH = 0.0
    """Over how long what is breathed is a mean, the worst of a day; 0 of what holds at every moment."""
    short_over_h: DurationH = 0.0
    """Likewise of a limit for a short time."""
    air_changes: float = Field(0.0, ge=0, le=100)
    """How often the air of the room has to be changed at least, however little it holds."""


class NearZone(Sourced):
    """The air within the reach of who works, and how fast it is exchanged with that of the room."""

    flow_m3_h: FlowRange
    """How much of it is exchanged."""
    reach_mm: LengthMm
    """The radius of the half ball that it fills."""
    from_air_changes: float = Field(ge=0, le=1000)
    """From how many changes of the room's air an hour on it is exchanged like that."""

    @property
    def volume_m3(self) -> float:
        """Of the half ball."""
        return 2 / 3 * math.pi * (self.reach_mm / 1000) ** 3


class Exhaust(Sourced):
    """What draws vapour off where it comes from."""

    velocity_m_s: VelocityMS
    """How fast air has to move there at least."""
    captures_pct: Percentage
    """How much of the vapour then goes with it."""
    face_m2: AreaM2 | None = None
    """Of a booth, how large its open side usually is."""
    text: Sentence | None = None
    """Of a booth, what holds where somebody sprays without it all the same."""


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

"""How fast solvent gets into the air of a room: one stretch of putting on or cleaning, and what dries after it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from finplan.catalogue import Evaporation, Finish, Solvent
from finplan.quantity import Range
from finplan.safety.vapour import saturated


@dataclass(frozen=True, slots=True)
class Emission:
    """What one stretch of work sets free of one solvent in one room. Times in h from any moment on."""

    id: str
    """Of the row of the timetable."""
    room: str
    start_h: float
    end_h: float
    """When it is put on; at once where the two are the same."""
    gone_h: float
    """By when its solvent is reckoned to be in the air: when the coat is dust-free, later where it is a slow one."""
    decay_h: float
    """The time in which what is still wet gives off 63 % of its solvent; 0 where that happens at once."""
    solvent: str
    mass_g: Range
    booth_only: bool = False
    """Whether it is a spray of what burns or holds isocyanate, for which an open room never does."""
    sprayed: bool = False
    """Whether a gun puts it on."""
    booth_asked: bool = False
    """Whether it belongs in a booth: such a spray, and the cleaning of its gun."""
    at_booth: bool = False
    """Whether a booth draws it off where the room has one: any spray, and the cleaning of its gun."""
    isocyanate: bool = False
    """Whether a hardener is in it for which no reckoning of solvent answers."""
    carried: bool = False
    """Whether it is what a coat still holds when it has been carried to where it dries."""

    def rising(self, at_h: float) -> float:
        """Return the share that leaves in an hour while it is put on, at a moment between start and end. [1/h]"""
        worked_h = self.end_h - self.start_h
        if self.decay_h == 0:
            return 1 / worked_h
        return -math.expm1(-(at_h - self.start_h) / self.decay_h) / worked_h

    def falling(self, at_h: float) -> float:
        """Return the share that leaves in an hour after it was put on, at a moment from the end on. [1/h]"""
        if self.decay_h == 0:
            return 0.0
        first = 1 / self.decay_h if self.start_h == self.end_h else self.rising(self.end_h)
        return first * math.exp(-(at_h - self.end_h) / self.decay_h)

    @property
    def still_wet(self) -> float:
        """The share that is still in the coat when all of it has been put on."""
        if self.decay_h == 0:
            return 0.0
        return self.falling(self.end_h) * self.decay_h


def decay_hours(finish: Finish, evaporation: Evaporation) -> float:
    """Return the time in which a wet coat gives off 63 % of the solvent that it holds: the quick end of its drying. [h]

    Parameters
    ----------
    finish
        With its drying times
    evaporation
        How much has left by dust-free

    Notes
    -----
    Solvent leaves in proportion to what is still there, ``m = m0 · exp(-t / τ)``, and a share p has left when the coat
    is dust-free: ``τ = t / ln(1 / (1 - p))``. That puts most of it at the beginning, where it counts; an even rate over
    the drying would show a peak of about a third.
    """
    dry_h = (finish.dust_free_h or finish.touch_dry_h).low
    return dry_h / math.log(1 / (1 - evaporation.by_dust_free_pct / 100))


def slowed_hours(
    decay_h: float, mass_g: float, area_m2: float, solvent: Solvent | None, evaporation: Evaporation
) -> float:
    """Return the time in which a coat gives off 63 % of a solvent, no faster than air carries it off. [h]

    Parameters
    ----------
    decay_h
        That of the coat. [h]
    mass_g, area_m2
        Of the solvent in the coat, and how far that is spread. [g, m²]
    solvent
        Its record; None where there is none
    evaporation
        How much air carries it off

    Notes
    -----
    ``m / (k · c · A)`` with the air c saturated, if that is longer. It slows what hardly evaporates, as the glycol
    ethers of waterborne finishes do, and nothing else.
    """
    if solvent is None or not area_m2:
        return decay_h
    over_it_g_m3 = saturated(solvent.vapour_pressure_kpa.high, solvent.molar_mass_g_mol.high, evaporation.temperature_c)
    return max(decay_h, mass_g / (evaporation.draught * over_it_g_m3 * area_m2))

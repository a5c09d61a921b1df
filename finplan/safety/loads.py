"""What a mass of vapour does to a room: the fresh air it takes, and how much of each limit it uses up."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.catalogue import Catalogue
from finplan.safety.solvents import Vapours, breathing_limits
from finplan.safety.vapour import fire_air, health_air, vapour_volume


@dataclass(frozen=True, slots=True)
class FreshAir:
    """Fresh air that something takes: to stay below what burns (rule, planning target), and to be breathed.

    In m³, or in m³/h where the name of the field that holds it says so. ``health`` is None where no limit is known.
    """

    fire: float
    target: float
    health: float | None


@dataclass(frozen=True, slots=True)
class Loads:
    """What a mass of vapour takes of air, evenly mixed or by the mixing factor. [m³]"""

    air: FreshAir
    """To be breathed all day."""
    short: float | None
    """To be breathed for a short time; None where no limit is known."""
    fire_limit: float
    """What it would bring to the lower flammable limit, evenly mixed."""
    health_limit: float | None
    """What it would bring to the limit for the day, evenly mixed."""


def loads(vapours: Vapours, mixing: float, catalogue: Catalogue) -> Loads:
    """Return what vapours do to a room; what is not known of a solvent makes the whole unknown, never nothing.

    Parameters
    ----------
    vapours
        Masses by solvent; the high of each is taken
    mixing
        The mixing factor of the room
    catalogue
        Where solvents, targets and the temperature are

    Notes
    -----
    Air against fire is ``Σ (100 - LEL) V / (share · LEL)``, which for a mixture is the same as the rule with the limit
    of Le Chatelier; air to breathe is ``Σ K G / C``, which keeps ``Σ C / L`` at 1. Sources: 29 CFR 1910.94(c)(6)(ii),
    29 CFR 1910.1000(d)(2).
    """
    targets = catalogue.air_targets
    temperature_c = catalogue.evaporation["coat"].temperature_c
    fire = target = fire_limit = day = short = health_limit = 0.0
    known = True
    for name, mass_g in vapours.items():
        solvent = catalogue.solvents.get(name)
        limits = None if solvent is None else breathing_limits(solvent, targets["breathing"])
        if limits is None:
            known = False
        else:
            mass_mg = mass_g.high * 1000
            day += health_air(mass_mg, limits.day, mixing)
            short += health_air(mass_mg, limits.short, mixing)
            health_limit += mass_mg / limits.day
        if solvent is not None and solvent.lower_flammable_limit_pct is not None:
            limit_pct = solvent.lower_flammable_limit_pct.low
            volume_m3 = vapour_volume(mass_g.high, solvent.molar_mass_g_mol.low, temperature_c)
            fire += fire_air(volume_m3, limit_pct, targets["fire"].share_pct / 100)
            target += fire_air(volume_m3, limit_pct, targets["planning"].share_pct / 100)
            fire_limit += volume_m3 / (limit_pct / 100)
    if not known:
        return Loads(FreshAir(fire, target, None), None, fire_limit, None)
    return Loads(FreshAir(fire, target, day), short, fire_limit, health_limit)

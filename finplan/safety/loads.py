"""What a mass of vapour does to a room: how much air it would bring to each limit, and the fresh air it takes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from finplan.catalogue import Catalogue
from finplan.safety.solvents import breathing_limits
from finplan.safety.vapour import fire_air, health_air, vapour_volume


@dataclass(frozen=True, slots=True)
class FreshAir:
    """Fresh air that something takes: to stay below what burns (rule, planning target), and to be breathed.

    In m³, or in m³/h where the name of the field that holds it says so. None where it is not known, or where no fresh
    air in the room does.
    """

    fire: float | None
    target: float | None
    health: float | None


@dataclass(frozen=True, slots=True)
class Loads:
    """How much air a mass of vapour would bring to each limit, evenly mixed. [m³]"""

    fire: float
    """To the lower flammable limit."""
    short: float | None
    """To what may be breathed for a short time; None where no limit is known."""
    day: float | None
    """To what may be breathed all day; likewise."""
    air: FreshAir
    """The fresh air that dilutes it, by the rules. [m³]"""


def loads(mass_g: Mapping[str, float], catalogue: Catalogue) -> Loads:
    """Return what vapours do to a room; what is not known of a solvent makes the whole unknown, never nothing.

    Parameters
    ----------
    mass_g
        Masses by solvent. [g]
    catalogue
        Where solvents, targets and the temperature are

    Notes
    -----
    Air against fire is ``Σ (100 - LEL) V / (share · LEL)``, which for a mixture is the same as the rule with the limit
    of Le Chatelier; air to breathe is ``Σ G / C``, which keeps ``Σ C / L`` at 1. Sources: 29 CFR 1910.94(c)(6)(ii),
    29 CFR 1910.1000(d)(2). The lowest published flammable limit and the strictest occupational limit are taken.
    """
    targets = catalogue.air_targets
    temperature_c = catalogue.evaporation["coat"].temperature_c
    fire = target = at_fire = day = short = 0.0
    known = True
    for name, grams in mass_g.items():
        solvent = catalogue.solvents.get(name)
        limits = None if solvent is None else breathing_limits(solvent, targets["breathing"])
        if limits is None:
            known = False
        else:
            day += health_air(grams * 1000, limits.day)
            short += health_air(grams * 1000, limits.short)
        if solvent is not None and solvent.lower_flammable_limit_pct is not None:
            limit_pct = solvent.lower_flammable_limit_pct.low
            volume_m3 = vapour_volume(grams, solvent.molar_mass_g_mol.low, temperature_c)
            fire += fire_air(volume_m3, limit_pct, targets["fire"].share_pct / 100)
            target += fire_air(volume_m3, limit_pct, targets["planning"].share_pct / 100)
            at_fire += volume_m3 / (limit_pct / 100)
    if not known:
        return Loads(at_fire, None, None, FreshAir(fire, target, None))
    return Loads(at_fire, short, day, FreshAir(fire, target, day))

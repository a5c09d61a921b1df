"""Which solvents get into the air, and how much of each may be breathed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from finplan.catalogue import AirTarget, Catalogue, Finish, Solvent
from finplan.quantity import Range
from finplan.safety.vapour import mass_in_air

WATER = "water"
"""The one solvent whose vapour harms nobody."""
UNKNOWN = "unknown"
"""Stands for what is not known to be any record: it has no limits, so that nothing with it in passes."""

Vapours = Mapping[str, Range]
"""Masses of vapour by solvent, the water left out. [g]"""


def thinner_of(finish: Finish) -> str | None:
    """Return the record of what thins a finish; of its own thinner, of which there is none, what it holds most of."""
    if finish.thinner_solvent is not None:
        return None if finish.thinner_solvent == WATER else finish.thinner_solvent
    return finish.voc_solvent or UNKNOWN if finish.thinner is not None else None


def cleaner_of(finish: Finish) -> str | None:
    """Return the record of what cleans the tools, likewise; None for water."""
    if finish.clean_up_solvent is not None:
        return None if finish.clean_up_solvent == WATER else finish.clean_up_solvent
    return finish.voc_solvent or UNKNOWN


def burns_cold(name: str, catalogue: Catalogue) -> bool:
    """Return whether the vapour of a solvent burns in a shop; of what is not known it has to be taken for granted."""
    solvent = catalogue.solvents.get(name)
    return solvent is None or solvent.burns_cold


def parts_of(name: str, mass_g: Range, catalogue: Catalogue) -> dict[str, Range]:
    """Return a mass of a solvent by what it holds: a blend by its components, which evaporate in the end."""
    solvent = catalogue.solvents.get(name)
    if solvent is None or not solvent.components:
        return {name: mass_g}
    weights = {
        part: volume * catalogue.solvents[part].density_g_l.typical for part, volume in solvent.components.items()
    }
    total = sum(weights.values())
    return {part: mass_g.scaled(weight / total) for part, weight in weights.items() if part != WATER}


def added_up(vapours: Iterable[Vapours]) -> dict[str, Range]:
    """Return vapours added up, solvent by solvent."""
    sums: dict[str, Range] = {}
    for vapour in vapours:
        for name, mass_g in vapour.items():
            sums[name] = sums[name].plus(mass_g) if name in sums else mass_g
    return sums


@dataclass(frozen=True, slots=True)
class Breathing:
    """The most of a solvent that may be breathed. [mg/m³]"""

    day: float
    """As a mean over a working day."""
    short: float
    """For a short time."""


def breathing_limits(solvent: Solvent, target: AirTarget) -> Breathing | None:
    """Return the strictest that any body lets a person breathe; None where none sets a limit.

    That of the AIHA counts only where the others set none.

    Parameters
    ----------
    solvent
        With its limits; where there is one for 15 minutes only, it counts for the day too
    target
        How much of a limit the air may hold, and how many times a limit for the day for a short time

    Notes
    -----
    The body whose rule the excursions are may set no limit for a short time with its limit for the day: then its
    excursion holds in its place. Where nobody sets one, the excursion of the strictest day does. Limits in ppm are
    turned into mass by the molar volume at 25 °C and one atmosphere, as the lists do. Sources: ``acgih-excursions``;
    ``niosh-pocket-guide``, conversion factors.
    """
    limits = solvent.limits
    if limits is None:
        return None

    def mass(ppm: float | None) -> float | None:
        return None if ppm is None else mass_in_air(ppm, solvent.molar_mass_g_mol.typical)

    acgih, acgih_short = mass(limits.acgih_ppm), mass(limits.acgih_short_ppm)
    if acgih is not None and acgih_short is None:
        acgih_short = acgih * target.short_times
    days = [mass(limits.osha_ppm), mass(limits.niosh_ppm), limits.niosh_mass_mg_m3, acgih]
    shorts = [mass(limits.niosh_short_ppm), limits.niosh_short_mass_mg_m3, acgih_short]
    whole_days = [limit for limit in days if limit is not None]
    found_short = [limit for limit in shorts if limit is not None]
    if not whole_days and not found_short and limits.aiha_ppm is not None:
        whole_days = [mass_in_air(limits.aiha_ppm, solvent.molar_mass_g_mol.typical)]
    if not whole_days and not found_short:
        return None
    day = min(whole_days or found_short)
    share = target.share_pct / 100
    return Breathing(day * share, min(found_short, default=day * target.short_times) * share)

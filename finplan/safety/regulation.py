"""What rules let a finish hold of organic vapour, for information: ready to use, with its thinner."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from finplan.catalogue import Catalogue, Finish
from finplan.quantity import Range
from finplan.safety.solvents import thinner_of
from finplan.system import Treatment

VocStanding = Literal["within", "depends on the tin", "above"]
"""Whether all, some or none of what this type of finish holds is within a limit."""


@dataclass(frozen=True, slots=True)
class VocLine:
    """One limit for one finish."""

    finish: str
    title: str
    jurisdiction: str
    category: str
    limit_g_l: float
    voc_g_l: Range
    """As the rule counts it, at the most that it is thinned here."""
    standing: VocStanding
    source: str


def voc_lines(treatments: Iterable[Treatment], catalogue: Catalogue) -> tuple[VocLine, ...]:
    """Return every limit whose category the finishes of a plan fall into."""
    thinned: dict[str, float] = {}
    for treatment in treatments:
        for step in treatment.steps:
            if step.finish is not None:
                thinned[step.finish] = max(step.recipe.thin_pct / 100, thinned.get(step.finish, 0.0))
    lines: list[VocLine] = []
    for name, thin in thinned.items():
        finish = catalogue.finishes[name]
        ready = ready_to_use(finish, thin, catalogue)
        for limit in catalogue.voc_limits.values():
            if name not in limit.finishes:
                continue
            counted = less_water_range(finish, ready, catalogue) if limit.less_water else ready
            standing: VocStanding = "depends on the tin"
            if counted.high <= limit.limit_g_l:
                standing = "within"
            elif counted.low > limit.limit_g_l:
                standing = "above"
            lines.append(
                VocLine(
                    finish=name,
                    title=limit.title,
                    jurisdiction=limit.jurisdiction,
                    category=limit.category,
                    limit_g_l=limit.limit_g_l,
                    voc_g_l=counted,
                    standing=standing,
                    source=limit.basis,
                )
            )
    return tuple(lines)


def ready_to_use(finish: Finish, thin: float, catalogue: Catalogue) -> Range:
    """Return what a litre holds as it is put on. [g/L]

    Parameters
    ----------
    finish
        As sold
    thin
        Thinner by volume of the finish. 0 or more
    catalogue
        Where the thinner's density is

    Notes
    -----
    ``(VOC + p · ρ) / (1 + p)``: a balance of mass; what is thinned with water holds no more of it.
    """
    thinner = thinner_of(finish)
    density = catalogue.solvents[thinner].density_g_l if thinner is not None and thinner in catalogue.solvents else None
    if not thin or density is None:
        return finish.voc_g_l
    voc = finish.voc_g_l
    return Range(
        (voc.low + thin * density.low) / (1 + thin),
        (voc.typical + thin * density.typical) / (1 + thin),
        (voc.high + thin * density.high) / (1 + thin),
    )


def less_water_range(finish: Finish, voc_g_l: Range, catalogue: Catalogue) -> Range:
    """Return what a litre without its water holds: what is neither solid nor solvent is taken to be water. [g/L]"""
    if finish.drying != "water" or finish.voc_solvent is None:
        return voc_g_l
    density_g_l = catalogue.solvents[finish.voc_solvent].density_g_l.typical

    def counted(voc: float, solids_pct: float) -> float:
        return less_water(voc, max(0.0, 1 - solids_pct / 100 - voc / density_g_l))

    solids = finish.volume_solids_pct
    return Range(
        counted(voc_g_l.low, solids.high), counted(voc_g_l.typical, solids.typical), counted(voc_g_l.high, solids.low)
    )


def less_water(voc_g_l: float, water_share: float) -> float:
    """Return what a litre without its water holds. [g/L]

    Parameters
    ----------
    voc_g_l
        In a litre with the water. [g/L]
    water_share
        Of the volume that is water. 0 to less than 1

    Notes
    -----
    ``(Ws - Ww - Wes) / (Vm - Vw - Ves)``, nothing being exempt here. Source: SCAQMD Rule 1136, definitions.

    Examples
    --------
    >>> less_water(100.0, 0.52)
    208.3
    """
    return voc_g_l / (1 - water_share)

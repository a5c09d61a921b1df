"""The liquids of steps beside the coats as what they set free: strippers, washes and what wipes a film."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from finplan.catalogue import Catalogue
from finplan.quantity import NOTHING, Range
from finplan.safety.emission import Emission, slowed_hours
from finplan.safety.solvents import parts_of
from finplan.system import Treatment
from finplan.timetable import TimetableStep


@dataclass(frozen=True, slots=True)
class LiquidUse:
    """One stretch of a step beside the coats, and how far it gets. Times in h."""

    id: str
    room: str
    start_h: float
    end_h: float
    area_m2: float
    lifted_h: float | None = None
    """When it is taken off again with what it dissolved; None where it dries on the work."""


def sets_free(row: TimetableStep, catalogue: Catalogue) -> bool:
    """Return whether a row is a step beside the coats that uses up a liquid, or lifts one off again."""
    return row.extra is not None and bool(catalogue.extra_steps[row.extra].liquids or _lifted(row.extra, catalogue))


def _lifted(name: str, catalogue: Catalogue) -> Collection[str]:
    """Return the liquids that a step takes off again, with what they have dissolved."""
    records = catalogue.extra_steps.values()
    laid = [record.liquids for record in records if record.disturbs_film and record.then[:1] == (name,)]
    return dict.fromkeys(solvent for liquids in laid for solvent in liquids)


def lifted_at(
    row: TimetableStep, treatment: Treatment, rows: Sequence[TimetableStep], catalogue: Catalogue
) -> datetime | None:
    """Return when what a row lays on an old film has been taken off with it; None where it dries on the work.

    Of several portions the next to be taken off is that of the row.
    """
    record = catalogue.extra_steps[row.extra or ""]
    names = record.then[:1] if record.disturbs_film else ()
    lifting = {step.id for step in treatment.steps if step.recipe.extra in names}
    later = [step for step in rows if step.kind == "attended" and step.of_step in lifting and step.start >= row.end]
    first = min(later, key=lambda step: step.start, default=None)
    return None if first is None else max(step.end for step in later if step.id == first.id)


def liquid_emissions(name: str, stretch: LiquidUse, catalogue: Catalogue) -> Iterator[Emission]:
    """Give what a stretch of a step beside the coats sets free, solvent by solvent.

    Parameters
    ----------
    name
        Of the step, in the catalogue's extra-steps
    stretch
        When, where and on how much surface
    catalogue
        Where steps and solvents are

    Notes
    -----
    It takes its area at how far a litre goes, and all of that evaporates, no faster than air carries it off: in
    proportion to what is still there. What is lifted off again has set free until then what it has by that, counted as
    if it had been quick, which puts most of it at the beginning, and leaves with the sludge for the rest. Who lifts it
    off stands in that vapour, and adds nothing to it.
    """
    for solvent in _lifted(name, catalogue):
        for part in parts_of(solvent, NOTHING, catalogue):
            yield Emission(stretch.id, stretch.room, stretch.start_h, stretch.end_h, stretch.end_h, 0.0, part, NOTHING)
    for solvent, rate_m2_l in catalogue.extra_steps[name].liquids.items():
        density_g_l = catalogue.solvents[solvent].density_g_l
        mass_g = Range(
            stretch.area_m2 / rate_m2_l.high * density_g_l.low,
            stretch.area_m2 / rate_m2_l.typical * density_g_l.typical,
            stretch.area_m2 / rate_m2_l.low * density_g_l.high,
        )
        for part, grams in parts_of(solvent, mass_g, catalogue).items():
            yield _emission(part, grams, stretch, catalogue)


def _emission(solvent: str, mass_g: Range, stretch: LiquidUse, catalogue: Catalogue) -> Emission:
    evaporation = catalogue.evaporation["coat"]
    film_h = slowed_hours(0.0, mass_g.high, stretch.area_m2, catalogue.solvents.get(solvent), evaporation)
    until_gone = math.log(1 / (1 - evaporation.by_dust_free_pct / 100))
    gone_h = stretch.end_h + film_h * until_gone
    if stretch.lifted_h is not None and stretch.lifted_h < gone_h:
        lies_h = stretch.lifted_h - stretch.start_h
        mass_g, film_h = mass_g.scaled(-math.expm1(-lies_h / film_h)), lies_h / until_gone
        gone_h = stretch.lifted_h
    return Emission(
        id=stretch.id,
        room=stretch.room,
        start_h=stretch.start_h,
        end_h=stretch.end_h,
        gone_h=max(gone_h, stretch.end_h),
        decay_h=film_h,
        solvent=solvent,
        mass_g=mass_g,
    )

"""Cloths that heat themselves: how many, after which step, into what, as lines to tick when they fall due."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from finplan.catalogue import Catalogue
from finplan.quantity import NOTHING
from finplan.safety.duty import ClothsLaidOut, Duty, NoClothLeft
from finplan.system import Treatment, TreatmentStep
from finplan.timetable import TimetableStep

_PUTS_ON = ("coat", "fill", "clean-up")
"""Deeds in which cloths are in use."""


@dataclass(frozen=True, slots=True)
class OilyWaste:
    """What a coat leaves behind that can catch fire by itself."""

    step: str
    finish: str
    cloths: int
    """Pieces, the most that are counted on; gloves and pads come on top."""
    can_ml: float
    """The room that they take under water. [ml]"""
    gives_gas: bool = False
    """Whether they hold isocyanate, which gives off gas in water: no lid over them is tight."""


def oily_waste(treatments: Sequence[Treatment], catalogue: Catalogue) -> tuple[OilyWaste, ...]:
    """Return the coats that leave cloths behind which heat themselves, by the ids of their steps.

    Notes
    -----
    Cloths are counted from the consumables that put on and wipe off in that way, the high of their range, rounded up;
    where a brush does it, the cloth that wipes it and what was spilt is one.
    """
    return tuple(
        OilyWaste(step.id, step.finish, *_cloths(step, catalogue), catalogue.finishes[step.finish].hazards.isocyanate)
        for treatment in treatments
        for step in treatment.steps
        if step.finish is not None and catalogue.finishes[step.finish].hazards.self_heating
    )


def _cloths(step: TreatmentStep, catalogue: Catalogue) -> tuple[int, float]:
    counted = 0.0
    for record in catalogue.consumables.values():
        if step.method in record.methods and "wiping" in record.used_for:
            by_area = (record.use_per_m2 or NOTHING).high * step.area_m2
            counted += by_area + (record.use_per_coat or NOTHING).high
    cloths = max(1, math.ceil(counted - 1e-9))
    return cloths, cloths * catalogue.waste_cans["oily-cloths"].per_cloth_ml.high


def rag_ticks(rows: Sequence[TimetableStep], waste: Sequence[OilyWaste]) -> tuple[Duty, ...]:
    """Return what is ticked about cloths: after each coat or the clean-up that follows it, and at the end of each day.

    Parameters
    ----------
    rows
        Of the timetable
    waste
        From ``oily_waste``

    Notes
    -----
    Whoever cleans up counts his own cloths; in the evening all of them are counted.
    """
    by_step = {load.step: load for load in waste}
    attended = [row for row in rows if row.kind == "attended"]
    duties: list[Duty] = []
    lying: dict[str | None, dict[str, OilyWaste]] = {}
    for number, row in enumerate(attended):
        load = _waste_of(row, by_step)
        if load is not None and row.deed in _PUTS_ON:
            lying.setdefault(row.person, {})[load.step] = load
            if not _goes_on(row, load, attended[number + 1 :], by_step):
                own = lying.pop(row.person)
                duties.append(Duty(row.end, row.id, ClothsLaidOut(*_counted(own.values()))))
    for _, group in groupby(attended, key=lambda row: row.start.date()):
        of_day = list(group)
        used = dict.fromkeys(
            load for row in of_day if row.deed in ("coat", "fill") and (load := _waste_of(row, by_step)) is not None
        )
        if used:
            duties.append(Duty(max(row.end for row in of_day), None, NoClothLeft(*_counted(used))))
    return tuple(sorted(duties, key=lambda tick: (tick.due, tick.row is None)))


def _goes_on(
    row: TimetableStep, waste: OilyWaste, following: Sequence[TimetableStep], by_step: dict[str, OilyWaste]
) -> bool:
    """Return whether the cloths stay in use: the same goes on, or the next with the same finish, or its clean-up."""
    same = next((step for step in following if step.person == row.person), None)
    if same is None or same.start > row.end or row.deed == "clean-up":
        return False
    following_waste = _waste_of(same, by_step)
    return following_waste is not None and following_waste.finish == waste.finish and same.deed in _PUTS_ON


def _waste_of(row: TimetableStep, by_step: dict[str, OilyWaste]) -> OilyWaste | None:
    return None if row.of_step is None else by_step.get(row.of_step)


def _counted(waste: Iterable[OilyWaste]) -> tuple[int, float, bool]:
    """Return how many cloths lie, the room that they take, and whether any gives off gas in water."""
    lying = list(waste)
    return sum(load.cloths for load in lying), sum(load.can_ml for load in lying), any(load.gives_gas for load in lying)

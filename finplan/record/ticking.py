"""Ticking steps of a plan: what they wait for, and what is learnt from them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from finplan.catalogue import Catalogue
from finplan.learning import coated_of
from finplan.ledger import Tick
from finplan.material import CoatNeed
from finplan.planning import Plan, steps_before
from finplan.record.typed import TypedError, Used
from finplan.timetable import Operation, TimetableStep, all_operations, drying_by_coat, first_stretches


@dataclass(frozen=True, slots=True)
class Ticking:
    """What is to be written down."""

    entry: Tick
    waits_for: tuple[str, ...]
    """Ids of steps that come before and are not ticked."""
    reckoned_ml: float | None
    """What the coats should have taken, where what was used is told."""
    used_ml: float | None
    finish: str | None
    """What was used; None where nothing is told of that."""
    finish_ml: float | None
    """Of it the finish, without its thinner."""
    notes: tuple[str, ...]
    """What is not learnt, and why."""


def ticking(
    plan: Plan,
    steps: Sequence[str],
    done: Mapping[str, datetime],
    *,
    job: str,
    at: datetime,
    entered: datetime,
    dry: bool = False,
    used: Used | None = None,
    took_min: float | None = None,
    air: tuple[float | None, float | None] = (None, None),
    person: str | None = None,
    note: str | None = None,
    held: int | None = None,
) -> Ticking:
    """Return an entry for steps of a plan.

    Parameters
    ----------
    plan
        The plan whose numbers they are
    steps
        Their ids
    done
        What is ticked already
    job
        Tells the wood of this job from that of others
    at, entered
        When it was so, and when it is written down
    dry
        Whether the coats were found dry, instead of done
    used, took_min, air, person, note
        As told
    held
        The id of the plan in the ledger

    Raises
    ------
    TypedError
        What was used is told of something that is no coat, or of two finishes.
    """
    used = used or Used()
    rows = first_stretches(plan.timetable.steps)
    # Of all of the job: a step whose tick was taken back is in no plan that was made in between.
    operations = {one.id: one for piece in plan.pieces for one in all_operations(piece.operations)}
    notes: list[str] = []
    observed: dict[Any, Any] = {}
    reckoned_ml = used_ml = finish_ml = finish = None
    if used != Used():
        coats = _coats(plan, steps, operations)
        if coats is None:
            notes.append("a coat was put on in part: nothing is learnt from its amount")
        else:
            used_ml = in_ml(used, coats[0].finish, plan.catalogue)
            reckoned_ml = sum(coat.wet_ml.typical for coat in coats)
            finish = coats[0].finish
            if used_ml is not None:
                finish_ml = used_ml / (1 + coats[0].step.recipe.thin_pct / 100)
            if used_ml is None:
                notes.append(f"the density of {coats[0].finish} is not known: nothing is learnt from its weight")
            else:
                grits = _last_grits(plan)
                observed["amount"] = {"job": job, "coats": [coated_of(coat, grits).plain() for coat in coats]}
    if took_min is not None:
        worked = [operations[step] for step in steps if step in operations]
        deeds = {one.deed for one in worked}
        reckoned = float(sum(one.work_min for one in worked))
        if len(deeds) == 1 and reckoned > 0:
            observed["minutes"] = {"of": deeds.pop(), "reckoned": reckoned, "took": took_min}
    if dry:
        drying = drying_by_coat(plan.timetable.steps)
        observed |= _dried(steps, drying, done, at, rows, plan)
    before = steps_before(plan.pieces)
    ticked = {*done, *steps}
    waits = (
        () if dry else tuple(dict.fromkeys(one for step in steps for one in before.get(step, ()) if one not in ticked))
    )
    entry = Tick(
        steps=tuple(steps),
        at=at,
        entered=entered,
        kind="dry" if dry else "done",
        person=person,
        used_ml=used.ml,
        used_g=used.g,
        can_before_g=used.before_g,
        can_after_g=used.after_g,
        took_min=took_min,
        air_c=air[0],
        humidity_pct=air[1],
        note=note,
        observed=observed,
        plan=held,
    )
    return Ticking(entry, waits, reckoned_ml, used_ml, finish, finish_ml, tuple(notes))


def in_ml(used: Used, finish: str, catalogue: Catalogue) -> float | None:
    """Return what was used by volume; None where it was weighed and the density is not known. [ml]"""
    if used.ml is not None:
        return used.ml
    grams = used.g if used.before_g is None or used.after_g is None else used.before_g - used.after_g
    density = catalogue.finishes[finish].density_g_l
    return None if density is None or grams is None else grams / density.typical * 1000


def _coats(plan: Plan, steps: Sequence[str], operations: Mapping[str, Operation]) -> list[CoatNeed] | None:
    """Return the coats that steps put on; None where one of them is put on in part, such as one of its sides."""
    of_step = dict.fromkeys(
        operations[step].of_step for step in steps if step in operations and operations[step].deed in ("coat", "fill")
    )
    coats = [plan.materials.coat_of(one) for one in of_step if one is not None]
    found = [one for one in coats if one is not None]
    if not found:
        raise TypedError("what was used is told of a step that puts nothing on; tick the coat with it")
    if len({one.finish for one in found}) > 1:
        raise TypedError("these steps put on different finishes; tick each with what was used of it")
    deeds = {name for name, one in operations.items() if one.of_step in of_step and one.deed in ("coat", "fill")}
    return found if deeds <= set(steps) else None


def _last_grits(plan: Plan) -> dict[Any, str]:
    return {
        group.group: group.steps[-1].p_grade for piece in plan.pieces for group in piece.sanding.groups if group.steps
    }


def _dried(
    steps: Sequence[str],
    drying: Mapping[str, TimetableStep],
    done: Mapping[str, datetime],
    at: datetime,
    rows: Mapping[str, TimetableStep],
    plan: Plan,
) -> dict[str, Any]:
    """Return what is learnt of a coat that was found dry: how long that took, and how long it should have."""
    for step in steps:
        row = drying.get(step)
        if row is None or step not in done or row.next_from is None:
            continue
        coat = plan.materials.coat_of(row.of_step or "")
        took = (at.timestamp() - done[step].timestamp()) / 3600
        reckoned = (row.next_from.timestamp() - row.start.timestamp()) / 3600
        if coat is not None and took > 0 and reckoned > 0:
            return {"drying": {"of": coat.finish, "reckoned": reckoned, "took": took}}
    return {}

"""A coat that went wrong, looked at by its plan and its record."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from finplan.bench.ticked import as_made, step_names
from finplan.faults import Diagnosis, OnRecord, Scene, diagnosed, fault_named, possible_faults
from finplan.ledger import HeldPlan, Ledger, Tick, numbers_of, plan_numbered, ticks_of
from finplan.material import MaterialPlan
from finplan.planning import Plan, PlannedPiece
from finplan.problems import NotPossibleError
from finplan.record import completed, done_now, in_air_until, plan_maker, read_plan, steps_of


def scene_of(
    ledger: Ledger, held: HeldPlan, pieces: tuple[PlannedPiece, ...], step: str, moment: datetime
) -> tuple[Scene, str]:
    """Return the coat at a step of the newest plan of a job, and what that step is called.

    Parameters
    ----------
    ledger, held, pieces
        The record, the newest plan of the job, and all pieces of that
    step
        As it was typed: a number as on the sheet, or an id
    moment
        Now

    Raises
    ------
    NotPossibleError
        The files have changed since the plan was made, there is no such step, or no coat is on there yet.
    """
    plan = as_made(ledger, held, pieces, moment)
    numbers = numbers_of(ledger, held.job)
    wanted = steps_of([step], numbers)
    if len(wanted) != 1:
        msg = f"{step}: one step is looked at at a time; expected a number as on the sheet"
        raise NotPossibleError(msg)
    aired, known = in_air_until(plan, ledger, held, moment), known_of(ledger, held, plan, moment)
    scene = Scene(aired, wanted[0], known)
    then = _materials_then(ledger, held, pieces, moment, scene.entries)
    if then is not None:
        scene = Scene(aired, wanted[0], replace(known, materials_then=then))
    return scene, step_names(wanted, numbers)[0]


def looked_at(scene: Scene, name: str, called: str) -> Diagnosis:
    """Return what is known of a fault, called as a person typed it, of the coat at the step that is *called* so.

    Raises
    ------
    NotPossibleError
        The catalogue knows no such fault, whose nearest is named; or the coat is not ticked: of what is not on yet
        nothing can be said but that a fault cannot occur in its finish.
    """
    told = diagnosed(scene, fault_named(name, scene.catalogue))
    if told.answer is not None and not scene.is_on:
        coat = scene.coats[0].label.partition(",")[0]
        msg = f"step {called}: {coat} of {scene.treatment.item} is not ticked; tick it first (finplan done)"
        raise NotPossibleError(msg)
    return told


def faults_at(scene: Scene) -> tuple[Diagnosis, ...]:
    """Return every fault of the coat, those that can occur first."""
    return possible_faults(scene)


def known_of(ledger: Ledger, held: HeldPlan, plan: Plan, moment: datetime) -> OnRecord:
    """Return what the record knows of a job at a moment."""
    return OnRecord(moment, completed(plan, done_now(ledger, held)), ticks_of(ledger, held.job))


def _materials_then(
    ledger: Ledger, held: HeldPlan, pieces: tuple[PlannedPiece, ...], moment: datetime, entries: Sequence[Tick]
) -> MaterialPlan | None:
    """Return the amounts of the plan by which a coat was put on; None where that is the newest, or cannot be read.

    What is learnt of a coat changes the amounts of later plans, not what was to be taken then.
    """
    first = min((entry.id for entry in entries), default=None)
    sooner = (plan_numbered(ledger, held.job, number) for number in range(held.number, 0, -1))
    by = next(
        (earlier for earlier in sooner if earlier is not None and first is not None and earlier.made.last_tick < first),
        None,
    )
    plan = None if by is None or by.id == held.id else read_plan(ledger, by, plan_maker(pieces, moment))
    return None if plan is None or plan.digest != held.made.digest else plan.materials

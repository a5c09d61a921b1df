"""A repair planned: noted in the record, its steps in the plan, the rest planned again; and taken back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from finplan.bench.again import rest_planned
from finplan.bench.ticked import step_names
from finplan.faults import Diagnosis, Scene
from finplan.ledger import (
    HeldPlan,
    Ledger,
    RepairEntry,
    note_repair,
    numbers_of,
    repairs_of,
    take_repair_back,
)
from finplan.planning import Plan, PlannedPiece
from finplan.problems import NotPossibleError, did_you_mean, shown
from finplan.quantity import AREA, PERCENTAGE, QuantityError, read_quantity
from finplan.record import TypedError, completed, done_now, with_repairs
from finplan.system import TreatmentStep
from finplan.timetable import Operation, Progress


@dataclass(frozen=True, slots=True, kw_only=True)
class Affected:
    """How much of a coat is affected, each as it was typed; None where nothing is."""

    area: str | None = None
    share: str | None = None
    parts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Repaired:
    """A repair that came into the plan, or was taken out of it."""

    entry: RepairEntry
    before: Plan
    """The plan before."""
    plan: Plan
    """The plan now, which is held."""
    steps: tuple[tuple[TreatmentStep, ...], ...]
    """What mends it: steps of the treatment; one tuple, or none where it was taken back."""
    taken_back: bool = False

    @property
    def operations(self) -> tuple[Operation, ...]:
        """What mends it, as work; of what was taken back, as it was."""
        plan = self.before if self.taken_back else self.plan
        return _mending(plan, self.entry.id)


def repaired(
    ledger: Ledger,
    held: HeldPlan,
    pieces: tuple[PlannedPiece, ...],
    told: Diagnosis,
    affected: Affected,
    moment: datetime,
    *,
    limit: str | None = None,
    progress: Progress | None = None,
) -> Repaired:
    """Note a repair, and plan the rest with it: what is done stays done, and as little moves as can be.

    Parameters
    ----------
    ledger, held, pieces
        The record, the newest plan of the job, and all pieces of that
    told
        What is wrong with which coat
    affected
        How much of it; where nothing is told, what the catalogue says is usual
    moment, limit, progress
        As for ``rest_planned``

    Raises
    ------
    NotPossibleError
        The fault cannot occur in the finish, the coat is not ticked, something is not understood, what comes after the
        coat is ticked already, or the rest cannot be planned with it. Then nothing is noted.
    """
    scene = told.scene
    if told.answer is None:
        because = "" if told.cannot is None else f", because {told.cannot.because}"
        msg = f"{told.name} cannot occur in {scene.step.finish}{because}: nothing is planned"
        raise NotPossibleError(msg)
    _refuse_twice(ledger, held, told)
    entry = RepairEntry(
        moment,
        told.name,
        scene.step.id,
        _after(scene, ledger, held),
        *_how_much(scene, affected, told.answer.share / 100),
    )
    _refuse_what_is_past(ledger, held, scene.plan, entry)
    with ledger.changing():
        number = note_repair(ledger, held.job, entry)
    entry = replace(entry, id=number)
    try:
        plan = rest_planned(ledger, held, pieces, moment, limit=limit, progress=progress)
        if not plan.timetable.has_plan:
            msg = "the rest cannot be planned with this repair: a step of it can never be done in this shop"
            raise NotPossibleError(msg)
    except BaseException:
        with ledger.changing():
            take_repair_back(ledger, entry, moment)
        raise
    mending = tuple(
        tuple(step for step in treatment.steps if step.mends is not None and step.mends.repair == number)
        for treatment in plan.treatments
    )
    return Repaired(entry, scene.plan, plan, tuple(steps for steps in mending if steps))


def unrepaired(
    ledger: Ledger,
    held: HeldPlan,
    pieces: tuple[PlannedPiece, ...],
    told: Diagnosis,
    moment: datetime,
    *,
    limit: str | None = None,
    progress: Progress | None = None,
) -> Repaired:
    """Take the last repair of a fault of a coat back, and plan the rest without it; arguments as for ``repaired``.

    Raises
    ------
    NotPossibleError
        There is none, or a step of it is ticked.
    """
    plan = told.scene.plan
    standing = repairs_of(ledger, held.job)
    entry = next(
        (repair for repair in reversed(standing) if (repair.fault, repair.coat) == (told.name, told.scene.step.id)),
        None,
    )
    if entry is None:
        msg = f"no repair of {told.name} at this coat is planned, so there is nothing to take back"
        raise NotPossibleError(msg)
    done = done_now(ledger, held)
    ticked = [operation.id for operation in _mending(plan, entry.id) if operation.id in done]
    if ticked:
        named = ", ".join(step_names(ticked, numbers_of(ledger, held.job)))
        msg = f"{named}: is ticked and belongs to this repair; take that back first"
        raise NotPossibleError(msg)
    with ledger.changing():
        take_repair_back(ledger, entry, moment)
    return Repaired(
        entry, plan, rest_planned(ledger, held, pieces, moment, limit=limit, progress=progress), (), taken_back=True
    )


def _mending(plan: Plan, repair: int) -> tuple[Operation, ...]:
    return tuple(
        operation
        for piece in plan.pieces
        for operation in piece.operations
        if operation.step is not None and operation.step.mends is not None and operation.step.mends.repair == repair
    )


def _after(scene: Scene, ledger: Ledger, held: HeldPlan) -> str:
    """Return the id of the last step of the treatment of which anything is done."""
    done = scene.known.done
    if any(coat.id not in done for coat in scene.coats):
        named = step_names([coat.id for coat in scene.coats], numbers_of(ledger, held.job))
        msg = f"{', '.join(named)}: the coat is not ticked; tick it first (finplan done), then its repair is planned"
        raise NotPossibleError(msg)
    begun = {operation.of_step for operation in scene.piece.operations if operation.id in done}
    return [step.id for step in scene.treatment.steps if step.id in begun][-1]


def _how_much(scene: Scene, affected: Affected, usual: float) -> tuple[float, tuple[str, ...]]:
    """Return which share of which parts is affected; all parts where none is named."""
    known = list(dict.fromkeys(group.part for group in scene.step.groups))
    for part in affected.parts:
        if part not in known:
            raise TypedError(f"{shown(part)} is no part that this coat is on; {did_you_mean(part, known)}", "items")
    parts = () if set(affected.parts) == set(known) else tuple(dict.fromkeys(affected.parts))
    if affected.area is not None and affected.share is not None:
        msg = "how much is told twice; expected either --area or --share"
        raise NotPossibleError(msg)
    if affected.area is not None:
        whole_m2 = sum(group.area_m2 for group in scene.step.groups if not parts or group.part in parts)
        area_m2 = _read("area", affected.area)
        if not 0 < area_m2 <= whole_m2 * _ALL:
            raise TypedError(f"{affected.area} is not above 0 and at most all of it, {whole_m2:.2g} m2", "area")
        return min(area_m2 / whole_m2, 1.0), parts
    if affected.share is None:
        return (1.0 if affected.parts else usual), parts
    share = _read("share", affected.share) / 100
    if not 0 < share <= 1:
        raise TypedError(f"{affected.share} is not above 0 % and at most 100 %", "share")
    return share, parts


_ALL = 1.02
"""Who measures by hand is not held to the second figure."""


def _read(option: str, text: str) -> float:
    kind = AREA if option == "area" else PERCENTAGE
    try:
        return read_quantity(text, kind)
    except QuantityError as error:
        raise TypedError(str(error), option) from None


def _refuse_twice(ledger: Ledger, held: HeldPlan, told: Diagnosis) -> None:
    """Refuse a repair that is planned already and not done yet."""
    done = done_now(ledger, held)
    for entry in repairs_of(ledger, held.job):
        if (entry.fault, entry.coat) != (told.name, told.scene.step.id):
            continue
        left = [operation.id for operation in _mending(told.scene.plan, entry.id) if operation.id not in done]
        if left:
            named = ", ".join(step_names(left, numbers_of(ledger, held.job)))
            msg = f"its repair is in the plan already (steps {named}); with --undo it is taken back"
            raise NotPossibleError(msg)


def _refuse_what_is_past(ledger: Ledger, held: HeldPlan, plan: Plan, entry: RepairEntry) -> None:
    """Refuse a repair that would come before something that is done: it would count as done with that."""
    standing: Sequence[RepairEntry] = repairs_of(ledger, held.job)
    pieces = with_repairs(plan.pieces, (*standing, entry))
    done = completed(replace(plan, pieces=pieces), done_now(ledger, held))
    new = {operation.id for piece in pieces for operation in _mending(replace(plan, pieces=(piece,)), entry.id)}
    if new & done.keys():
        later = [
            operation.id
            for piece in pieces
            for operation in piece.operations
            if operation.id in done and operation.id not in new and new & {after.id for after in operation.after}
        ]
        named = ", ".join(step_names(later, numbers_of(ledger, held.job)))
        msg = f"{named}: is ticked and comes after this repair; take that back first (finplan done … --undo)"
        raise NotPossibleError(msg)
    if not new:
        msg = f"what mends {entry.fault} there has no step that can be planned"
        raise NotPossibleError(msg)

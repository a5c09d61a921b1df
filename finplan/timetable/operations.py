"""The operations of a piece, item by item, and what each of them waits for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from itertools import groupby
from typing import Literal

from finplan.catalogue import Catalogue, FitFor
from finplan.inputs import Piece
from finplan.quantity import Range
from finplan.sanding import GLUED, SandingPlan
from finplan.system import (
    SECOND_SIDE,
    Treatment,
    TreatmentStep,
    numbered_id,
    whole_piece_id,
    whole_piece_item,
    whole_piece_work,
    work_id,
)
from finplan.timetable.extra_work import extra_operation
from finplan.timetable.old_paint_goes import in_goes
from finplan.timetable.old_paint_order import with_old_paint_first
from finplan.timetable.operation import After, Operation, Stage, planned_minutes
from finplan.timetable.portions import in_portions
from finplan.timetable.step_work import step_operations


def operations(
    piece: Piece, treatments: Sequence[Treatment], sanding: SandingPlan, catalogue: Catalogue, longest_h: float = 24.0
) -> tuple[Operation, ...]:
    """Return the operations of a piece: those of one item one after another, then what is done to the whole piece.

    Where something was glued up and more belongs to it, a top to its base say, all is put together in the end; loose
    parts alone are not.

    Clean-ups and abrading again are not listed: they hang on their coats.

    Old paint is sanded in as many goes as leave time to clean up after each before a break; *longest_h* is how long the
    longest stretch of work is of anybody who sands. [h]
    """
    made: list[Operation] = []
    first: list[Operation] = []
    for number, of_one in groupby(treatments, key=lambda treatment: treatment.number):
        of_piece = _of_piece(piece, number, list(of_one), sanding, catalogue, longest_h)
        first = first or of_piece
        made += _kin_of(first, of_piece) if number else of_piece
    return with_old_paint_first(made, catalogue)


def _kin_of(first: Sequence[Operation], made: Sequence[Operation]) -> list[Operation]:
    """Return the operations on a piece of a set as kin of those on the first; what mends its coats has no other kin."""
    recipe = iter([operation for operation in first if operation.step is None or operation.step.mends is None])
    return [
        operation.as_kin_of(operation if operation.step is not None and operation.step.mends else next(recipe))
        for operation in made
    ]


def _of_piece(
    piece: Piece,
    number: int,
    treatments: Sequence[Treatment],
    sanding: SandingPlan,
    catalogue: Catalogue,
    longest_h: float,
) -> list[Operation]:
    """Return the operations of a piece; of a set those of the one with a number."""
    made: list[Operation] = []
    by_item: dict[str, list[Treatment]] = {}
    for treatment in treatments:
        by_item.setdefault(treatment.item, []).append(treatment)
    for item, of_item in by_item.items():
        made += _of_item(piece, item, of_item, sanding, catalogue, longest_h)
    at_last = list(made)
    if len(by_item) > 1 and piece.assemblies:
        made.append(_put_together(treatments[0].key, number, made, len(by_item), catalogue))
    for work in whole_piece_work(piece, treatments, catalogue):
        last = [After(made[-1].id)] if made[-1].item == work.item else []
        fit = _when_fit(at_last, work.record.fit_for)
        made.append(replace(extra_operation(work), after=tuple(dict.fromkeys((*last, *fit)))))
    return [operation.in_set(number) for operation in made] if number else made


def _of_item(
    piece: Piece,
    item: str,
    treatments: Sequence[Treatment],
    sanding: SandingPlan,
    catalogue: Catalogue,
    longest_h: float,
) -> list[Operation]:
    # Where faces of an item get several systems, all its bare wood is sanded before the first coat is wet.
    steps = sorted(
        ((treatment, step) for treatment in treatments for step in treatment.steps),
        key=lambda pair: (pair[0].after_coats(pair[1]), not pair[0].on_bare_wood(pair[1])),
    )
    after_sanding = _after_sanding(piece, item, treatments, sanding, catalogue)
    chain: list[Operation] = []
    cleaned: Operation | None = None
    if any(treatment.old_paint is not None for treatment in treatments):
        if any(treatment.lead_test is None for treatment in treatments):
            _extend(chain, [_of_old_paint("test", "test the old coating for lead", treatments, catalogue)])
        cleaned = replace(_of_old_paint("wipe-down", "clean up after old paint", treatments, catalogue), alone=True)
        after_sanding = list(in_goes(after_sanding, cleaned, longest_h, catalogue))
    make = partial(step_operations, sanding=sanding, catalogue=catalogue)
    for (treatment, step), portions in in_portions(steps, make, catalogue):
        if _follows_sanding(treatment, step):
            _end_sanding(chain, after_sanding, cleaned)
            after_sanding, cleaned = [], None
        _extend(chain, list(in_goes(portions, cleaned, longest_h, catalogue)), cleaned)
        if treatment.after_coats(step):
            record = catalogue.extra_steps[step.recipe.extra or ""]
            fit = _when_fit([operation for operation in chain if operation.finish is not None], record.fit_for)
            chain[-1] = replace(chain[-1], after=tuple(dict.fromkeys((*chain[-1].after, *fit))))
    _end_sanding(chain, after_sanding, cleaned)
    return _dried(chain, catalogue)


def _dried(chain: Sequence[Operation], catalogue: Catalogue) -> list[Operation]:
    """Let wood that was sanded and wiped wet dry before what comes next; what wets it once more waits for nothing."""
    wiped = [place for place, operation in enumerate(chain) if operation.deed == "wipe-down"]
    wait_h = catalogue.work["old-paint-wipe-down"].wait_h
    if not wiped or wait_h is None or any(following.deed == "raise-grain" for following in chain[wiped[-1] + 1 :][:1]):
        return list(chain)
    return [
        replace(operation, wait_h=wait_h.typical) if place == wiped[-1] else operation
        for place, operation in enumerate(chain)
    ]


def _follows_sanding(treatment: Treatment, step: TreatmentStep) -> bool:
    """Return whether a step comes after all that belongs to sanding; of an old coating that is kept, the coat."""
    if treatment.keeps_film:
        return step.finish is not None
    return step.do != "sand" and not treatment.before_sanding(step)


def _extend(chain: list[Operation], more: Sequence[Operation], cleaned: Operation | None = None) -> None:
    """Add operations to a chain, each after what comes before it; *cleaned* directly after all that makes dust."""
    for operation in more:
        chain.append(_linked(operation, chain))
        if cleaned is not None and operation.makes_dust:
            number = 1 + sum(sooner.deed == cleaned.deed for sooner in chain)
            name = numbered_id(cleaned.id, number)
            chain.append(replace(_linked(cleaned, chain), id=name, at_once=True, skill=operation.skill))


def _end_sanding(chain: list[Operation], after_sanding: Sequence[Operation], cleaned: Operation | None) -> None:
    """Add what comes after sanding; old paint is cleaned up after once at least, though nothing has made dust."""
    _extend(chain, after_sanding, cleaned)
    if cleaned is not None and all(operation.deed != cleaned.deed for operation in chain):
        _extend(chain, [cleaned])


def _linked(operation: Operation, chain: Sequence[Operation]) -> Operation:
    """Return an operation that waits for what comes before it in its item."""
    if not chain:
        return operation
    before = chain[-1]
    stage: Stage = "done" if before.finish is None else before.next_waits_for
    after = [After(before.id, stage, before.times_as_thick)]
    if before.side == SECOND_SIDE:
        after.append(After(chain[-2].id, stage, before.times_as_thick))
        if stage == "recoat":
            after.append(After(before.id, "handle"))  # turned over for what comes next, it lies on the side coated last
    over = _coat_below(operation, chain) if operation.finish is not None else None
    return replace(operation, after=tuple(after), over=over, again=operation.again if over else None)


def _coat_below(operation: Operation, chain: Sequence[Operation]) -> str | None:
    """Return the coat on which one goes with nothing abraded between; of a side, that of the same side."""
    for before in reversed(chain):
        if before.step is operation.step or not _share_faces(before, operation):
            continue
        if before.makes_dust:
            return None
        if before.finish is None:
            continue
        if not operation.side or before.side in (operation.side, ""):
            return before.id
    return None


def _share_faces(one: Operation, other: Operation) -> bool:
    """Return whether two operations are done to a face in common."""
    faces = [
        {(group.part, face) for group in operation.step.groups for face in group.faces} if operation.step else set()
        for operation in (one, other)
    ]
    return not faces[0].isdisjoint(faces[1])


# --- before and after -----------------------------------------------------------------------------------------------


def _after_sanding(
    piece: Piece, item: str, treatments: Sequence[Treatment], sanding: SandingPlan, catalogue: Catalogue
) -> list[Operation]:
    """Return what is done to an item between sanding and coating: gluing up, sanding the joints, masking."""
    glue = _glue_up(piece, item, treatments, catalogue)
    made = [] if glue is None else [glue]
    for step in sanding.order:
        if step.item == item and step.do != "sand":
            made.append(
                Operation(
                    id=step.id,
                    item=item,
                    deed=step.do,
                    label=step.label,
                    step=None,
                    hours=step.hours,
                    work_min=planned_minutes(step.hours.typical),
                    skill="sanding",
                    room_use="sanding",
                    on_bare_wood=True,
                )
            )
    return made


def _of_old_paint(
    deed: Literal["test", "wipe-down"], label: str, treatments: Sequence[Treatment], catalogue: Catalogue
) -> Operation:
    """Return what is done to an item before it is sanded or after, where its old paint may hold lead."""
    first = treatments[0]
    job = catalogue.work[f"old-paint-{deed}"]
    hours = job.handling_h
    if job.speed_m2_h is not None:
        hours = hours.plus(Range.time_for(sum(treatment.area_m2 for treatment in treatments), job.speed_m2_h))
    return Operation(
        id=work_id(first.stem, f"old-paint-{deed}"),
        item=first.item,
        deed=deed,
        label=label,
        step=None,
        hours=hours,
        work_min=planned_minutes(hours.typical),
        skill="sanding",
        room_use="sanding",
        on_bare_wood=True,
    )


def _glue_up(piece: Piece, item: str, treatments: Sequence[Treatment], catalogue: Catalogue) -> Operation | None:
    """Return the gluing up of an assembly, once its parts are sanded; None where there is nothing to glue."""
    parts = treatments[0].parts
    glued = any(group.surface == GLUED for treatment in treatments for group in treatment.groups)
    if treatments[0].named not in piece.assemblies or glued or treatments[0].glued:
        return None
    pieces = sum(piece.parts[part].count for part in parts)
    if pieces < 2:
        return None
    job = catalogue.work["glue-up"]
    hours = job.handling_h.scaled(pieces)
    return Operation(
        id=work_id(treatments[0].stem, "glue-up"),
        item=item,
        deed="glue-up",
        label="glue up",
        step=None,
        hours=hours,
        work_min=planned_minutes(hours.typical),
        skill="assembly",
        room_use="assembly",
        wait_h=0.0 if job.wait_h is None else job.wait_h.typical,
        on_bare_wood=True,
    )


def _put_together(key: str, number: int, made: Sequence[Operation], items: int, catalogue: Catalogue) -> Operation:
    hours = catalogue.work["put-together"].handling_h.scaled(items)
    return Operation(
        id=whole_piece_id(key, "put-together", number),
        item=whole_piece_item(number),
        deed="put-together",
        label="put together",
        step=None,
        hours=hours,
        work_min=planned_minutes(hours.typical),
        skill="assembly",
        room_use="assembly",
        after=_when_fit(made, "handle"),
    )


def _when_fit(made: Sequence[Operation], stage: FitFor) -> tuple[After, ...]:
    """Return what has to be done before anything that is done to all of it, and how far its coats have to be."""
    last = {operation.item: operation for operation in made}
    # A soft coat may lie under a quick one, or beside it on other faces: of each finish the last has to be fit.
    coats = {
        (operation.item, operation.finish, operation.side): operation
        for operation in made
        if operation.finish is not None
    }
    after = [After(operation.id) for operation in last.values() if operation.finish is None]
    return (*after, *(After(coat.id, stage) for coat in coats.values()))

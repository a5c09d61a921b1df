"""One piece of an order: what its items get, and what its sanding has to do with materials."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from finplan.catalogue import Catalogue
from finplan.material.cause import Cause, cause
from finplan.material.learnt import NO_LESSONS, Lessons
from finplan.material.need import CoatNeed, coat_need
from finplan.material.use import SAMPLE
from finplan.quantity import Range
from finplan.system import CoatStep, ExtraWork, FaceGroup, Treatment, putting_on_hours, step_id

Filling = tuple[str | None, str | None, int | None]
"""What items share that are coated with one filling of the tool: finish, method, number of the coat."""


@dataclass(frozen=True, slots=True)
class AbrasiveUse:
    """What sanding uses up of one abrasive in one grade."""

    abrasive: str
    """The record of it."""
    grit: str
    needed: Range
    """Pieces."""


@dataclass(frozen=True, slots=True)
class MaterialJob:
    """One piece for which materials are wanted."""

    piece: str
    treatments: tuple[Treatment, ...]
    last_grits: Mapping[FaceGroup, str]
    """The last grade with which bare wood is sanded."""
    abrasives: tuple[AbrasiveUse, ...]
    day: date
    """When the last of it is used: what is on the shelf has to keep until then."""
    extras: tuple[ExtraWork, ...] = ()
    """The steps beside its coats."""
    sample: bool = False
    """Whether it is a sample board, so that none is reckoned for its systems beside it."""


def filling_of(step: CoatStep) -> Filling:
    """Return what a coat shares with others."""
    return step.finish, step.method, step.coat


def coat_needs(
    jobs: Sequence[MaterialJob], catalogue: Catalogue, lessons: Lessons = NO_LESSONS
) -> tuple[CoatNeed, ...]:
    """Return what every coat of every item needs, those of the sample boards last.

    Notes
    -----
    Items that get the same coat in the same way share what stays in tool and pot, also across the pieces of an order.
    A sample board is one for each system of the order, of the timber that drinks most; what stays in its small tool is
    in the catalogue's allowance.
    """
    together: dict[Filling, float] = {}
    for job in jobs:
        for step in _coats(job):
            together[filling_of(step)] = together.get(filling_of(step), 0.0) + step.area_m2
    needs = [
        replace(
            coat_need(
                treatment.item,
                step,
                catalogue,
                share=step.area_m2 / together[filling_of(step)],
                last_grits=job.last_grits,
                piece=job.piece,
                hours=putting_on_hours(treatment, step, catalogue.methods[step.method]),
                lessons=lessons,
            ),
            several=treatment.of_several,
        )
        for job in jobs
        for treatment in job.treatments
        for step in treatment.put_on
    ]
    return (*needs, *_samples(jobs, catalogue, lessons))


def _coats(job: MaterialJob, system: str | None = None) -> list[CoatStep]:
    """Return every coat of a piece, or those of one system."""
    return [step for treatment in job.treatments if system in (None, treatment.system) for step in treatment.put_on]


def _samples(jobs: Sequence[MaterialJob], catalogue: Catalogue, lessons: Lessons) -> list[CoatNeed]:
    needs: list[CoatNeed] = []
    made = {treatment.system for job in jobs if job.sample for treatment in job.treatments}
    systems = [
        system
        for system in dict.fromkeys(treatment.system for job in jobs for treatment in job.treatments)
        if system not in made
    ]
    for system in systems:
        on: dict[int, list[tuple[CoatStep, FaceGroup, str | None]]] = {}
        for job in jobs:
            for step in _coats(job, system):
                on.setdefault(step.coat or 0, []).extend(
                    (step, group, job.last_grits.get(group)) for group in step.groups
                )
        needs += [_sample(system, on[number], catalogue, lessons) for number in sorted(on)]
    return needs


def _sample(
    system: str, on: Sequence[tuple[CoatStep, FaceGroup, str | None]], catalogue: Catalogue, lessons: Lessons
) -> CoatNeed:
    """Return what a coat on the sample board needs, of those timbers and last grades that get it the thirstiest."""
    area_m2 = catalogue.allowances["sample-board"].area_m2
    size = cause("wood", ("", SAMPLE, system), area_m2)
    alike: dict[tuple[object, ...], tuple[CoatStep, FaceGroup, str | None]] = {}
    for step, like, grit in on:  # a board is flat and of one face: timber, last grade and the coat are all that counts
        alike.setdefault(
            (step.recipe, step.finish, step.method, step.bare, step.mends, like.timber, grit), (step, like, grit)
        )
    needs = [
        _board_need(step, like, grit, system, catalogue, lessons, also=size) for step, like, grit in alike.values()
    ]
    thirstiest = max(needs, key=lambda need: (need.needed_ml.typical, need.needed_ml.high))
    return replace(thirstiest, board_of=system)


def _board_need(
    step: CoatStep,
    like: FaceGroup,
    grit: str | None,
    system: str,
    catalogue: Catalogue,
    lessons: Lessons,
    also: tuple[Cause, ...],
) -> CoatNeed:
    """Return what a coat needs on a board like faces that get it."""
    area_m2 = catalogue.allowances["sample-board"].area_m2.typical
    board = replace(like, part=SAMPLE, count=1, faces=("face",), kind="flat", end_grain_m2=0.0, area_m2=area_m2)
    return coat_need(
        SAMPLE,
        replace(step, id=step_id(SAMPLE, system, step.name), groups=(board,)),
        catalogue,
        share=0.0,
        last_grits={board: grit} if grit else None,
        also=also,
        lessons=lessons,
    )

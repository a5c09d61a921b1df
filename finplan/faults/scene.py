"""The coat at which something is wrong: its finish, its wood, when and in what air it was put on, what lay under it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from typing import Literal

from finplan.catalogue import Catalogue, Finish, Timber
from finplan.climate import AirTable, Drying, Weather, air_table
from finplan.ledger import Tick
from finplan.material import CoatNeed, MaterialPlan
from finplan.planning import Plan, PlannedPiece
from finplan.problems import NotPossibleError
from finplan.system import CoatStep, Treatment, TreatmentStep, steps_by_id
from finplan.timetable import Operation, all_operations

_BEFORE = timedelta(days=2)
"""So long before a coat the air is looked at: the coat below may have dried in it."""
_AFTER_DAYS = 60
"""So long after it: a thick place in the cold takes weeks."""


@dataclass(frozen=True, slots=True)
class OnRecord:
    """What the record knows of a job beside its plan."""

    now: datetime
    done: Mapping[str, datetime]
    """When steps ended, by id; those too that come before one that is ticked."""
    ticks: Sequence[Tick] = ()
    """The entries of the job that stand."""
    materials_then: MaterialPlan | None = None
    """What was to be taken by the plan by which the coat was put on; None where that is the newest plan."""

    @property
    def ticked(self) -> frozenset[str]:
        """The ids of the steps that were ticked themselves."""
        return frozenset(step for tick in self.ticks if tick.kind == "done" for step in tick.steps)


@dataclass(frozen=True, slots=True)
class AirThen:
    """How warm or damp it was for some time, in °C or % relative humidity."""

    value: float
    measured: bool
    """Whether somebody, or a logger, read it; else it is the shop file's."""


class Scene:
    """One coat of a plan, looked at after it went wrong.

    Parameters
    ----------
    plan
        The newest plan of the job
    step
        The id of what is done at the step: a coat, one side of it, or work on a coat
    known
        What the record knows

    Raises
    ------
    NotPossibleError
        No coat is on at that step yet.
    """

    def __init__(self, plan: Plan, step: str, known: OnRecord) -> None:
        self.plan, self.known = plan, known
        self.piece, self.operation = _operation(plan, step)
        at_step = None if self.operation.of_step is None else steps_by_id(plan.treatments)[self.operation.of_step]
        coat = None if at_step is None else _coat_of(*at_step)
        if at_step is None or coat is None:
            msg = f"no coat is on at the step '{self.operation.label}' of {self.operation.item} yet"
            raise NotPossibleError(msg)
        self.treatment: Treatment = at_step[0]
        self.step: CoatStep = coat
        self.catalogue: Catalogue = plan.catalogue
        self.finish: Finish = self.catalogue.finishes[coat.finish]

    # --- when -------------------------------------------------------------------------------------------------------

    @cached_property
    def every(self) -> dict[str, Operation]:
        """All operations of the job by id, with clean-ups and abrading again."""
        return {operation.id: operation for piece in self.plan.pieces for operation in all_operations(piece.operations)}

    @cached_property
    def coats(self) -> tuple[Operation, ...]:
        """The operations that put this coat on: one, or one a side; where one side is meant that alone."""
        if self.operation.finish is not None:
            return (self.operation,)
        return tuple(
            operation
            for operation in self.piece.operations
            if operation.of_step == self.step.id and operation.finish is not None
        )

    @cached_property
    def entries(self) -> tuple[Tick, ...]:
        """What was noted of this coat."""
        ids = {coat.id for coat in self.coats}
        return tuple(tick for tick in self.known.ticks if tick.kind == "done" and not ids.isdisjoint(tick.steps))

    @property
    def is_on(self) -> bool:
        """Whether it has been put on, by the record."""
        return all(coat.id in self.known.done for coat in self.coats)

    def to_take(self, step: str) -> CoatNeed | None:
        """Return what a coat was to take by the plan by which this one was put on; None where it takes nothing."""
        materials = self.plan.materials if self.known.materials_then is None else self.known.materials_then
        return materials.coat_of(step)

    @property
    def recorded(self) -> bool:
        """Whether the record says when it was put on."""
        return bool(self.entries)

    def ended(self, operation: Operation) -> datetime | None:
        """Return when an operation ended, or is to end; None where neither record nor plan says."""
        if operation.id in self.known.done:
            return self.known.done[operation.id]
        rows = [row.end for row in self.plan.timetable.steps if row.id == operation.id and row.kind == "attended"]
        return max(rows, default=None)

    def told_apart(self, operation: Operation, other: Operation) -> bool:
        """Return whether the record tells when each was done: what is ticked in one go has one time for all."""
        done = self.known.done
        return operation.id not in done or other.id not in done or done[operation.id] != done[other.id]

    def begun(self, operation: Operation) -> datetime | None:
        """Return when an operation began, or is to: as long before its end as it took, or takes."""
        if operation.id not in self.known.done:
            rows = [row.start for row in self.plan.timetable.steps if row.id == operation.id and row.kind == "attended"]
            return min(rows, default=None)
        entries = [tick for tick in self.known.ticks if operation.id in tick.steps and tick.took_min]
        minutes = entries[-1].took_min if entries else None
        return self.known.done[operation.id] - timedelta(minutes=minutes or operation.work_min)

    @cached_property
    def put_on(self) -> tuple[datetime, datetime] | None:
        """From when to when it was put on, or is to be; None where nothing says."""
        begun = [at for at in map(self.begun, self.coats) if at is not None]
        ended = [at for at in map(self.ended, self.coats) if at is not None]
        return (min(begun), max(ended)) if begun and ended else None

    # --- in what air ------------------------------------------------------------------------------------------------

    @cached_property
    def reading(self) -> Tick | None:
        """The last reading of the air beside this coat."""
        return next((entry for entry in reversed(self.entries) if entry.air_c is not None), None)

    @cached_property
    def damp_reading(self) -> Tick | None:
        """The last reading of the humidity beside this coat."""
        return next((entry for entry in reversed(self.entries) if entry.humidity_pct is not None), None)

    @cached_property
    def air(self) -> AirTable | None:
        """The air round it, as it was measured and else by the shop file, from two days before."""
        if self.put_on is None:
            return None
        weather = Weather(self.plan.shop.climate, self.plan.shop.time_zone)
        return air_table(weather, self.put_on[0] - _BEFORE, _AFTER_DAYS, self.plan.wishes.measured)

    def minute(self, moment: datetime) -> float:
        """Return a moment as a minute of ``air``.

        Raises
        ------
        ValueError
            Nothing says when the coat was put on, and so there is no air.
        """
        if self.air is None:
            msg = "nothing says when the coat was put on"
            raise ValueError(msg)
        return (moment - self.air.start) / timedelta(minutes=1)

    def warmth(self, since: datetime, until: datetime) -> list[AirThen]:
        """Return how warm it was in every piece of a stretch of time. [°C]"""
        return self._airs(since, until, "temperature_c")

    def damp(self, since: datetime, until: datetime) -> list[AirThen]:
        """Return how damp it was in every piece of a stretch of time. [% relative humidity]"""
        return self._airs(since, until, "humidity_pct")

    def _airs(self, since: datetime, until: datetime, of: Literal["temperature_c", "humidity_pct"]) -> list[AirThen]:
        if self.air is None:
            return []
        first, last = self.minute(since), self.minute(until)
        return [
            AirThen(getattr(air, of), self._measured((begins + ends) / 2, of))
            for begins, ends, air in self.air.pieces()
            if begins <= last and ends > first
        ]

    def _measured(self, minute: float, of: Literal["temperature_c", "humidity_pct"]) -> bool:
        """Return whether the air at a minute was measured."""
        if self.air is None:
            return False
        at = self.air.start + timedelta(minutes=minute)
        readings = self.plan.wishes.measured
        return any(reading.begins <= at < reading.ends and getattr(reading, of) is not None for reading in readings)

    def drying(self, finish: str) -> Drying | None:
        """Return how a finish dries in that air."""
        return None if self.air is None else Drying(self.catalogue.finishes[finish], self.catalogue, self.air)

    # --- over what, and what came after -----------------------------------------------------------------------------

    @cached_property
    def below(self) -> Operation | None:
        """The coat directly below, of the same side where there are sides; None where it is the first."""
        first, under = self.coats[0], self._under
        if not under:
            return None
        of_it = [
            operation
            for operation in self.piece.operations
            if operation.of_step == under[-1].id and operation.finish is not None
        ]
        return next(
            (operation for operation in of_it if operation.side in (first.side, "")), of_it[-1] if of_it else None
        )

    @property
    def layers(self) -> tuple[str, ...]:
        """The finishes that lie below, from the wood up."""
        return tuple(step.finish for step in self._under)

    @property
    def _under(self) -> list[CoatStep]:
        steps = self.treatment.steps
        return [step for step in steps[: steps.index(self.step)] if isinstance(step, CoatStep)]

    @property
    def between(self) -> tuple[TreatmentStep, ...]:
        """What the steps have done between the coat below and this one."""
        steps = self.treatment.steps
        at = steps.index(self.step)
        under = max((index for index, step in enumerate(steps[:at]) if step.finish is not None), default=-1)
        return steps[under + 1 : at]

    @cached_property
    def next_work(self) -> Operation | None:
        """What was done on it first, where anything was."""
        ids = {coat.id for coat in self.coats}
        later = [operation for operation in self.piece.operations if ids & {after.id for after in operation.after}]
        done = [
            operation for operation in later if operation.id in self.known.done and operation.of_step != self.step.id
        ]
        return min(done, key=lambda operation: self.known.done[operation.id], default=None)

    @property
    def timbers(self) -> dict[str, Timber]:
        """The timbers of its faces, by name."""
        names = dict.fromkeys(group.timber for group in self.step.groups)
        return {name: self.catalogue.timbers[name] for name in names}

    def of_steps(self, steps: Iterable[TreatmentStep]) -> list[Operation]:
        """Return the operations of some steps."""
        ids = {step.id for step in steps}
        return [operation for operation in self.piece.operations if operation.of_step in ids]


def _operation(plan: Plan, step: str) -> tuple[PlannedPiece, Operation]:
    for piece in plan.pieces:
        for operation in piece.operations:
            if step in (operation.id, operation.of_step):
                return piece, operation
            for hanging in (operation.clean_up, operation.again):
                if hanging is not None and hanging.id == step:
                    return piece, operation
    msg = f"{step} is no step of this plan"
    raise NotPossibleError(msg)


def _coat_of(treatment: Treatment, step: TreatmentStep) -> CoatStep | None:
    """Return a coat itself; of other work the coat that it is done to, the last before it."""
    at = treatment.steps.index(step)
    return next((earlier for earlier in reversed(treatment.steps[: at + 1]) if isinstance(earlier, CoatStep)), None)

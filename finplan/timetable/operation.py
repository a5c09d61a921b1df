"""What has to be done, item by item, and what each operation has to wait for."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from finplan.inputs import RoomUse, Skill
from finplan.learning import Times
from finplan.quantity import Range
from finplan.system import Side, TreatmentStep

STEP_MIN = 5
"""Attended work is planned in steps of five minutes, rounded up."""

Deed = Literal[
    "sand",
    "raise-grain",
    "fill",
    "coat",
    "abrade",
    "rub-out",
    "abrade-again",
    "clean-up",
    "glue-up",
    "joints",
    "mask",
    "put-together",
    "test",
    "wipe-down",
    "extra",
]
ONE_STRETCH: tuple[Deed, ...] = ("coat", "fill", "clean-up", "glue-up", "wipe-down")
"""What does not go on after a break."""
Stage = Literal["done", "recoat", "handle", "light-use", "cure"]
"""What an operation waits for: that another is done, or that the coat it put on has reached a stage."""


@dataclass(frozen=True, slots=True)
class After:
    """An operation that comes before, and what has to have been reached since."""

    id: str
    stage: Stage = "done"
    times_as_thick: float = 1.0
    """Of a coat that went wrong, how many times as thick it is where that is waited for."""


@dataclass(frozen=True, slots=True)
class Operation:
    """One attended operation on an item. Times in h; ``work_min`` is the typical time that is planned."""

    id: str
    item: str
    deed: Deed
    label: str
    step: TreatmentStep | None
    """The step of a treatment that it is, or is part of; None where it belongs to none."""
    hours: Range
    work_min: int
    skill: Skill
    room_use: RoomUse
    side: Side = ""
    """``FIRST_SIDE`` or ``SECOND_SIDE`` where it is of one side of an item; empty where it is of all faces."""
    after: tuple[After, ...] = ()
    finish: str | None = None
    """The finish that has to dry after it."""
    method: str | None = None
    wait_h: float = 0.0
    """Any other time until the next operation may start, whatever the air."""
    next_by_h: float | None = None
    """So long after its end the next operation is over, before the next break too; None where it may wait for ever."""
    soaks_h: float = 0.0
    """How long of its work is waiting until what was put on is wiped off, typically."""
    spare_h: float = 0.0
    """So much is kept free between the end of what follows on it and the next break, for a slow hand."""
    watch_h: float = 0.0
    """So long after its end somebody has to be there, to look again."""
    watch_by_h: float = 0.0
    """No later than so long after its end that is."""
    thickness: float = 1.0
    """How many times as thick as usual its coat is; drying takes the square of it as long. 1 or more."""
    next_waits_for: Stage = "recoat"
    """The stage that a coat has to reach before anything else is done to the item."""
    times_as_thick: float = 1.0
    """Where it went wrong, how many times as thick it is; for the customer it counts as it was meant, once mended."""
    abraded_first: bool | None = None
    """Whether a coat is abraded before the next one, by the steps; None where no other goes on it."""
    at_once: bool = False
    """Whether it goes on directly where what it waits for ends, by whoever did that, before anything else is begun."""
    on_bare_wood: bool = False
    """Whether it comes before the first coat."""
    over: str | None = None
    """The coat directly below, which must not have become too hard."""
    again: Operation | None = None
    """What it needs first where that coat has: abrading it."""
    clean_up: Operation | None = None
    """What comes after a coat, unless another with the same finish and tool follows at once."""
    number: int = 0
    """Which of a set of alike pieces it is done to, counted from 1; 0 where the piece is none."""
    kin: str = ""
    """The id of the same on the first piece of a set; empty where the piece is none."""
    extra: str | None = None
    """Which step beside the coats it is, a name in the catalogue's extra-steps; None where it is none."""
    ready_as: Stage | None = None
    """Of a coat, how far it has to be when its piece is ready, where that is not what the job asks for."""
    dusty: bool = False
    """Whether it is a step beside the coats that makes dust."""
    one_stretch: bool = False
    """Whether it does not go on after a break, though its like does."""
    on_lathe: bool = False
    """Whether it is sanding of which most is done on the lathe."""
    alone: bool = False
    """Whether nobody else is in its room: it disturbs what may hold lead, or cleans up after that."""

    def __hash__(self) -> int:
        return hash(self.id)  # rather than of all that hangs on it

    def in_set(self, number: int) -> Operation:
        """Return the same, with what hangs on it, as of a piece of a set."""
        again, clean_up = self.again and self.again.in_set(number), self.clean_up and self.clean_up.in_set(number)
        return replace(self, number=number, again=again, clean_up=clean_up)

    def as_kin_of(self, first: Operation) -> Operation:
        """Return the same, with what hangs on it, as what is done to the first piece of a set."""
        again = self.again and first.again and self.again.as_kin_of(first.again)
        clean_up = self.clean_up and first.clean_up and self.clean_up.as_kin_of(first.clean_up)
        return replace(self, kin=first.id, again=again, clean_up=clean_up)

    def at_pace(self, times: Times) -> Operation:
        """Return the same, with what hangs on it, as long as such work takes in a shop with times of its own."""
        factor = times.of_work(self.deed)
        again, clean_up = self.again and self.again.at_pace(times), self.clean_up and self.clean_up.at_pace(times)
        hours = self.hours.scaled(factor)
        minutes = self.work_min if factor == 1 else planned_minutes(hours.typical)
        soaks_h = self.soaks_h * factor
        return replace(self, hours=hours, work_min=minutes, soaks_h=soaks_h, again=again, clean_up=clean_up)

    @property
    def of_step(self) -> str | None:
        """The id of its step; None where it belongs to none."""
        return None if self.step is None else self.step.id

    @property
    def coated_with(self) -> str:
        """The finish of a coat.

        Raises
        ------
        ValueError
            Nothing has to dry after it.
        """
        if self.finish is None:
            msg = f"nothing has to dry after {self.id}"
            raise ValueError(msg)
        return self.finish

    @property
    def makes_dust(self) -> bool:
        """Whether it must not happen beside a wet coat."""
        return self.dusty or self.deed in ("sand", "joints", "abrade", "rub-out", "abrade-again")

    @property
    def pausable(self) -> bool:
        """Whether it may go on after a break."""
        return not self.one_stretch and self.deed not in ONE_STRETCH

    @property
    def sprays(self) -> bool:
        """Whether it needs the place for spraying."""
        return self.skill == "spraying" and self.deed != "clean-up"


def planned_minutes(hours: float) -> int:
    """Return hours as minutes, rounded up to whole steps.

    >>> planned_minutes(0.34)
    25
    """
    return max(STEP_MIN, math.ceil(hours * 60 / STEP_MIN - 1e-9) * STEP_MIN)


def clean_ups(operations: Iterable[Operation]) -> Iterator[Operation]:
    """Give the clean-ups of all coats, as if none were shared."""
    return (operation.clean_up for operation in operations if operation.clean_up is not None)


def all_operations(operations: Iterable[Operation]) -> list[Operation]:
    """Return operations with the clean-ups and the abrading that may come with them."""
    listed = list(operations)
    again = [operation.again for operation in listed if operation.again is not None]
    return [*listed, *clean_ups(listed), *again]

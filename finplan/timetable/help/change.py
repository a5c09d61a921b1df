"""Something that a maker could change, and how near that is to what was asked for."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from typing import get_args

from finplan.timetable.job import Job
from finplan.timetable.remedy import Remedy
from finplan.timetable.timetable import ChangeKind

NEAREST: tuple[ChangeKind, ...] = get_args(ChangeKind)
"""The kinds of change, the nearest to what was asked for first."""


@dataclass(frozen=True, slots=True)
class Change:
    """Something that a maker could change, with the job as it then is; None where that cannot be had."""

    remedy: Remedy
    kind: ChangeKind
    job: Callable[[], Job | None]
    distance: int = 0
    """How far it is from what was asked for, against others of its kind; those as far are told by what they gain."""


@dataclass(frozen=True, slots=True)
class Way:
    """Changes that are one another's like, from the smallest on: of them only the smallest that helps is told.

    A step holds changes that are equally small, such as one more person on this day or on that; the one that gains
    most is taken. Where the last step does not help, none is taken to.
    """

    steps: tuple[tuple[Change, ...], ...]
    each_helps_more: bool = False
    """Whether every step helps where the one before does, so that the smallest is found by halving."""

    @classmethod
    def of(cls, change: Change) -> Way:
        """Return a way of one change."""
        return cls(((change,),))


Ways = Callable[[Collection[str]], Sequence[Way]]
"""Gives what else could be changed, of the pieces of these keys."""


def no_ways(_: Collection[str]) -> Sequence[Way]:
    """Give nothing that could be changed."""
    return ()

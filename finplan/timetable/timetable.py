"""The result: who does what when, how late it may start, and what clashes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Literal

from finplan.system import Side
from finplan.timetable.note import Note
from finplan.timetable.operation import STEP_MIN, Deed
from finplan.timetable.remedy import Remedy
from finplan.timetable.requirement import Requirement

Status = Literal["optimal", "feasible", "impossible", "not-found"]
"""With a plan, proven best or not; without one, proven that there is none or not."""
ChangeKind = Literal[
    "start", "heat", "person", "hours", "saturday", "booth", "method", "coats", "system", "other system", "date"
]
"""What a maker could change, the nearest to what was asked for first: begin sooner, the same finish in a warmer
shop, more hands, a booth, no spray gun, fewer coats, a system of the same kind, one of another kind, a later date."""


@dataclass(frozen=True, slots=True)
class TimetableStep:
    """A stretch of a person's work, or of drying. Times know their zone."""

    id: str
    piece: str
    item: str
    step: str
    kind: Literal["attended", "drying"]
    deed: Deed
    start: datetime
    end: datetime
    person: str | None
    room: str
    next_from: datetime | None = None
    """Of a coat: from when another may go on it."""
    next_until: datetime | None = None
    """Until when one may without being abraded first."""
    handle_from: datetime | None = None
    """From when it is fit to handle."""
    alone_until: datetime | None = None
    """Until when nobody touches it. For another coat it has to be fit to be recoated, as a last coat or to be turned
    over fit to handle, to be rubbed out cured. There the row of its drying ends."""
    abraded_first: bool | None = None
    """Whether it is planned to be abraded before the next coat, so that ``next_until`` does not bind; None where no
    other goes on it."""
    slow_below_c: float | None = None
    """Where it is at some time colder than it may be put on: below which temperature, so that it dries slowly. [°C]"""
    still_below_c: float | None = None
    """Where it is at some time too cold to dry: below which temperature it then stands still. [°C]"""
    film_fails_below_c: float | None = None
    """Where it gets so cold before it is through-dry that its film may not form: below which temperature. [°C]"""
    critical: bool = False
    """Whether the delivery moves if it takes longer."""
    of_step: str | None = None
    """The id of the step of a treatment that it belongs to; None where it belongs to none."""
    side: Side = ""
    """``FIRST_SIDE`` or ``SECOND_SIDE`` where it is of one side of an item; empty where it is of all faces."""
    number: int | None = None
    """What its step is called at the bench: 1, 2, 3 …, the same on everything that is printed."""
    set_number: int = 0
    """Which of a set of alike pieces it is done to, counted from 1; 0 where the piece is none."""
    kin: str = ""
    """The id of the same on the first piece of a set; empty where the piece is none."""
    key: str = ""
    """What goes before all ids of its piece; empty where there is one piece only."""
    extra: str | None = None
    """Which step beside the coats it is, a name in the catalogue's extra-steps; None where it is none."""
    dries: str | None = None
    """Of drying, the id of the coat that dries; of work None."""

    def __post_init__(self) -> None:
        if (self.kind == "drying") is (self.dries is None):
            msg = f"{self.id}: of drying, and of that alone, it is told which coat dries"
            raise ValueError(msg)

    @property
    def work(self) -> str:
        """The id of what was done: its own, or of drying that of the coat."""
        return self.id if self.dries is None else self.dries

    @property
    def of_set(self) -> int | None:
        """Its number in a set; None where the piece is none."""
        return self.set_number or None


@dataclass(frozen=True, slots=True)
class PieceTimes:
    """One piece: when it is begun, ready and delivered, and what is left between. Spans in h."""

    piece: str
    start: datetime
    ready: datetime
    deliver: datetime | None
    buffer_h: float | None
    """Clock hours from ready to delivery."""
    buffer_working_h: float | None
    """Of them, those in which somebody works."""
    in_time: float | None = None
    """How likely the date is kept; None where there is none, or where it was not asked."""


@dataclass(frozen=True, slots=True)
class WouldFit:
    """A change that makes the plan fit, or as sure as is wanted, tried."""

    change: Remedy
    kind: ChangeKind
    ready: datetime
    """When all would be ready if work began at once, at the latest."""
    gain_h: float | None = None
    """By how many clock hours sooner what is late would be ready; None where nothing was reckoned without it, or
    nothing is late without it."""
    gain_working_h: float | None = None
    """Of them, those in which somebody works."""
    in_time: float | None = None
    """How likely the date that is least sure is then kept."""


@dataclass(frozen=True, slots=True)
class Clash:
    """A requirement that cannot be kept, and by how much."""

    requirement: Requirement
    short_by_h: float | None
    would_fit: tuple[WouldFit, ...] = ()


@dataclass(frozen=True, slots=True)
class Buffer:
    """What is wanted between ready and delivery: so many clock hours, or so many in which somebody works."""

    wanted_h: float
    working: bool
    sooner_h: Mapping[str, float] = field(default_factory=dict, hash=False)
    """By piece key, how many clock hours sooner than that a piece has to be ready, so that its date is sure."""
    at_most_h: Mapping[str, float] = field(default_factory=dict, hash=False)
    """By piece key, how much is left before it where all that is wanted cannot be had, in the same measure."""


NO_BUFFER = Buffer(0.0, working=False)


@dataclass(frozen=True, slots=True)
class Timetable:
    """Who does what when.

    With several pieces ``ready`` and ``deliver`` are those of the piece with the smallest buffer. ``gap_h`` is how much
    better the first thing that is not proven best could still be: the buffer, the start, or the finish.
    """

    status: Status
    steps: tuple[TimetableStep, ...] = ()
    pieces: tuple[PieceTimes, ...] = ()
    start: datetime | None = None
    latest_safe_start: datetime | None = None
    """The latest start that still meets every date as surely as is wanted; None where none does."""
    earliest_ready: datetime | None = None
    """When all would be ready if work began at once."""
    ready: datetime | None = None
    deliver: datetime | None = None
    buffer_h: float | None = None
    buffer: Buffer = field(default_factory=lambda: Buffer(0.0, working=False))
    working_day_h: float = 24.0
    """How long somebody works in this shop on a day on which anybody does, on average."""
    gap_h: float | None = None
    in_time_probability: float | None = None
    """How likely every date is kept, by living through the plan with faster and slower work and drying."""
    in_time_wanted: float = 0.0
    """How likely the shop wants each date to be kept."""
    surely_ready: datetime | None = None
    """When all is ready as surely as that."""
    cured: tuple[tuple[str, datetime], ...] = ()
    """Per item, when its finish has cured fully; of several pieces with the key of its piece before it."""
    clashes: tuple[Clash, ...] = ()
    would_be_sure: tuple[WouldFit, ...] = ()
    """Where a date is not kept as surely as is wanted: changes that were tried, with which every one would be."""
    would_be_in_time: tuple[WouldFit, ...] = ()
    """Where what is left of a job misses a date: changes that were tried, with which every one would be kept."""
    notes: tuple[Note, ...] = ()
    """What was assumed because the shop cannot quite do it."""
    air_waits_h: Mapping[str, float] = field(default_factory=dict, hash=False)
    """Where it was planned so: by the id of rows, how long after them nothing makes dust in their room. [h]"""
    cut_short: bool = False
    """Whether the time given ended the search: another run may come out otherwise."""

    @property
    def has_plan(self) -> bool:
        """Whether there is a plan: else ``clashes`` says what stands in its way."""
        return self.status in ("optimal", "feasible")

    @property
    def buffer_wanted_h(self) -> float:
        """The buffer wanted, in its own measure. [h]"""
        return self.buffer.wanted_h

    @property
    def unsure(self) -> tuple[PieceTimes, ...]:
        """The pieces whose dates are not kept as surely as is wanted."""
        return tuple(
            piece for piece in self.pieces if piece.in_time is not None and piece.in_time < self.in_time_wanted
        )

    @property
    def short_of_buffer(self) -> bool:
        """Whether less is left than was wanted, by more than the steps in which a plan tells time."""
        kept = [piece.buffer_working_h if self.buffer.working else piece.buffer_h for piece in self.pieces]
        return any(hours is not None and hours < self.buffer.wanted_h - STEP_MIN / 60 for hours in kept)

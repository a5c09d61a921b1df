"""The keys of who does what when."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from finplan.data.row import CountFromOne, NotNegative, Share, row
from finplan.timetable import ChangeKind, Deed, Status


@row
class PieceTimesRow:
    """Times of a piece."""

    piece: str
    """Its name."""
    start: datetime
    """When it is begun."""
    ready: datetime
    """When it is ready."""
    deliver: datetime | None
    """When it is delivered."""
    buffer_h: float | None
    """Between the two, by the clock. [h]"""
    buffer_working_h: float | None
    """Of it, the hours in which somebody works. [h]"""
    in_time_probability: Share | None
    """How likely its date is kept; null where it has none."""


@row
class StretchRow:
    """Stretch of work or drying."""

    id: str
    """Of the step; one that a break interrupts stands there several times."""
    number: CountFromOne | None
    """What the step is called on paper and when it is ticked; what dries has that of its coat."""
    piece: str
    """The piece."""
    item: str
    """The item."""
    step: str
    """As it stands on the sheet."""
    kind: Literal["attended", "drying"]
    """`attended` is a person's time."""
    deed: Deed
    """What is done, or was before it dries."""
    start: datetime
    """When it begins."""
    end: datetime
    """When it ends."""
    person: str | None
    """Who does it; null while it dries."""
    room: str
    """Where."""
    next_from: datetime | None
    """Of a coat: from when the next may go on; null where no other comes."""
    next_until: datetime | None
    """Until when it may without being abraded first; null where there is no upper end, or no other comes."""
    abraded_first: bool | None
    """Of a coat: whether it is planned to be abraded before the next one, as a step of its own or since that comes too
    late otherwise; then `next_until` does not bind, and may lie before `next_from`. Null where no other goes on it."""
    handle_from: datetime | None
    """Of a coat: from when the item is fit to handle."""
    alone_until: datetime | None
    """Of a coat: until when nobody touches it. For another coat it has to be fit for that, as a last coat or to be
    turned over fit to handle, to be rubbed out cured; there the row of its drying ends."""
    slow_below_c: float | None
    """Where it is at some time colder than it may be put on, and so dries slowly: below which temperature. [°C]"""
    stands_still_below_c: float | None
    """Where it is at some time too cold to dry: below which temperature. [°C]"""
    film_fails_below_c: float | None
    """Where it gets so cold before it is through-dry that its film may not form: below which temperature. [°C]"""
    critical: bool
    """Whether the delivery moves if it takes longer."""
    of_set: CountFromOne | None = None
    """Which of a set of alike pieces it is of, counted from 1; left out where the piece is none."""
    extra: str | None = None
    """Which step beside the coats it is, a name in the catalogue's extra-steps; left out where it is none."""


@row
class WouldFitRow:
    """What would fit."""

    change: str
    """The change."""
    kind: ChangeKind
    """What is changed, the nearest to what was asked for first: the start, heat, one more person, longer days, a
    Saturday, a booth, how it is put on, fewer coats, a system of the same kind or of another, the date."""
    ready: datetime
    """By when all would be ready with it if work began at once."""
    gain_h: float | None
    """By how much sooner what is late would be ready; null where the date is what moves, nothing could be planned
    without it, or nothing is late without it. [h]"""
    gain_working_h: float | None
    """Of that, the time in which somebody works; null likewise. [h]"""
    in_time_probability: float | None
    """How likely the least sure date would be kept; null where there is none."""
    told: str
    """All of it in words."""


@row
class ClashRow:
    """Clash."""

    requirement: str
    """What cannot be kept."""
    short_by_h: NotNegative | None
    """By how much; null where that is no time. [h]"""
    would_fit: tuple[WouldFitRow, ...]
    """Changes that were tried and help, the nearest to what was asked for first, and of one kind that which gains
    most."""


@row
class TimetableRow:
    """Timetable."""

    format: Literal["finplan-timetable/1"]
    """Says what this is."""
    status: Status
    """`optimal` is proven to be the best, `feasible` is not; `impossible`: there is none; `not-found`: none was found,
    and that there is none is not proven."""
    gap: NotNegative | None
    """How much better another plan could be; null where none could. [h]"""
    start: datetime | None
    """When work begins."""
    latest_safe_start: datetime | None
    """The latest start that keeps each date as surely as the shop wants; null where none does."""
    earliest_ready: datetime | None
    """When all could be ready if work began at once; null where it was not asked for."""
    ready: datetime | None
    """When the piece with the smallest buffer is ready."""
    deliver: datetime | None
    """When that piece is delivered."""
    buffer_h: float | None
    """Between the two, by the clock. [h]"""
    buffer_wanted_h: NotNegative
    """What the shop wants between them, in its measure. [h]"""
    buffer_measure: Literal["working time", "clock time"]
    """Of the buffer that is wanted."""
    short_of_buffer: bool
    """Whether less is left than was wanted."""
    cut_short: bool
    """Whether the time given ended the search: another run may come out otherwise."""
    pieces: tuple[PieceTimesRow, ...]
    """The times of each piece."""
    steps: tuple[StretchRow, ...]
    """Every stretch of work and of drying, in order; none where it is impossible."""
    cured: dict[str, datetime]
    """When each item has cured fully, by the key of its piece and its name."""
    clashes: tuple[ClashRow, ...]
    """What cannot be kept; empty unless it is impossible."""
    would_be_in_time: tuple[WouldFitRow, ...]
    """Where what is left of a job misses a date: changes that were tried and with which every one is kept, the nearest
    to what was asked for first."""
    would_be_sure: tuple[WouldFitRow, ...]
    """Where a date is not kept as surely as the shop wants: changes that were tried and with which all are, the
    nearest to what was asked for first, and of one kind the surest."""
    notes: tuple[str, ...]
    """What was assumed because the shop cannot quite do it."""

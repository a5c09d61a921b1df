"""What a timetable is made for: pieces with their operations and dates, in one shop."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time
from typing import Literal

from finplan.catalogue import Catalogue
from finplan.climate import Measured
from finplan.inputs import Shop
from finplan.learning import NO_TIMES, Times
from finplan.reading import GivenDate
from finplan.timetable.operation import Operation

ReadyFor = Literal["handle", "light-use", "cure"]
"""What the customer may do with a piece when it is delivered: lift it with care, use it lightly, anything."""
_LAST_MINUTE = 24 * 60 - 1


@dataclass(frozen=True, slots=True)
class PieceWork:
    """One piece: what is done to it, and by when."""

    piece: str
    key: str
    """What all ids of its operations begin with; empty where there is one piece only."""
    operations: tuple[Operation, ...]
    rack: Mapping[str, tuple[int, int]]
    """Flat places and hooks that an item takes while it is wet."""
    deliver: GivenDate | None
    done: Mapping[str, datetime] = field(default_factory=dict)
    """When operations ended that have been done already, by their id."""
    owed: tuple[Operation, ...] = ()
    """Clean-ups of coats that are on: to be done at once."""

    @property
    def open(self) -> tuple[Operation, ...]:
        """What is still to be done; first of all the clean-ups that are owed."""
        return (*self.owed, *(operation for operation in self.operations if operation.id not in self.done))

    @property
    def coats_on(self) -> tuple[Operation, ...]:
        """The coats that have been put on already."""
        return tuple(
            operation for operation in self.operations if operation.finish is not None and operation.id in self.done
        )

    def operation(self, name: str) -> Operation:
        """Return an operation by its id."""
        return next(operation for operation in self.operations if operation.id == name)

    def following(self, coat: Operation) -> Operation | None:
        """Return what is done next to the item of a coat."""
        same_item = (operation for operation in self.operations if operation.item == coat.item)
        return next(
            (operation for operation in same_item if any(after.id == coat.id for after in operation.after)), None
        )


@dataclass(frozen=True, slots=True)
class Job:
    """Pieces to be finished in one shop, none of it before *earliest*."""

    pieces: tuple[PieceWork, ...]
    catalogue: Catalogue
    shop: Shop
    earliest: datetime
    ready_for: ReadyFor = "light-use"
    lost_day: date | None = None
    """Of the closed days the one on which work was planned."""
    measured: tuple[Measured, ...] = ()
    """The air as it was, in the place of the shop file's; where two speak of the same time, the later one counts."""
    times: Times = NO_TIMES
    """What the shop has learnt of its times: operations and catalogue have it in them."""
    air_waits_h: Mapping[str, float] = field(default_factory=dict)
    """By operation, how long after it nothing makes dust in its room, for its vapour; none of what is not in it. [h]"""

    def without_owed(self, clean_ups: Collection[Operation]) -> Job:
        """Return the same without some of the clean-ups that are owed: their tools are in use again at once."""
        pieces = (
            replace(piece, owed=tuple(tail for tail in piece.owed if tail not in clean_ups)) for piece in self.pieces
        )
        return replace(self, pieces=tuple(pieces)) if clean_ups else self

    def delivery(self, piece: PieceWork) -> datetime | None:
        """Return the moment at which a piece is delivered."""
        return delivery_time(piece.deliver, self.shop)


def delivery_time(deliver: GivenDate | None, shop: Shop) -> datetime | None:
    """Return the moment of delivery; a date without a time is the end of work on such a day of the week."""
    if deliver is None:
        return None
    at = deliver.clock or closing_time(shop, deliver.day)
    return datetime.combine(deliver.day, at, tzinfo=shop.time_zone)


def closing_time(shop: Shop, day: date) -> time:
    """Return when work ends on such a day of the week; where none is done then, on any day."""
    weeks = [person.hours for person in shop.people]
    that_day = [shift.end_min for hours in weeks for shift in hours[day.weekday()]]
    any_day = [shift.end_min for hours in weeks for week_day in hours for shift in week_day]
    close = min(max(that_day or any_day, default=_LAST_MINUTE), _LAST_MINUTE)
    return time(close // 60, close % 60)

"""A finished timetable read back: each operation with its rows, the faces it is done to, and its drying.

It shares no code with the program's model, calendar or climate: hours, air and drying are worked out anew from the
files (``own_hours``, ``own_air``).
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, timedelta
from functools import cached_property

from finplan.catalogue import Finish
from finplan.planning import PlannedPiece, Wishes
from finplan.reading import GivenDate
from finplan.timetable import Operation, Timetable, TimetableStep
from tests.timetable.own_air import OwnAir
from tests.timetable.own_hours import OwnHours

HOUR = timedelta(hours=1)
_LOOK = timedelta(days=70)
_FACING = {"top": "underside", "front": "back"}


@dataclass(frozen=True)
class Planned:
    """A timetable with what it was made from."""

    pieces: tuple[PlannedPiece, ...]
    deliveries: tuple[GivenDate | None, ...]
    now: datetime
    wishes: Wishes
    timetable: Timetable
    slot: timedelta = timedelta(minutes=5)


@dataclass(frozen=True)
class Work:
    """An operation of a piece with its rows; without rows and with the same start and end where it was done before."""

    name: str
    piece: int
    place: int
    """Its place among the operations of its item."""
    operation: Operation
    rows: tuple[TimetableStep, ...]
    start: datetime
    end: datetime
    faces: frozenset[tuple[str, str]] = field(default_factory=frozenset)
    """Part and face of all that it is done to."""

    @property
    def minutes(self) -> int:
        return round(sum((row.end - row.start).total_seconds() for row in self.rows) / 60)


class ReadBack:
    """A timetable beside the files that it was made from, the hours and the air worked out anew."""

    def __init__(self, planned: Planned) -> None:
        self.planned, self.timetable = planned, _universal(planned.timetable)
        self.pieces = planned.pieces
        self.shop = planned.pieces[0].source.shop
        self.catalogue = planned.pieces[0].source.catalogue
        self.keys = [piece.key for piece in self.pieces]
        self.attended = [row for row in self.timetable.steps if row.kind == "attended"]
        self.rows: dict[str, list[TimetableStep]] = defaultdict(list)
        for row in self.attended:
            self.rows[row.id].append(row)
        moments = [moment for row in self.timetable.steps for moment in (row.start, row.end)]
        moments += [one.ready for one in self.timetable.pieces] + list(planned.wishes.done.values())
        moments += [one.deliver for one in self.timetable.pieces if one.deliver is not None]
        first, last = min([planned.now, *moments]).astimezone(UTC), max(moments).astimezone(UTC)
        lost = frozenset({planned.wishes.lost_day}) if planned.wishes.lost_day else frozenset[date]()
        self.hours = OwnHours.of(self.shop, first.date() - timedelta(days=2), (last + _LOOK).date(), lost)
        self.air = OwnAir(self.shop, self.catalogue, first - timedelta(days=1), last + _LOOK)

    def open(self) -> list[tuple[str, Operation]]:
        """Return what still has to be done, by its name in the timetable."""
        return [
            (operation.id, operation)
            for piece in self.pieces
            for operation in piece.operations
            if operation.id not in self.planned.wishes.done
        ]

    @cached_property
    def works(self) -> dict[str, Work]:
        """Every operation of every piece with its time."""
        found: dict[str, Work] = {}
        for number, piece in enumerate(self.pieces):
            places: dict[str, int] = defaultdict(int)
            for operation in piece.operations:
                name = operation.id
                rows = tuple(self.rows.get(name, ()))
                end = rows[-1].end if rows else self.planned.wishes.done[name].astimezone(UTC)
                start = rows[0].start if rows else end
                place = places[operation.item]
                places[operation.item] += 1
                found[name] = Work(name, number, place, operation, rows, start, end, _faces(operation))
        return found

    @cached_property
    def items(self) -> dict[tuple[int, str], list[Work]]:
        """The operations of every item, in their order; those of the whole piece by themselves."""
        found: dict[tuple[int, str], list[Work]] = defaultdict(list)
        for work in self.works.values():
            found[work.piece, work.operation.item].append(work)
        return found

    @property
    def coats(self) -> list[Work]:
        return [work for work in self.works.values() if work.operation.finish is not None]

    def finish(self, work: Work) -> Finish:
        return self.catalogue.finishes[work.operation.finish or ""]

    def dry(self, coat: Work, hours: float, phase: str = "through") -> datetime | None:
        """Return when a coat has dried for so long; a heavier one takes the square of its thickness as long."""
        return self.air.reached(self.finish(coat), phase, coat.end, hours * coat.operation.thickness**2)

    def near(self, later: datetime, sooner: datetime, finish: Finish, hours: float) -> bool:
        """Whether a moment is another, so many hours of drying on, rounded up to the grid at both of its ends."""
        slack = timedelta(minutes=1) + 4 * self.air.tolerance(finish) * hours * HOUR
        return -slack <= later - sooner < 2 * self.planned.slot - timedelta(minutes=5) + slack

    def is_dry(self, coat: Work, hours: float, moment: datetime, phase: str = "through") -> bool:
        dry = self.dry(coat, hours, phase)
        return dry is not None and dry <= moment + timedelta(seconds=1)

    def first_room(self, use: str) -> str:
        return next(name for name, room in self.shop.rooms.items() if use in room.for_)


def _universal(timetable: Timetable) -> Timetable:
    """Return a timetable in universal time: times in one zone are compared by the wall, which a clock change moves."""

    def at(moment: datetime | None) -> datetime | None:
        return None if moment is None else moment.astimezone(UTC)

    steps = (
        replace(
            row,
            start=row.start.astimezone(UTC),
            end=row.end.astimezone(UTC),
            next_from=at(row.next_from),
            next_until=at(row.next_until),
            handle_from=at(row.handle_from),
            alone_until=at(row.alone_until),
        )
        for row in timetable.steps
    )
    pieces = (
        replace(one, start=one.start.astimezone(UTC), ready=one.ready.astimezone(UTC), deliver=at(one.deliver))
        for one in timetable.pieces
    )
    return replace(
        timetable,
        steps=tuple(sorted(steps, key=lambda row: row.start)),
        pieces=tuple(pieces),
        start=at(timetable.start),
        ready=at(timetable.ready),
        deliver=at(timetable.deliver),
    )


def _faces(operation: Operation) -> frozenset[tuple[str, str]]:
    """Return the faces that an operation is done to; of a coat in two goes, those of its side."""
    step = operation.step
    if step is None:
        return frozenset()
    faces = {(group.part, face) for group in step.groups for face in group.faces}
    names = {face for _, face in faces}
    second = next((other for one, other in _FACING.items() if {one, other} <= names), None)
    if operation.id.endswith("/first-side"):
        faces = {one for one in faces if one[1] == second}
    elif operation.id.endswith("/second-side"):
        faces = {one for one in faces if one[1] != second}
    return frozenset(faces)

"""What is fetched out of a room that nobody comes into without a mask, or is worked on in it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from finplan.safety.report import SessionReport
from finplan.system import whole_piece_item
from finplan.timetable import TimetableStep


@dataclass(frozen=True, slots=True)
class Fetched:
    """Where what is worked on stands when its work begins, or where it is done, while nobody else comes in there."""

    room: str
    until: datetime
    """Until when nobody else does: of isocyanate until it has gone, of other vapour while it is put on.

    Where the work itself is done there, until its air is fit to work in.
    """
    mask: str | None
    """A name in the catalogue's respirators, which lets in who wears it; None of isocyanate, for which none does."""
    done_there: bool = False
    """Whether the work itself is done there."""


@dataclass(frozen=True, slots=True)
class _Shut:
    """A room into which nobody else comes from a moment on."""

    since: datetime
    there: Fetched
    to_work: datetime
    """Until when its air is not fit to work in."""
    by: tuple[str, ...]
    """The ids of the rows that shut it: to what they put on later nobody waits who does it himself."""

    def keeps_out(self, row: TimetableStep, stands_in: set[str], told: set[str]) -> Fetched | None:
        """Return what a row is told whose things stand in rooms; None where this room does not matter to it.

        ``told`` are the ids of rows that say by themselves what is worn for their own vapour, or that they wait for it.
        """
        if self.there.room != row.room:
            in_time = self.since <= row.start < self.there.until and row.id not in self.by
            return self.there if self.there.room in stands_in and in_time else None
        there = replace(self.there, until=self.to_work, done_there=True)
        return there if self.since < row.end and row.start < self.to_work and row.id not in told else None


def fetched(rows: Sequence[TimetableStep], sessions: Sequence[SessionReport]) -> dict[str, Fetched]:
    """Return what is fetched so, by the ids of the rows for which it is.

    Parameters
    ----------
    rows
        Of the timetable, in order of time
    sessions
        What is reckoned of the air
    """
    ends = {row.id: row.end for row in sorted(rows, key=lambda row: row.end.timestamp()) if row.kind == "attended"}
    shut = list(_shut(sessions, ends))
    isocyanate = {name for report in sessions if report.session.isocyanate for name in report.steps}
    own = {name for report in sessions for name in report.steps}
    own |= {early.row.id for report in sessions for early in report.too_early}
    fetched_for: dict[str, Fetched] = {}
    stands: dict[tuple[str, str], str] = {}
    for row in sorted(rows, key=lambda row: row.start.timestamp()) if shut else ():
        if row.kind == "drying":
            stands[row.key, row.item] = row.room
        if row.kind == "drying" or row.deed == "clean-up":
            continue
        rooms = {room for (key, item), room in stands.items() if key == row.key and item in _worked_on(row, stands)}
        told = [room.keeps_out(row, rooms, isocyanate if room.there.mask is None else own) for room in shut]
        waits = [there for there in told if there is not None]
        if waits:
            fetched_for.setdefault(row.id, max(waits, key=lambda wait: wait.until))
        for item in _worked_on(row, stands):
            stands[row.key, item] = row.room
    return fetched_for


def _shut(sessions: Sequence[SessionReport], ends: Mapping[str, datetime]) -> Iterator[_Shut]:
    for report in sessions:
        session = report.session
        over = [ends[name] for name in report.steps if name in ends]
        if report.start is None:
            continue
        if session.isocyanate and report.fit_to_enter is not None:
            there = Fetched(session.room, report.fit_to_enter, None)
            yield _Shut(report.start, there, report.fit_to_enter, report.steps)
        elif not session.isocyanate and session.mask is not None and over:
            there = Fetched(session.room, max(over), session.mask)
            yield _Shut(report.start, there, max([*over, *report.fit_to_sand]), report.steps)


def _worked_on(row: TimetableStep, stands: dict[tuple[str, str], str]) -> tuple[str, ...]:
    """Return the items that a row works on: all of its piece that were coated, where it is done to the whole of it."""
    if row.item == whole_piece_item(row.set_number):
        return tuple(item for key, item in stands if key == row.key)
    return (row.item,)

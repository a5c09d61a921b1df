"""What is fetched out of a room that nobody comes into without a mask, or is worked on in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from finplan.safety.report import SessionReport
from finplan.system import WHOLE_PIECE
from finplan.timetable import TimetableStep


@dataclass(frozen=True, slots=True)
class Fetched:
    """Where what is worked on stands when its work begins, or where it is done, while nobody else comes in there."""

    room: str
    until: datetime
    """Until when nobody else does: of isocyanate until it has gone, of other vapour while it is put on."""
    mask: str | None
    """A name in the catalogue's respirators, which lets in who wears it; None of isocyanate, for which none does."""
    done_there: bool = False
    """Whether the work itself is done there."""


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
    shut: list[tuple[datetime, Fetched]] = []
    own = {name for report in sessions if report.session.isocyanate for name in report.steps}
    for report in sessions:
        session = report.session
        over = [ends[name] for name in report.steps if name in ends]
        until = report.fit_to_enter if session.isocyanate else max(over, default=None)
        if report.start is not None and until is not None and (session.isocyanate or session.mask is not None):
            shut.append((report.start, Fetched(session.room, until, None if session.isocyanate else session.mask)))
    fetched_for: dict[str, Fetched] = {}
    stands: dict[tuple[str, str], str] = {}
    for row in sorted(rows, key=lambda row: row.start.timestamp()) if shut else ():
        if row.kind == "drying":
            stands[row.key, row.item] = row.room
        if row.kind == "drying" or row.deed == "clean-up":
            continue
        rooms = {room for (key, item), room in stands.items() if key == row.key and item in _worked_on(row, stands)}
        waits = [
            replace(there, done_there=there.room == row.room)
            for start, there in shut
            if start <= row.start < there.until
            and (
                (there.room in rooms and there.room != row.room)
                or (there.room == row.room and there.mask is None and row.id not in own)
            )
        ]
        if waits:
            fetched_for.setdefault(row.id, max(waits, key=lambda wait: wait.until))
        for item in _worked_on(row, stands):
            stands[row.key, item] = row.room
    return fetched_for


def _worked_on(row: TimetableStep, stands: dict[tuple[str, str], str]) -> tuple[str, ...]:
    """Return the items that a row works on: all of its piece that were coated, where it is done to the whole of it."""
    if row.item.startswith(WHOLE_PIECE):
        return tuple(item for key, item in stands if key == row.key)
    return (row.item,)

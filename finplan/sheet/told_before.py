"""What is ticked and minded before a session, where the day has told it already: it is not printed again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from finplan.listing import listed
from finplan.sheet.sessions import WorkSession
from finplan.sheet.step_row import StepRow

_SHORT = 40
"""Letters of a line that is said again rather than looked up."""


@dataclass(frozen=True, slots=True)
class ToldBefore:
    """What was told already."""

    ticks: dict[tuple[str, ...], WorkSession] = field(default_factory=dict)
    """By what is ticked before them, the sessions before which that stands in full."""
    said: dict[str, str] = field(default_factory=dict)
    """By the line, at which step beside the coats it stands."""
    warned: dict[tuple[str, ...], str] = field(default_factory=dict)
    """By the warnings, at which step they stand."""


def told_once(
    of_people: Sequence[Sequence[WorkSession]], told: ToldBefore | None = None
) -> tuple[tuple[WorkSession, ...], ...]:
    """Return the sessions of a day's people, in the order in which they are printed, each knowing what was told before.

    Several ticks that were *told* before an earlier session, whosever it was, are one tick, *all of it again*; a
    caution that was told there is not told anew. A room is named where it changes. How a step beside the coats is done,
    and what is minded in it, is told at the first of its kind, and what the cold does at the first coat to which it
    does that.
    """
    told = told or ToldBefore()
    return tuple(
        tuple(
            _warned_once(_without_said(work_session, told.said), told.warned)
            for work_session in _of_one(sessions, told.ticks)
        )
        for sessions in of_people
    )


def _warned_once(session: WorkSession, warned: dict[tuple[str, ...], str]) -> WorkSession:
    """Return a session whose rows know at which step their warnings stand, where that is an earlier one."""
    return replace(session, rows=tuple(replace(row, warned_at=_warned_at(row, warned)) for row in session.rows))


def _warned_at(row: StepRow, warned: dict[tuple[str, ...], str]) -> str:
    number = row.number or (row.items[0].number if row.items else "")
    first = warned.setdefault(row.warnings, number) if row.warnings else number
    return "" if first == number else first


def _without_said(session: WorkSession, said: dict[str, str]) -> WorkSession:
    """Return a session without what an earlier step beside the coats has *said*, by the number of that step.

    What is told before it counts as said at its first such step.
    """
    own = next((row.number for row in session.rows if row.told_once and row.number), "")
    if not own:
        return session
    way = tuple(line for line in session.way if said.get(line, own) == own)
    for line in (*session.cautions, *way):
        said.setdefault(line, own)
    left = [said[line] for line in session.way if line not in way]
    rows = tuple(_row_without(row, said) if row.told_once else row for row in session.rows)
    return replace(session, way=(*way, *((_as_at(left),) if left else ())), rows=rows)


def _row_without(row: StepRow, said: dict[str, str]) -> StepRow:
    """Return a row without what an earlier step has said; of that it says where it stands."""
    number = row.number or (row.items[0].number if row.items else "")
    before = [said[line] for line in (*row.cautions, *row.lines) if said.get(line, number) != number and _long(line)]

    def new(lines: tuple[str, ...]) -> tuple[str, ...]:
        return tuple(line for line in lines if said.setdefault(line, number) == number or not _long(line))

    told = (_as_at(before),) if before else ()
    return replace(row, cautions=new(row.cautions), lines=(*new(row.lines), *told))


def _as_at(numbers: Sequence[str]) -> str:
    distinct = list(dict.fromkeys(numbers))
    return f"As at step{'s' if len(distinct) > 1 else ''} {listed(distinct)}."


def _long(line: str) -> bool:
    """Return whether a line is longer than to say where it stands."""
    return len(line) > _SHORT


def _left_out(session: WorkSession, before: WorkSession) -> tuple[str, ...]:
    """Return what of its cautions was told before an earlier session, but for what is told each time."""
    return tuple(line for line in session.cautions if line in before.cautions and line not in session.each_time)


def _of_one(sessions: Sequence[WorkSession], first: dict[tuple[str, ...], WorkSession]) -> tuple[WorkSession, ...]:
    told: list[WorkSession] = []
    room = ""
    for session in sessions:
        before = first.setdefault(session.ticks, session)
        again = before is not session and len(session.ticks) > 1
        told.append(
            replace(
                session,
                room="" if session.room == room else session.room,
                as_before=before.rows[0].number if again else "",
                said_before=_left_out(session, before) if again else (),
            )
        )
        room = session.room
    return tuple(told)

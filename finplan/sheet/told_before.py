"""What is ticked and minded before a session, where the day has told it already: it is not printed again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from finplan.sheet.sessions import WorkSession


def told_once(of_people: Sequence[Sequence[WorkSession]]) -> tuple[tuple[WorkSession, ...], ...]:
    """Return the sessions of a day's people, in the order in which they are printed, each knowing what was told before.

    Several ticks that were told before an earlier session, whosever it was, are one tick, *all of it again*; a caution
    that was told there is not told anew. A room is named where it changes.
    """
    first: dict[tuple[str, ...], WorkSession] = {}
    return tuple(_of_one(sessions, first) for sessions in of_people)


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
                said_before=tuple(line for line in session.cautions if again and line in before.cautions),
            )
        )
        room = session.room
    return tuple(told)

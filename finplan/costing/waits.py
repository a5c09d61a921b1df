"""Waits that nobody is charged for: while nobody works, and while a coat soaks in and the next is put on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from finplan.timetable import Operation, Timetable, TimetableStep, hours_between


def waiting_h(timetable: Timetable) -> float | None:
    """Return how long nobody works from the beginning until all is ready; None where there is no plan. [h]"""
    rows = [row for row in timetable.steps if row.kind == "attended"]
    if not timetable.has_plan or not rows or not timetable.pieces:
        return None
    begins, ends = min(row.start for row in rows), max(piece.ready for piece in timetable.pieces)
    worked, until = 0.0, begins
    for row in sorted(rows, key=lambda row: row.start.timestamp()):
        start = max(row.start, until)
        if row.end > start:
            worked += hours_between(start, row.end)
            until = row.end
    return max(0.0, hours_between(begins, max(ends, until)) - worked)


def soaking_h(operations: Sequence[Operation], timetable: Timetable | None) -> dict[str, float]:
    """Return how long coats soak in before they are wiped off while another is put on, by the id of the coat. [h]

    Parameters
    ----------
    operations
        Of all pieces
    timetable
        Who does what when; without a plan nothing is known of what follows

    Notes
    -----
    A plan gives each coat the whole of its wait, as if nothing else could be done meanwhile. Where a person coats one
    item right after another with the same finish, all of these waits but the last are work on the next.
    """
    if timetable is None or not timetable.has_plan:
        return {}
    by_id = {operation.id: operation for operation in operations if operation.soaks_h}
    soaks_h: dict[str, float] = {}
    for row, following in _one_after_another(timetable):
        coat, then = by_id.get(row.id), by_id.get(following.id)
        if coat is not None and then is not None and coat.finish == then.finish and row.end == following.start:
            soaks_h[coat.id] = coat.soaks_h
    return soaks_h


def _one_after_another(timetable: Timetable) -> Iterator[tuple[TimetableStep, TimetableStep]]:
    """Give each stretch of a person's work with the next."""
    last: dict[str | None, TimetableStep] = {}
    for row in sorted(timetable.steps, key=lambda row: row.start.timestamp()):
        if row.kind == "attended":
            if row.person in last:
                yield last[row.person], row
            last[row.person] = row

"""Many pieces, a few at a time: from the latest date backwards, each chunk placed round what is placed already."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from finplan.scheduling import Scheduled
from finplan.timetable.job import PieceWork

Placed = Sequence[tuple[PieceWork, Mapping[str, Scheduled]]]
"""Pieces with the schedule in which each of them is."""


def rolled(
    pieces: Sequence[PieceWork],
    due: Callable[[PieceWork], int],
    place: Callable[[Sequence[PieceWork], Placed], Mapping[str, Scheduled] | None],
    size: int,
) -> dict[str, Scheduled] | None:
    """Return a schedule of all pieces; None where the pieces placed last found no room.

    Parameters
    ----------
    pieces
        The pieces
    due
        By when each has to be ready. [slot]
    place
        Returns the schedule of a chunk round what is placed already; None where there is no room
    size
        How many pieces are placed together

    Notes
    -----
    From the latest date backwards: forwards, as late as is safe, early pieces would take the room that later ones need.
    A chunk that finds no room is placed together with the one before it.
    """
    order = sorted(pieces, key=due, reverse=True)
    placed: list[tuple[Sequence[PieceWork], Mapping[str, Scheduled]]] = []
    for first in range(0, len(order), size):
        chunk = order[first : first + size]
        found = place(chunk, _by_piece(placed))
        while found is None and placed:
            before, _ = placed.pop()
            chunk = [*before, *chunk]
            found = place(chunk, _by_piece(placed))
        if found is None:
            return None
        placed.append((chunk, found))
    return {name: one for _, schedule in placed for name, one in schedule.items()}


def _by_piece(placed: Sequence[tuple[Sequence[PieceWork], Mapping[str, Scheduled]]]) -> Placed:
    return [(piece, schedule) for chunk, schedule in placed for piece in chunk]

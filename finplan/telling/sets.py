"""What is done to several of a set of alike pieces in one go: the same work, by one person, one right after another."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from finplan.listing import listed
from finplan.timetable import TimetableStep

Go = tuple[TimetableStep, ...]
"""Stretches of work that are told in one line: one, or several of alike items that follow one another."""


def in_one_go(rows: Iterable[TimetableStep]) -> list[Go]:
    """Return stretches of work in their order, together what is told in one line; drying stays out of it."""
    goes: list[list[TimetableStep]] = []
    last_of: dict[str | None, list[TimetableStep]] = {}
    for row in rows:
        if row.kind != "attended":
            continue
        go = last_of.get(row.person)
        if go is not None and goes_on(go[-1], row):
            go.append(row)
            continue
        last_of[row.person] = [row]
        goes.append(last_of[row.person])
    return [tuple(go) for go in goes]


def goes_on(row: TimetableStep, after: TimetableStep) -> bool:
    """Return whether a stretch is the same work on the next of a set, by the same person, without a break."""
    return (
        row.set_number > 0
        and after.set_number > 0
        and row.set_number != after.set_number
        and row.end == after.start
        and (row.piece, row.kin, row.person, row.room) == (after.piece, after.kin, after.person, after.room)
    )


def set_name(rows: Sequence[TimetableStep]) -> str:
    """Return what several of a set are called together: ``chair 1–6``, ``chair 1, 2 and 5``."""
    if len(rows) == 1:
        return rows[0].item
    return f"{rows[0].named} {numbers(sorted({row.set_number for row in rows}))}"


def numbers(found: Sequence[int]) -> str:
    """Return numbers in order, runs of three and more as one.

    >>> numbers([1, 2, 3, 4, 6]), numbers([1, 2]), numbers([1, 2, 5])
    ('1–4 and 6', '1 and 2', '1, 2 and 5')
    """
    runs: list[list[int]] = []
    for number in found:
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    told = [
        text for run in runs for text in ([f"{run[0]}–{run[-1]}"] if len(run) > 2 else [str(number) for number in run])
    ]
    return listed(told)

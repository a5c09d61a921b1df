"""What is done to several of a set of alike pieces in one go: the same work, by one person, one right after another."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from finplan.inputs import item_in_one
from finplan.listing import listed
from finplan.timetable import TimetableStep

Told = TypeVar("Told")
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
        if go is not None and continues(go[-1], row):
            go.append(row)
            continue
        last_of[row.person] = [row]
        goes.append(last_of[row.person])
    return [tuple(go) for go in goes]


def continues(row: TimetableStep, after: TimetableStep) -> bool:
    """Return whether a stretch is the same work on the next of a set, by the same person, without a break."""
    return (
        row.set_number > 0
        and after.set_number > 0
        and row.set_number != after.set_number
        and row.end == after.start
        and (row.piece, row.kin, row.person, row.room) == (after.piece, after.kin, after.person, after.room)
    )


def set_name(rows: Sequence[TimetableStep], *, several: bool) -> str:
    """Return what is done in one go to several of a set: ``chair 1–6``, ``leg × 4 each of pieces 1, 2 and 5``.

    *several* says whether there are several of the item in each piece.
    """
    of_set = sorted({row.set_number for row in rows})
    if len(of_set) == 1:
        return rows[0].item
    return _together(OfItem(rows[0].item, rows[0].item, rows[0].set_number, None, several), of_set, " each of pieces")


def each_words(*, several: bool) -> str:
    """Return what stands behind an amount that every one of several takes; of several legs it is never one leg."""
    return "per piece" if several else "each"


@dataclass(frozen=True, slots=True)
class OfItem(Generic[Told]):
    """What is told of an item."""

    name: str
    """Under which it is told."""
    item: str
    number: int
    """In a set of alike pieces; 0 where the piece is none."""
    told: Told
    several: bool = False
    """Whether there are several of the item in each piece of the set, as legs."""

    @property
    def in_one(self) -> str:
        """The item without the number of its piece."""
        return item_in_one(self.item, self.number, several=self.several)


def for_each(told: Iterable[OfItem[Told]]) -> list[tuple[str, Told]]:
    """Return names with what is told of them, items of a set of which the same is told as one, in their order."""
    alike: dict[tuple[str, str], list[OfItem[Told]]] = {}
    for entry in told:
        alike.setdefault((entry.name.replace(entry.item, entry.in_one, 1), str(entry.told)), []).append(entry)
    return [(_of_all(same), same[0].told) for same in alike.values()]


def names_together(told: Iterable[OfItem[None]]) -> list[str]:
    """Return names in their order, those of items of a set that are called alike as one: ``seat 1–12``."""
    alike: dict[tuple[str, int], list[OfItem[None]]] = {}
    for position, entry in enumerate(told):
        name = entry.name.replace(entry.item, entry.in_one, 1)
        alike.setdefault((name, -1 if entry.number else position), []).append(entry)
    return [
        same[0].name
        if len(same) == 1
        else same[0].name.replace(
            same[0].item,
            _together(same[0], sorted({entry.number for entry in same}), " each of pieces"),
            1,
        )
        for same in alike.values()
    ]


def _of_all(same: Sequence[OfItem[Told]]) -> str:
    first = same[0]
    told = sorted({entry.number for entry in same})
    if len(told) == 1:
        return first.name
    name = first.name.replace(first.item, _together(first, told, ", for each of pieces"), 1)
    return name if first.several else f"{name}, each"


def _together(first: OfItem[Told], of_set: Sequence[int], of_pieces: str) -> str:
    """Return the name of an item for several of a set; *of_pieces* comes before their numbers, where it has a count."""
    return f"{first.in_one}{of_pieces if first.several else ''} {numbers_words(of_set)}"


def numbers_words(counted: Sequence[int]) -> str:
    """Return numbers in order, runs of three and more as one.

    >>> numbers_words([1, 2, 3, 4, 6]), numbers_words([1, 2]), numbers_words([1, 2, 5])
    ('1–4 and 6', '1 and 2', '1, 2 and 5')
    """
    runs: list[list[int]] = []
    for number in counted:
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    told = [
        text for run in runs for text in ([f"{run[0]}–{run[-1]}"] if len(run) > 2 else [str(number) for number in run])
    ]
    return listed(told)

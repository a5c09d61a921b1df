"""What is kept apart: in a room old paint, isocyanate and hot air from others, and work on the one lathe of a shop.

Nobody enters the room in which isocyanate is put on either, to fetch there what has dried or to let something dry.
And beside a spray gun nobody puts anything on by hand: its mist settles on what is wet, and he would stand in it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from finplan.catalogue import Catalogue
from finplan.inputs import RoomUse
from finplan.timetable.job import PieceWork
from finplan.timetable.operation import Operation, all_operations


@dataclass(frozen=True, slots=True)
class Apart:
    """How an operation stands to others in its room that are not done beside it."""

    kind: str
    """What is kept apart, and in which room."""
    keeps_out: bool
    """Whether others are kept out while it is done; else it is one of those."""
    alone: bool = False
    """Whether it keeps out its like as well."""
    tail: int = 0
    """For how long after it they are still apart; negative where they no longer are so long before its end. [slots]"""


class KeptApart:
    """Which operations of pieces are kept apart from which, in the rooms in which each is done."""

    def __init__(
        self,
        pieces: Sequence[PieceWork],
        catalogue: Catalogue,
        rooms: Mapping[RoomUse, str],
        people: int,
        lathes: int,
        slot_min: int,
    ) -> None:
        """Look at all that is still to be done, by so many people with so many lathes; *rooms* by what they are for."""
        self._catalogue, self._rooms, self._slot_min = catalogue, rooms, slot_min
        self._drying = rooms["drying"]
        every = [operation for piece in pieces for operation in all_operations(piece.open)]
        self._alone = (
            {rooms[operation.room_use] for operation in every if operation.alone} if people > 1 else set[str]()
        )
        self._reacts = (
            {rooms[operation.room_use] for operation in every if self._isocyanate(operation)}
            if people > 1
            else set[str]()
        )
        self._sprayed = (
            {rooms[operation.room_use] for operation in every if operation.sprays} if people > 1 else set[str]()
        )
        self._fetched = {operation.id for piece in pieces for operation in _after_coats(piece)}
        self._one_lathe = people > 1 and lathes == 1
        hot = [operation for piece in pieces for operation in piece.operations if self._is_hot(operation)]
        self._hot = {rooms[operation.room_use] for operation in hot}
        self.hot_before = tuple(
            (rooms[operation.room_use], piece.done[operation.id], operation.watch_h)
            for piece in pieces
            for operation in piece.operations
            if operation.watch_h and operation.id in piece.done
        )
        """Of hot air that was used before: where, until when, and how long somebody looks again after it. [h]"""

    @property
    def with_old_paint(self) -> frozenset[str]:
        """The rooms in which nobody else is while old paint is disturbed, where there is anybody else."""
        return frozenset(self._alone)

    def of(self, operation: Operation) -> tuple[Apart, ...]:
        """Return how an operation stands to others in its room, or on the lathe."""
        room = self._rooms[operation.room_use]
        parted: list[Apart] = []
        if room in self._alone:
            parted.append(Apart(f"old-paint/{room}", operation.alone, operation.alone))
        if room in self._reacts:
            reacts = self._isocyanate(operation)
            parted.append(Apart(f"isocyanate/{room}", keeps_out=reacts, alone=reacts))
        if room != self._drying and self._drying in self._reacts and operation.deed != "clean-up":
            kind = f"isocyanate/{self._drying}"
            if operation.finish is not None:
                parted.append(Apart(kind, keeps_out=False, tail=1))  # it is carried in there when it ends
            elif operation.id in self._fetched:
                slots = math.ceil(operation.work_min / self._slot_min)
                parted.append(Apart(kind, keeps_out=False, tail=1 - slots))
        if room in self._sprayed and operation.finish is not None:
            parted.append(Apart(f"mist/{room}", keeps_out=operation.sprays))
        if self._one_lathe and operation.on_lathe:
            parted.append(Apart("lathe", keeps_out=True, alone=True))
        if room in self._hot and self._is_hot(operation):
            tail = math.ceil(operation.watch_h * 60 / self._slot_min - 1e-9)
            parted.append(Apart(f"hot-air/{room}", keeps_out=True, tail=tail))
        elif room in self._hot and self.burns(operation):
            parted.append(Apart(f"hot-air/{room}", keeps_out=False))
        return tuple(parted)

    def cold_from(self, operation: Operation) -> datetime | None:
        """Return from when on what burns may be opened, by hot air that was used before; None where there was none."""
        if not self.hot_before or not self.burns(operation):
            return None
        own = self._rooms[operation.room_use]
        ends = (at + timedelta(hours=watch_h) for room, at, watch_h in self.hot_before if room == own)
        return max(ends, default=None)

    def _is_hot(self, operation: Operation) -> bool:
        """Return whether an operation is done with hot air, or with an iron: what lights vapour and is no flame."""
        dangers = () if operation.extra is None else self._catalogue.extra_steps[operation.extra].dangers
        return bool(operation.watch_h) or "hot-tool" in dangers

    def _isocyanate(self, operation: Operation) -> bool:
        """Return whether an operation puts on what is set by isocyanate, or cleans up after it: all others are out."""
        step = operation.step
        finish = None if step is None or operation.deed not in ("coat", "fill", "clean-up") else step.finish
        return finish is not None and self._catalogue.finishes[finish].hazards.isocyanate

    def burns(self, operation: Operation) -> bool:
        """Return whether an operation opens a liquid that burns: a finish, its cleaner, or what an extra step takes."""
        if operation.finish is not None:
            return self._catalogue.finishes[operation.finish].hazards.flammable
        if operation.deed == "clean-up" and operation.step is not None and operation.step.finish is not None:
            finish = self._catalogue.finishes[operation.step.finish]
            cleaner = self._catalogue.solvents.get(finish.clean_up_solvent or "")
            return finish.hazards.flammable or (cleaner is not None and cleaner.flammable)
        liquids = () if operation.extra is None else self._catalogue.extra_steps[operation.extra].liquids
        return any(self._catalogue.solvents[name].flammable for name in liquids)


def _after_coats(piece: PieceWork) -> Iterator[Operation]:
    """Give what is done next to what was coated, and has to be fetched from where that dried."""
    coats = {operation.id for operation in piece.operations if operation.finish is not None}
    for operation in all_operations(piece.open):
        if any(after.id in coats for after in operation.after):
            yield operation

"""The shelf: lots of what the shop has, and what befalls them. What is left follows from that, and is never written."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from finplan.ledger.errors import LedgerError
from finplan.ledger.file import Ledger
from finplan.ledger.written import instant, moment_written, size_of

LotKind = Literal["finishes", "solvents", "abrasives", "consumables"]
LotMeasure = Literal["ml", "g", "pieces"]
Befell = Literal["received", "opened", "counted", "drawn", "discarded"]
EventKind = Literal["received", "opened", "counted", "drawn", "discarded", "void"]
"""What an entry may be; one that takes another back is told as no event of its own."""


@dataclass(frozen=True, slots=True)
class Lot:
    """A can, a packet: what came as one. Amounts in its measure."""

    kind: LotKind
    material: str
    """The name of its record."""
    measure: LotMeasure
    pack: float
    """What it holds when full."""
    component: str | None = None
    grit: str | None = None
    batch: str | None = None
    price: float | None = None
    id: int = 0


@dataclass(frozen=True, slots=True)
class Event:
    """Something that befell a lot."""

    lot: int
    kind: Befell
    at: datetime
    entered: datetime
    amount: float | None = None
    """Received or counted: what there is; drawn: what was taken."""
    tick: int | None = None
    """The entry of the coat that took it."""
    note: str | None = None
    id: int = 0


@dataclass(frozen=True, slots=True)
class Standing:
    """How a lot stands."""

    lot: Lot
    left: float
    opened: datetime | None
    """None where it is still sealed."""
    received: datetime
    events: tuple[Event, ...]

    @property
    def gone(self) -> bool:
        """Whether nothing is left of it, or it was thrown away."""
        return self.left <= 0


def receive(
    ledger: Ledger, lot: Lot, at: datetime, entered: datetime, left: float | None = None, note: str | None = None
) -> int:
    """Put a lot on the shelf and return its id; called while changing. *left*: what is in it, where it is not full."""
    number = ledger.add(
        "lot",
        kind=lot.kind,
        material=lot.material,
        component=lot.component,
        grit=lot.grit,
        measure=lot.measure,
        pack=lot.pack,
        batch=lot.batch,
        price=lot.price,
        entered=instant(entered),
    )
    write_event(ledger, Event(number, "received", at, entered, lot.pack if left is None else left, note=note))
    return number


def write_event(ledger: Ledger, event: Event) -> int:
    """Write down what befell a lot and return the id of that; called while changing.

    Raises
    ------
    LedgerError
        There is no such lot.
    """
    if not ledger.rows("SELECT 1 FROM lot WHERE id = ?", (event.lot,)):
        raise LedgerError(f"{ledger.file}: there is no lot {event.lot}")
    return ledger.add(
        "lot_event",
        lot=event.lot,
        kind=event.kind,
        at=instant(event.at),
        entered=instant(event.entered),
        amount=event.amount,
        tick=event.tick,
        note=event.note,
    )


def undo_event(ledger: Ledger, event: Event, at: datetime) -> int:
    """Take back what was said to have befallen a lot, by another entry; called while changing.

    Raises
    ------
    LedgerError
        It was taken back before.
    """
    if ledger.rows("SELECT 1 FROM lot_event WHERE voids = ?", (event.id,)):
        raise LedgerError(f"{ledger.file}: entry {event.id} of lot {event.lot} was taken back before")
    return ledger.add("lot_event", lot=event.lot, kind="void", at=instant(at), entered=instant(at), voids=event.id)


def lots_standing(ledger: Ledger, *, up_to: int | None = None) -> tuple[Standing, ...]:
    """Return how every lot stands that was ever received, in the order in which they came.

    Parameters
    ----------
    ledger
        Where
    up_to
        The last entry that counts, whatever befell later; None for all
    """
    last = last_event(ledger) if up_to is None else up_to
    events: dict[int, list[Event]] = defaultdict(list)
    for row in ledger.rows(
        "SELECT * FROM lot_event WHERE kind <> 'void' AND id <= ?1 "
        "AND NOT EXISTS (SELECT 1 FROM lot_event AS other WHERE other.voids = lot_event.id AND other.id <= ?1) "
        "ORDER BY id",
        (last,),
    ):
        events[row["lot"]].append(_event(row))
    lots = [_lot(row) for row in ledger.rows("SELECT * FROM lot ORDER BY id")]
    return tuple(_standing(lot, events[lot.id]) for lot in lots if events[lot.id])


def once_drawn(ledger: Ledger, tick: int) -> tuple[Event, ...]:
    """Return what an entry has drawn from the shelf and was taken back since, the last from each lot."""
    rows = ledger.rows(
        "SELECT *, max(id) FROM lot_event WHERE kind = 'drawn' AND tick = ? "
        "AND EXISTS (SELECT 1 FROM lot_event AS other WHERE other.voids = lot_event.id) GROUP BY lot",
        (tick,),
    )
    return tuple(map(_event, rows))


def last_event(ledger: Ledger) -> int:
    """Return the id of the last that befell a lot; 0 where nothing did."""
    ((last,),) = ledger.rows("SELECT coalesce(max(id), 0) FROM lot_event")
    return int(last)


def _standing(lot: Lot, events: list[Event]) -> Standing:
    """Return how a lot stands: in the order in which it was so, not in that in which it was written down.

    A full can came before all that was taken from it, though it be put on the shelf only when that had been ticked.
    """
    left, opened = 0.0, None

    def order(event: Event) -> tuple[bool, datetime, int]:
        came_full = event.kind == "received" and event.amount is not None and event.amount >= lot.pack
        return not came_full, event.at, event.id

    told = sorted(events, key=order)
    for event in told:
        if event.kind in ("received", "counted"):
            left = event.amount or 0.0
        elif event.kind == "drawn":
            left = max(0.0, left - (event.amount or 0.0))
            opened = opened or event.at
        elif event.kind == "opened":
            opened = opened or event.at
        else:
            left = 0.0
    return Standing(lot, left, opened, told[0].at, tuple(told))


def _lot(row: sqlite3.Row) -> Lot:
    names = ("kind", "material", "measure", "pack", "component", "grit", "batch", "price", "id")
    for size in ("pack", "price"):
        size_of(row[size])
    return Lot(**{name: row[name] for name in names})


def _event(row: sqlite3.Row) -> Event:
    return Event(
        lot=row["lot"],
        kind=row["kind"],
        at=moment_written(row["at"]),
        entered=moment_written(row["entered"]),
        amount=size_of(row["amount"]),
        tick=row["tick"],
        note=row["note"],
        id=row["id"],
    )

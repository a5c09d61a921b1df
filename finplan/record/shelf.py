"""The shelf by the record: what a coat takes from which can, and what is past its keeping time."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta, tzinfo

from finplan.catalogue import Amount, Catalogue
from finplan.inputs import ShelfItem
from finplan.ledger import (
    Event,
    Ledger,
    Lot,
    LotMeasure,
    Standing,
    Tick,
    lots_standing,
    once_drawn,
    undo_event,
    write_event,
)
from finplan.quantity import Range
from finplan.record.known import last_told


def drawn_by(
    lots: Iterable[Standing],
    finish: str,
    used_ml: float,
    catalogue: Catalogue,
    at: datetime,
    entered: datetime,
    tick: int,
    *,
    liquid: bool = False,
) -> list[Event]:
    """Return what a coat takes from the shelf: from cans that are open first, and of those from the oldest.

    Nothing of a finish of several components: in which part they were mixed is not told.

    Parameters
    ----------
    lots
        How the shelf stands
    finish, used_ml
        What was used, without its thinner [ml]
    catalogue
        Where its density is
    at, entered
        When it was used, and when that is written down
    tick
        The entry that tells of it
    liquid
        Whether it is a liquid of a step beside the coats, a solvent's record, and not a finish
    """
    if liquid:
        density_g_l: Range | None = catalogue.solvents[finish].density_g_l
    else:
        record = catalogue.finishes[finish]
        if record.mix is not None or record.dissolve is not None:
            return []
        density_g_l = record.density_g_l
    kind = "solvents" if liquid else "finishes"
    g_ml = None if density_g_l is None else density_g_l.typical / 1000
    left_ml = used_ml
    events = []
    own = [lot for lot in lots if (lot.lot.kind, lot.lot.material) == (kind, finish) and not lot.gone]
    for in_stock in sorted(own, key=lambda lot: (lot.opened is None, lot.opened or lot.received, lot.lot.id)):
        per_ml = 1.0 if in_stock.lot.measure == "ml" else g_ml
        if per_ml is None or left_ml <= 0:
            continue
        taken_ml = min(left_ml, in_stock.left / per_ml)
        events.append(Event(in_stock.lot.id, "drawn", at, entered, taken_ml * per_ml, tick))
        left_ml -= taken_ml
    return events


def put_draws_right(ledger: Ledger, ticks: Sequence[Tick], at: datetime) -> None:
    """Let the shelf be drawn down by the last entry alone that tells an amount of a coat; called while changing.

    What an entry drew that was put right by a later one is taken back, and drawn again where that one is taken back.

    Parameters
    ----------
    ledger
        The record
    ticks
        All that stands of a job
    at
        When it is put right
    """
    events = [event for lot in lots_standing(ledger) for event in lot.events if event.kind == "drawn"]
    counted = {entry.id for entry in last_told(ticks, "amount")}
    for tick in (entry for entry in ticks if "amount" in entry.observed):
        drawn = [event for event in events if event.tick == tick.id]
        if tick.id not in counted:
            for event in drawn:
                undo_event(ledger, event, at)
        elif not drawn:
            for event in once_drawn(ledger, tick.id):
                write_event(ledger, replace(event, entered=at, id=0))


def good_until(stands: Standing, catalogue: Catalogue, zone: tzinfo) -> date | None:
    """Return until when a lot that is open can be counted on; None where nothing is known of that or it is sealed."""
    if stands.opened is None or stands.lot.kind != "finishes" or stands.lot.material not in catalogue.finishes:
        return None
    record = catalogue.finishes[stands.lot.material]
    parts = record.mix.components if record.mix else ()
    part = next((part for part in parts if part.name == stands.lot.component), None)
    keeps_h = (part.shelf_life_h if part is not None else None) or record.opened_keeps_h(
        "g" if stands.lot.measure == "g" else "ml"
    )
    return None if keeps_h is None else (stands.opened.astimezone(zone) + timedelta(hours=keeps_h.low)).date()


def lot_of(item: ShelfItem) -> tuple[Lot, float]:
    """Return a thing on a shop file's shelf as a lot, and what is left of it."""
    _, kind, name = item.named
    left = item.left.value if isinstance(item.left, Amount) else float(item.left)
    measure: LotMeasure = item.left.measure if isinstance(item.left, Amount) else "pieces"
    return Lot(kind, name, measure, left, item.component, item.grit), left


TAKEN_OVER = "from the shop file"
"""What is noted of a lot that a shop file's shelf held."""


def is_taken_over(lots: Iterable[Standing]) -> bool:
    """Return whether a shop file's shelf is among lots, also where they are gone by now."""
    return any(event.note == TAKEN_OVER for lot in lots for event in lot.events if event.kind == "received")


def taken_over(shelf: Sequence[ShelfItem], at: datetime, zone: tzinfo) -> list[tuple[Lot, datetime | None]]:
    """Return what a shop file's shelf holds as lots, with when each was opened; None where it is sealed."""
    lots = []
    for item in shelf:
        lot, _ = lot_of(item)
        opened = None if item.opened is None else datetime.combine(item.opened.day, datetime.min.time(), tzinfo=zone)
        lots.append((lot, opened))
    return lots

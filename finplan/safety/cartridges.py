"""Vapour cartridges: hours of use, and when to change them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from finplan.catalogue import Catalogue
from finplan.quantity import Range
from finplan.safety.rags import Tick
from finplan.showing import show_duration
from finplan.timetable import TimetableStep
from finplan.timetable.calendar import hours_between

CARTRIDGE = "organic-vapour-cartridge"
"""A name in the catalogue's consumables."""


@dataclass(frozen=True, slots=True)
class CartridgeUse:
    """How long masks against vapour are worn, and how long cartridges last. Times in h."""

    worn_h: float
    """Work in air that does not do without."""
    life_h: Range
    basis: str
    """The source of how long they last."""
    ticks: tuple[Tick, ...]
    """When to change them, reckoned by the shortest life."""


def cartridge_use(rows: Sequence[TimetableStep], in_vapour: Iterable[str], catalogue: Catalogue) -> CartridgeUse | None:
    """Return the use of cartridges; None where no work asks for them.

    Parameters
    ----------
    rows
        Of the timetable, in order of time
    in_vapour
        The ids of the rows in which a mask is worn
    catalogue
        Where the cartridges are
    """
    worn = set(in_vapour)
    record = catalogue.consumables[CARTRIDGE]
    if not worn or record.life_h is None:
        return None
    total_h = since_h = 0.0
    ticks: list[Tick] = []
    for row in rows:
        if row.kind != "attended" or row.id not in worn:
            continue
        hours = hours_between(row.start, row.end)
        total_h += hours
        since_h += hours
        if since_h >= record.life_h.low:
            text = f"Change the vapour cartridges: {show_duration(since_h)} of use since they were new."
            ticks.append(Tick(row.end, row.id, text))
            since_h = 0.0
    return CartridgeUse(total_h, record.life_h, record.source_of("life"), tuple(ticks))

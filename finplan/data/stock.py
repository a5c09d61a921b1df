"""What stands on the shelf by the record."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, tzinfo
from typing import Literal

from finplan.catalogue import Catalogue
from finplan.data.row import CountFromOne, NotNegative, row, row_of
from finplan.ledger import LotKind, LotMeasure, Standing
from finplan.record import good_until


@row
class LotRow:
    """Lot.

    A can, a packet: what came as one.
    """

    lot: CountFromOne
    """Its number, by which `finplan stock` is told of it."""
    kind: LotKind
    """The kind of its record."""
    material: str
    """The name of its record in the catalogue."""
    component: str | None
    """Of a finish of several components, which of them it is; else null."""
    grit: str | None
    """Of an abrasive, its grade; else null."""
    measure: LotMeasure
    """What `pack` and `left` are counted in."""
    pack: NotNegative
    """What it holds when full, in its measure."""
    batch: str | None
    """The batch on its label; null where it is not told."""
    price: NotNegative | None
    """What it cost; null where that is not told."""
    left: NotNegative
    """What is left of it, in its measure."""
    opened: date | None
    """When it was opened; null where it is still sealed."""
    good_until: date | None
    """Until when it keeps once opened; null where it is sealed, or nothing is known of that."""
    counted_on: bool
    """Whether what is planned counts on it: it has not been open for longer than it keeps."""


@row
class StockRow:
    """Stock."""

    format: Literal["finplan-stock/1"]
    """Says what this is."""
    lots: tuple[LotRow, ...]
    """What is there, in the order in which it came; without what is used up or was thrown away."""


def stock_data(lots: Iterable[Standing], catalogue: Catalogue, zone: tzinfo, today: date) -> StockRow:
    """Return what is left of every lot.

    Parameters
    ----------
    lots
        How the lots stand
    catalogue
        Where it is said how long each keeps
    zone, today
        The shop's time zone, and what day it is there
    """
    return StockRow(format="finplan-stock/1", lots=tuple(_lot(lot, catalogue, zone, today) for lot in lots))


def _lot(standing: Standing, catalogue: Catalogue, zone: tzinfo, today: date) -> LotRow:
    until = good_until(standing, catalogue, zone)
    return row_of(
        LotRow,
        standing.lot,
        lot=standing.lot.id,
        left=standing.left,
        opened=None if standing.opened is None else standing.opened.astimezone(zone).date(),
        good_until=until,
        counted_on=until is None or until >= today,
    )

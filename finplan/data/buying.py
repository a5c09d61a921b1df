"""What is bought by when, for other programs."""

from __future__ import annotations

from datetime import date
from typing import Literal

from finplan.buying import BuyOrder, Trip
from finplan.data.material_rows import PurchaseRow
from finplan.data.materials import purchase_row
from finplan.data.row import CountFromOne, WholeNumber, row, row_of
from finplan.material import ConsumableNeed
from finplan.planning import Plan


@row
class BuyOrderRow:
    """Order.

    One thing that is bought.
    """

    material: str
    """Its name in the catalogue."""
    title: str
    """In words."""
    grit: str | None
    """Of an abrasive."""
    measure: Literal["ml", "g", "pieces"]
    """In which packs are."""
    pieces: tuple[str, ...]
    """The keys of the pieces that it is bought for; empty for all of them."""
    buy: tuple[PurchaseRow, ...]
    """The packs."""
    needed: date
    """When it is first used."""
    there_by: date
    """The last day on which it may come."""
    lead_days: WholeNumber
    """Working days of the supplier from the order until it comes."""
    order_by: date
    """The last day on which it may be ordered."""
    comes: date | None
    """Where that day is over: when it comes if it is ordered at once; null where it is in time."""


@row
class TripRow:
    """Trip.

    What is bought or ordered on one day.
    """

    day: date
    """The last day that does for all of it."""
    orders: tuple[BuyOrderRow, ...]
    """What is bought."""


@row
class BuyRow:
    """Buying list.

    Of all jobs together, in as few trips as there can be.
    """

    format: Literal["finplan-buy/1"]
    """Says what this is."""
    pieces: tuple[str, ...]
    """What they are called."""
    weeks: CountFromOne
    """How far it looks ahead."""
    trips: tuple[TripRow, ...]
    """Within that time, the first one first."""
    later: WholeNumber
    """Trips after it."""


def trip_rows(trips: tuple[Trip, ...]) -> tuple[TripRow, ...]:
    """Return trips."""
    return tuple(TripRow(day=trip.day, orders=tuple(_order(order) for order in trip.orders)) for trip in trips)


def buy_data(plan: Plan, trips: tuple[Trip, ...], weeks: int, later: int) -> BuyRow:
    """Return what is bought for the pieces of a plan in so many weeks; *later*: trips after them."""
    names = tuple(piece.name for piece in plan.pieces)
    return BuyRow(format="finplan-buy/1", pieces=names, weeks=weeks, trips=trip_rows(trips), later=later)


def _order(order: BuyOrder) -> BuyOrderRow:
    of = order.of
    pieces = isinstance(of, ConsumableNeed)
    return row_of(
        BuyOrderRow,
        order,
        material=of.name if isinstance(of, ConsumableNeed) else of.material,
        title=of.title,
        grit=of.grit if isinstance(of, ConsumableNeed) else None,
        measure="pieces" if pieces else of.measure,  # type: ignore[union-attr]
        buy=tuple(map(purchase_row, of.buy)),
    )

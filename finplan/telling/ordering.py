"""What is ordered by when, in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from finplan.buying import BuyOrder, Trip, trips_of
from finplan.listing import number_of
from finplan.material import ConsumableNeed
from finplan.moments import show_day, show_year_day
from finplan.planning import Plan
from finplan.quantity import Units
from finplan.telling.names import mark_of
from finplan.telling.packs import pack_words, piece_words, short_title


@dataclass(frozen=True, slots=True)
class OrderTold:
    """One thing to order."""

    name: str
    packs: str
    pieces: str
    """The letters of the pieces that it is for; ``all``."""
    of: str
    """The same where others that use it too have an order of their own; else empty."""
    needed: str
    """The day on which it is first used."""
    late: str
    """What to know where it is too late already; else empty."""

    @property
    def packed(self) -> str:
        """The packs and what is in them."""
        return f"{self.packs} {self.name}{f' for {self.of}' if self.of else ''}"


@dataclass(frozen=True, slots=True)
class TripTold:
    """What is ordered or fetched on one day."""

    by: str
    """``Order by Tue 5 Jan``."""
    orders: tuple[OrderTold, ...]

    @property
    def line(self) -> str:
        """All of it in a sentence."""
        return f"{self.by}: {'; '.join(order.packed for order in self.orders)}."

    @property
    def late(self) -> tuple[str, ...]:
        """What comes too late, each a sentence."""
        return tuple(order.late for order in self.orders if order.late)


def ordering_told(plan: Plan) -> tuple[TripTold, ...]:
    """Return what is ordered by when; nothing where the shop names no suppliers."""
    return trips_told(trips_of(plan), plan) if plan.shop.suppliers else ()


def trips_told(trips: Sequence[Trip], plan: Plan) -> tuple[TripTold, ...]:
    """Return trips in words."""
    return tuple(TripTold(_by(trip, plan), tuple(_order(order, plan) for order in trip.orders)) for trip in trips)


def trips_words(trips: Sequence[Trip]) -> str:
    """Return how many trips there are.

    >>> trips_words(())
    '0 trips'
    """
    return number_of(len(trips), "trip")


def marks_words(plan: Plan) -> str:
    """Return which letter stands for which piece; empty of one piece."""
    told = [f"{mark_of(piece, plan)} {piece.name}" for piece in plan.pieces if mark_of(piece, plan)]
    return f"For: {', '.join(told)}." if told else ""


def _by(trip: Trip, plan: Plan) -> str:
    today = plan.now.date()
    return f"Order by {show_day(trip.day)}" + (", which is today" if trip.day == today else "")


def _order(order: BuyOrder, plan: Plan) -> OrderTold:
    pieces = [mark_of(piece, plan) or piece.name for piece in plan.pieces if piece.key in order.pieces]
    name = _name(order, plan.units)
    late = ""
    if order.comes is not None:
        late = (
            f"{name} was to be ordered by {show_year_day(order.order_by)}: ordered today it comes "
            f"{show_day(order.comes)}, and it is needed on {show_day(order.needed)}."
        )
    told = ", ".join(pieces)
    return OrderTold(
        name, _packs(order, plan.units), told or "all", told if order.apart else "", show_day(order.needed), late
    )


def _name(order: BuyOrder, units: Units) -> str:
    grit = order.of.grit if isinstance(order.of, ConsumableNeed) else None
    return " ".join(filter(None, [grit, short_title(order.of.title, units)]))


def _packs(order: BuyOrder, units: Units) -> str:
    return piece_words(order.of) if isinstance(order.of, ConsumableNeed) else ", ".join(pack_words(order.of, units))

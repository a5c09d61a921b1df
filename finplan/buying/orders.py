"""What has to be ordered by when, so that it is there before its first tin is opened, in as few trips as can be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from finplan.buying.days import comes_on, order_by, there_by
from finplan.buying.first_need import FirstNeeds
from finplan.buying.trips import fewest_trips
from finplan.inputs import DEFAULT_SUPPLIER
from finplan.material import ConsumableNeed, Supply
from finplan.planning import Plan, order_of

_DAY_H = 24.0


@dataclass(frozen=True, slots=True)
class BuyOrder:
    """One thing that is bought."""

    of: Supply | ConsumableNeed
    pieces: tuple[str, ...]
    """The keys of the pieces that it is bought for; empty for all of the plan."""
    apart: bool
    """Whether others that use it too have an order of their own: it does not keep until then."""
    needed: date
    """When it is first used."""
    there_by: date
    """The last day on which it may come."""
    lead_days: int
    """Working days of the supplier from the order until it comes."""
    order_by: date
    """The last day on which it may be ordered."""
    comes: date | None
    """Where that day is over: when it comes if it is ordered at once; else None."""
    first: date
    """The first day on which it is bought: not long before it is needed, where the shop wants it so."""

    @property
    def late(self) -> bool:
        """Whether the last day to order it is over."""
        return self.comes is not None


@dataclass(frozen=True, slots=True)
class Trip:
    """What is bought or ordered on one day."""

    day: date
    orders: tuple[BuyOrder, ...]


def trips_of(plan: Plan) -> tuple[Trip, ...]:
    """Return what is to be bought by when, in as few trips as can be; nothing where nothing is planned.

    Notes
    -----
    A supplier's working days are Monday to Friday but for the public holidays of the shop. A trip is on the last day of
    whatever it has to be in time for. What is too late already is bought today.
    """
    if not plan.timetable.has_plan:
        return ()
    return grouped(tuple(_orders(plan)), plan.now.date())


def grouped(orders: Sequence[BuyOrder], today: date) -> tuple[Trip, ...]:
    """Return orders as the trips in which they are done, the first one first."""
    windows = [(min(order.first, max(today, order.order_by)), max(today, order.order_by)) for order in orders]
    by_day: dict[date, list[BuyOrder]] = {}
    for order, day in zip(orders, fewest_trips(windows), strict=True):
        by_day.setdefault(day, []).append(order)
    return tuple(Trip(day, tuple(by_day[day])) for day in sorted(by_day))


def _orders(plan: Plan) -> Iterator[BuyOrder]:
    needs = FirstNeeds(plan)
    for bought, of_part in _bought(plan, needs):
        pieces = of_part or needs.used_by(bought)
        needed = needs.of(bought, pieces)
        if needed is not None:
            of_all = not of_part and len(pieces) == len(plan.pieces)
            yield _order(bought, () if of_all else pieces, needed, plan, apart=bool(of_part))


def _order(
    bought: Supply | ConsumableNeed, pieces: tuple[str, ...], needed: date, plan: Plan, *, apart: bool
) -> BuyOrder:
    shop, today = plan.shop, plan.now.date()
    lead = lead_days(bought, plan)
    comes_by = there_by(needed, shop)
    latest = order_by(comes_by, lead, shop)
    ahead = timedelta(hours=shop.buy_ahead_h) if shop.buy_ahead_h is not None else None
    return BuyOrder(
        of=bought,
        pieces=pieces,
        apart=apart,
        needed=needed,
        there_by=comes_by,
        lead_days=lead,
        order_by=latest,
        comes=comes_on(today, lead, shop) if latest < today else None,
        first=today if ahead is None else max(today, needed - ahead),
    )


def lead_days(bought: Supply | ConsumableNeed, plan: Plan) -> int:
    """Return how many working days a supplier takes for something, by the shop."""
    suppliers = {name.lower(): hours for name, hours in plan.shop.suppliers.items()}
    name = bought.material if isinstance(bought, Supply) else bought.name
    lead_h = next(
        (suppliers[key] for key in (name.lower(), bought.title.lower(), DEFAULT_SUPPLIER) if key in suppliers), 0.0
    )
    return -int(-lead_h // _DAY_H)


def _bought(plan: Plan, needs: FirstNeeds) -> Iterator[tuple[Supply | ConsumableNeed, tuple[str, ...]]]:
    """Give what is bought; what does not keep from its first use to its last in one go for some of the pieces only."""
    for supply in plan.materials.supplies:
        parts = _batches(supply, plan, needs)
        if len(parts) < 2:
            if supply.buy:
                yield supply, ()
            continue
        for number, keys in enumerate(parts):
            of_part = [piece for piece in plan.pieces if piece.key in keys]
            order = order_of(
                of_part,
                now=plan.now,
                deliver=plan.deliver,
                confidence=plan.confidence,
                lessons=plan.lessons,
                shelf=plan.on_shelf if number == 0 else (),
            )
            yield from ((part, keys) for part in order.supplies if part.material == supply.material and part.buy)
    yield from ((need, ()) for need in (*plan.ordered.consumables, *plan.precautions.gear.buy) if need.buy)


def _batches(supply: Supply, plan: Plan, needs: FirstNeeds) -> list[tuple[str, ...]]:
    """Return the keys of pieces for which a material is opened together: those within which it keeps, once open."""
    if supply.keeps_h is None or len(plan.pieces) < 2:
        return []
    used: dict[str, list[date]] = {}
    for key in (piece.key for piece in plan.pieces):
        days = list(needs.days(supply, (key,)))
        if days:
            used[key] = days
    batches: list[list[str]] = []
    opened: date | None = None
    for key in sorted(used, key=lambda piece: min(used[piece])):
        if opened is None or (max(used[key]) - opened).days * _DAY_H > supply.keeps_h.low:
            opened = min(used[key])
            batches.append([])
        batches[-1].append(key)
    return [tuple(keys) for keys in batches]

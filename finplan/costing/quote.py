"""What a job costs: hours by kind, materials used and bought, and the sum of them as a range."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from finplan.costing.cost import Cost
from finplan.costing.goods import Goods
from finplan.costing.hours import ChargedWork, KindHours
from finplan.inputs import Shop
from finplan.material import Term, cause
from finplan.quantity import Range
from finplan.reading import Currency


@dataclass(frozen=True, slots=True)
class Quote:
    """What a job costs. What has no price is named and never counted as nothing."""

    hours: tuple[KindHours, ...]
    machine_h: Range
    """How long machines sand and guns spray, charged only where the shop says what an hour of it costs. [h]"""
    machine: Cost | None
    """What that comes to; None where it is not charged."""
    waiting_h: float | None
    """How long nobody works from the beginning until all is ready, which is not charged; None without a plan. [h]"""
    soaking_h: float
    """How long coats soak in before they are wiped off while the next is put on, which is charged once. [h]"""
    goods: tuple[Goods, ...]
    charged_bought: bool
    """Whether the packs that are bought are charged, and not what is used of them."""
    work: Cost | None
    """What the hours come to of which a rate is known; None where none is."""
    materials: Cost | None
    """What is charged of the materials that have a price, without the markup; None where none has one."""
    markup_pct: float
    markup: Cost | None
    net: Cost | None
    """All that has a price together, before tax; None where nothing has one."""
    vat_pct: float | None
    currency: Currency | None
    without_work: tuple[ChargedWork, ...]
    """Kinds of work of which no rate is known."""
    without: tuple[str, ...]
    """Titles of materials that would be charged and have no price."""

    @property
    def vat(self) -> Cost | None:
        """The tax on that, to the cent; None where none is asked for, or nothing has a price."""
        return None if self.net is None or self.vat_pct is None else self.net.percent(self.vat_pct)

    @property
    def gross(self) -> Cost | None:
        """Both together; as ``net`` where no tax is asked for."""
        return self.net if self.net is None or self.vat is None else self.net.plus(self.vat)

    @property
    def complete(self) -> bool:
        """Whether everything has a price."""
        return not (self.without or self.without_work)

    @property
    def to_buy(self) -> Decimal:
        """What the packs to buy cost that have a price."""
        return sum((good.bought for good in self.goods if good.bought is not None), Decimal("0.00"))

    @property
    def left_worth(self) -> Decimal:
        """What is typically left of what is bought is worth, where that has a price."""
        left = [good.left_worth for good in self.goods if good.of.buy and good.left_worth is not None]
        return sum(left, Decimal("0.00"))

    @property
    def unpriced_packs(self) -> tuple[str, ...]:
        """Titles of what has to be bought and has no price."""
        return tuple(dict.fromkeys(good.title for good in self.goods if good.bought is None))


def quote_of(
    hours: Sequence[KindHours],
    machine_h: Range,
    waiting_h: float | None,
    soaking_h: float,
    goods: Sequence[Goods],
    shop: Shop,
    currency: Currency | None,
) -> Quote:
    """Return what hours and materials come to in a shop.

    Parameters
    ----------
    hours, machine_h, waiting_h, soaking_h
        Of work by kind, of machines, in which nobody works, and in which a coat soaks in beside other work. [h]
    goods
        The materials
    shop
        What it charges: rates, used or bought, markup, tax
    currency
        In which all of it is

    Notes
    -----
    What all comes to together has a narrower spread than the sum of its parts' has: work and each material go their own
    ways, so that what is dear in one is seldom so in all.
    """
    counted = [good for good in goods if shop.charged == "bought" or good.used.high > 0]
    charged = [_charged(good, bought=shop.charged == "bought") for good in counted]
    worked = [term for kind in hours for term in kind.cost_terms]
    stuff = [_term(index, cost) for index, cost in enumerate(charged) if cost is not None]
    materials = Cost.together(stuff) if stuff else None
    rate = None if shop.rates is None or shop.rates.machine is None else shop.rates.machine.amount
    machine = None if rate is None else Cost.of(machine_h, rate)
    marked_up = [term.scaled(1 + shop.markup_pct / 100) for term in stuff]
    by_machine = [] if machine is None else [Term(float(machine.typical), cause("hand", ("machine",), machine.range))]
    everything = [*worked, *by_machine, *marked_up]
    return Quote(
        hours=tuple(hours),
        machine_h=machine_h,
        machine=machine,
        waiting_h=waiting_h,
        soaking_h=soaking_h,
        goods=tuple(goods),
        charged_bought=shop.charged == "bought",
        work=Cost.together(worked) if worked else None,
        materials=materials,
        markup_pct=shop.markup_pct,
        markup=materials.percent(shop.markup_pct) if materials is not None and shop.markup_pct else None,
        net=Cost.together(everything) if everything else None,
        vat_pct=shop.vat_pct,
        currency=currency,
        without_work=tuple(dict.fromkeys(kind.kind for kind in hours if kind.cost is None)),
        without=tuple(dict.fromkeys(good.title for good, cost in zip(counted, charged, strict=True) if cost is None)),
    )


def _term(index: int, charged: Cost) -> Term:
    """Return what is charged of a material as it is uncertain, apart from all others."""
    return Term(float(charged.typical), cause("product", (str(index),), charged.range))


def _charged(good: Goods, *, bought: bool) -> Cost | None:
    """Return what is charged of a material; None where that is not known."""
    if not bought:
        return good.worth
    return None if good.bought is None else Cost.sure(good.bought)

"""What to buy, and what to measure out for each coat."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from finplan.listing import listed
from finplan.material import SAMPLE, CoatNeed, ConsumableNeed, Left, MaterialNeed, Purchase, Supply, sure_percent
from finplan.moments import show_year_day
from finplan.planning import Plan
from finplan.quantity import Units
from finplan.showing import capital, plain, show_amount, show_area, show_duration, show_pack_of
from finplan.spans import show_span
from finplan.telling import (
    Names,
    cause_words,
    make_up_words,
    method_of,
    mixing,
    poured,
    show_decant,
    surer_words,
    weighed,
)

_ROWS_KEPT_TOGETHER = 14


@dataclass(frozen=True, slots=True)
class MaterialRow:
    """One material and the packs of it."""

    material: str
    packs: tuple[str, ...]
    shelf: str
    """What is there already; empty where nothing is."""
    low: str
    typical: str
    high: str
    enough: str
    left_over: str
    """With how long it keeps."""
    uncertain: str
    """What makes a finish uncertain, by share; empty of a solvent."""
    surer: str
    """What would make it surer, and by how much."""
    price: str


@dataclass(frozen=True, slots=True)
class ConsumableRow:
    """One thing that is bought by the piece."""

    name: str
    grit: str
    """Of an abrasive."""
    needed: str
    packs: str
    shelf: str
    price: str


@dataclass(frozen=True, slots=True)
class HaveRow:
    """One thing that is had in the shop."""

    name: str
    count: str
    people: str
    """Who wears it; empty where it stands ready."""


@dataclass(frozen=True, slots=True)
class CoatRow:
    """What one coat takes."""

    label: str
    area: str
    decant: str
    weight: str
    """The same by mass."""
    up_to: str
    mix: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ItemCoats:
    """The coats of one item."""

    item: str
    rows: tuple[CoatRow, ...]


@dataclass(frozen=True, slots=True)
class CoatTable:
    """The coats of one material."""

    material: str
    hint: str
    items: tuple[ItemCoats, ...]

    @property
    def whole(self) -> bool:
        """Whether it is so short that it is kept on one page."""
        return sum(len(item.rows) for item in self.items) <= _ROWS_KEPT_TOGETHER


@dataclass(frozen=True, slots=True)
class Buying:
    """Everything to buy and to mix."""

    confidence: str
    shelf: bool
    """Whether anything stands on the shelf."""
    materials: tuple[MaterialRow, ...]
    together: str
    """How sure it is that every material is enough."""
    total: str
    spoiled: tuple[str, ...]
    """What is on the shelf and too old to be counted on, or not there yet."""
    abrasives: tuple[ConsumableRow, ...]
    consumables: tuple[ConsumableRow, ...]
    safety: tuple[ConsumableRow, ...]
    """What is worn or used up for safety."""
    have: tuple[HaveRow, ...]
    """What is had in the shop for safety."""
    coats: tuple[CoatTable, ...]


def buying(plan: Plan) -> Buying:
    """Return what a plan buys and mixes."""
    units, materials, names = plan.units, plan.materials, Names(plan)
    gear = plan.precautions.gear
    rows = [(one.grit, _consumable(one)) for one in materials.consumables]
    return Buying(
        confidence=f"{plain(materials.confidence * 100)} %",
        shelf=any(shelf.good for shelf in (*materials.shelves, *(need.shelf for need in gear.buy))),
        materials=(
            *(_material(need.supply, plan, cause_words(need.supply)) for need in materials.materials),
            *(_material(supply, plan, "") for supply in materials.solvents),
        ),
        together=f"{sure_percent(materials.enough_probability)} %",
        total=_total(plan),
        spoiled=tuple(_spoiled(left, supply, units) for supply in materials.supplies for left in supply.shelf.spoiled),
        abrasives=tuple(row for grit, row in rows if grit is not None),
        consumables=tuple(row for grit, row in rows if grit is None),
        safety=tuple(_consumable(need) for need in gear.buy),
        have=tuple(HaveRow(one.title, str(one.count), listed(one.people)) for one in gear.have),
        coats=tuple(
            CoatTable(
                material=plan.catalogue.finishes[need.material].title,
                hint=_hint(need, plan),
                items=tuple(
                    ItemCoats(item, tuple(_coat(coat, plan) for coat in together))
                    for item, together in groupby(need.coats, key=lambda coat: _item(coat, names))
                ),
            )
            for need in materials.materials
        ),
    )


def _total(plan: Plan) -> str:
    """Return what everything costs; empty where nothing has a price, and named as a part where a price lacks."""
    for_safety = [need.cost for need in plan.precautions.gear.buy if need.buy]
    known = plan.materials.known_cost + sum(cost for cost in for_safety if cost is not None)
    if not known:
        return ""
    whole = plan.materials.cost is not None and None not in for_safety
    return f"{known:.2f}" + ("" if whole else " for what has a price")


def _material(supply: Supply, plan: Plan, causes: str) -> MaterialRow:
    units = plan.units

    def show(amount: float) -> str:
        return show_amount(amount, supply.measure, units)

    keeps = f", keeps {show_duration(supply.keeps_h.low)}" if supply.keeps_h is not None and supply.left_over else ""
    return MaterialRow(
        material=supply.title.partition(" (")[0],
        packs=tuple(_pack(one, supply, units) for one in supply.buy) or ("nothing",),
        shelf=show(supply.shelf.good) if supply.shelf.good else "",
        low=show(supply.needed.low),
        typical=show(supply.needed.typical),
        high=show(supply.needed.high),
        enough=f"{sure_percent(supply.enough_probability)} %",
        left_over=f"{show(supply.left_over)}{keeps}",
        uncertain=causes,
        surer=surer_words(supply, plan.materials.confidence, units) if causes else "",
        price=_price(supply.cost, supply.buy),
    )


def _pack(one: Purchase, supply: Supply, units: Units) -> str:
    if one.parts:
        parts = " + ".join(show_pack_of(part, "ml", units) for part in one.parts)
        return f"{one.count} × ({parts})"
    size = f"{one.count} × {show_pack_of(one.size, supply.measure, units)}"
    return size if one.component is None else f"{size} {one.component}"


def _spoiled(left: Left, supply: Supply, units: Units) -> str:
    name = supply.title if left.name == supply.material else f"{supply.title}, {left.name}"
    amount = show_amount(left.amount, supply.measure, units)
    opened = "" if left.opened is None else f", opened {show_year_day(left.opened)}"
    until = ", after it is needed" if left.good_until is None else f", good until {show_year_day(left.good_until)}"
    return f"{amount} of {name}{opened}{until}"


def _consumable(need: ConsumableNeed) -> ConsumableRow:
    return ConsumableRow(
        name=need.title.partition(" (")[0],
        grit=need.grit or "",
        needed=str(need.at_confidence),
        packs=", ".join(_pieces(one) for one in need.buy) or "nothing",
        shelf=plain(need.shelf.good) if need.shelf.good else "",
        price=_price(need.cost, need.buy),
    )


def _price(cost: float | None, buy: tuple[Purchase, ...]) -> str:
    """Return what packs cost; nothing where none are bought."""
    if cost is None:
        return "not given"
    return f"{cost:.2f}" if buy else ""


def _pieces(one: Purchase) -> str:
    """Return packs of pieces as they are asked for in a shop."""
    if one.size == 1:
        return f"{one.count}"
    return f"{one.count} pack{'s' if one.count > 1 else ''} of {plain(one.size)}"


def _hint(need: MaterialNeed, plan: Plan) -> str:
    """Return what to know of a material whichever coat it is."""
    finish = plan.catalogue.finishes[need.material]
    methods = dict.fromkeys(method_of(coat.step, plan) for coat in need.coats)
    hints = [f"{'; '.join(methods)}.", f"Clean up with {finish.clean_up}."]
    if finish.mix:
        parts = " to ".join(f"{plain(part.parts)} {part.name}" for part in finish.mix.components)
        hints.insert(1, f"Mix {parts} by volume, only what one coat takes.")
    life = plan.materials.pot_lives_h.get(need.material)
    if life is not None:
        hints.insert(-1, f"A pot lasts {show_span(show_duration(life.low), show_duration(life.high))}.")
    hints += [make_up_words(one, plan) for one in plan.materials.make_ups if one.finish == need.material]
    return " ".join(hints)


def _item(coat: CoatNeed, names: Names) -> str:
    return capital(SAMPLE) if coat.item == SAMPLE else names.of_step(coat.step)


def _coat(coat: CoatNeed, plan: Plan) -> CoatRow:
    units = plan.units
    return CoatRow(
        label=coat.step.label,
        area=show_area(coat.area_m2, units),
        decant=poured(coat, plan),
        weight=weighed(coat, plan),
        up_to=show_decant(coat.needed_ml.high, units),
        mix=mixing(coat, plan),
    )

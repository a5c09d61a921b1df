"""What to buy, and what to measure out for each coat."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from finplan.listing import listed
from finplan.material import SAMPLE, CoatNeed, ConsumableNeed, MaterialNeed, MeasuredOut, Supply, sure_percent
from finplan.planning import Plan
from finplan.quantity import Units
from finplan.showing import capital, plain, show_amount, show_area, show_duration
from finplan.spans import show_span
from finplan.telling import (
    Mixing,
    Names,
    OfItem,
    cause_words,
    for_each,
    keeps_words,
    left_over_words,
    method_of,
    not_counted,
    pack_words,
    piece_words,
    price_words,
    short_title,
    surer_words,
    total_words,
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
    rows = [(one.grit, _consumable(one, units)) for one in materials.consumables]
    return Buying(
        confidence=f"{plain(materials.confidence * 100)} %",
        shelf=any(shelf.good for shelf in (*materials.shelves, *(need.shelf for need in gear.buy))),
        materials=(
            *(_material(need.supply, plan, cause_words(need.supply)) for need in materials.materials),
            *(_material(supply, plan, "") for supply in materials.solvents),
        ),
        together=f"{sure_percent(materials.enough_probability)} %",
        total=total_words(materials, gear.buy),
        spoiled=tuple(not_counted(materials, units)),
        abrasives=tuple(row for grit, row in rows if grit is not None),
        consumables=tuple(row for grit, row in rows if grit is None),
        safety=tuple(_consumable(need, units) for need in gear.buy),
        have=tuple(HaveRow(one.title, str(one.count), listed(one.people)) for one in gear.have),
        coats=tuple(
            CoatTable(
                material=plan.catalogue.finishes[need.material].title,
                hint=_hint(need, plan),
                items=tuple(ItemCoats(item, coats) for item, coats in for_each(_coats(need, plan, names))),
            )
            for need in materials.materials
        ),
    )


def _material(supply: Supply, plan: Plan, causes: str) -> MaterialRow:
    units = plan.units

    def show(amount: float) -> str:
        return show_amount(amount, supply.measure, units)

    keeps = keeps_words(supply)
    return MaterialRow(
        material=short_title(supply.title),
        packs=pack_words(supply, units),
        shelf=show(supply.shelf.good) if supply.shelf.good else "",
        low=show(supply.needed.low),
        typical=show(supply.needed.typical),
        high=show(supply.needed.high),
        enough=f"{sure_percent(supply.enough_probability)} %",
        left_over=left_over_words(supply, units) + (f", keeps {keeps}" if keeps else ""),
        uncertain=causes,
        surer=surer_words(supply, plan.materials.confidence, units) if causes else "",
        price=price_words(supply.cost, supply.buy),
    )


def _consumable(need: ConsumableNeed, units: Units) -> ConsumableRow:
    return ConsumableRow(
        name=short_title(need.title, units),
        grit=need.grit or "",
        needed=str(need.at_confidence),
        packs=piece_words(need),
        shelf=plain(need.shelf.good) if need.shelf.good else "",
        price=price_words(need.cost, need.buy),
    )


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
    hints += [
        Mixing(plan.catalogue, plan.units).make_up(one)
        for one in plan.materials.make_ups
        if one.finish == need.material
    ]
    return " ".join(hints)


def _coats(need: MaterialNeed, plan: Plan, names: Names) -> Iterator[OfItem[tuple[CoatRow, ...]]]:
    """Give what is measured out for every item."""
    for item, together in groupby(need.coats, key=lambda coat: _item(coat, names)):
        coats = list(together)
        rows = tuple(_coat(one, plan) for coat in coats for one in plan.materials.measured_of(coat))
        yield OfItem(item, coats[0].item, coats[0].number if coats[0].item != SAMPLE else 0, rows)


def _item(coat: CoatNeed, names: Names) -> str:
    return capital(SAMPLE) if coat.item == SAMPLE else names.of_step(coat.step)


def _coat(one: MeasuredOut, plan: Plan) -> CoatRow:
    mixing = Mixing(plan.catalogue, plan.units)
    return CoatRow(
        label=one.label,
        area=show_area(one.coat.area_m2, plan.units),
        decant=mixing.poured(one),
        weight=mixing.by_mass(one),
        up_to=mixing.up_to(one),
        mix=mixing.lines(one),
    )

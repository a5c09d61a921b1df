"""What to buy, and what to measure out for each coat."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from finplan.listing import listed
from finplan.material import SAMPLE, CoatNeed, ConsumableNeed, MaterialNeed, MeasuredOut, Purchase, Supply, sure_percent
from finplan.planning import Plan
from finplan.quantity import Units
from finplan.showing import capital, plain, show_amount, show_area, show_duration
from finplan.spans import show_span
from finplan.telling import (
    Mixing,
    Names,
    OfItem,
    TripTold,
    for_each,
    keeps_words,
    left_over_words,
    method_words,
    not_counted,
    numbers_words,
    ordering_told,
    pack_words,
    piece_words,
    price_words,
    short_title,
    surer_together,
    total_words,
    weighed_words,
)


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
    weighed: str
    """On what it rests beside the catalogue; empty where on nothing."""
    price: str


@dataclass(frozen=True, slots=True)
class ConsumableRow:
    """One thing that is bought by the piece."""

    name: str
    grit: str
    """Of an abrasive."""
    needed: str
    packs: str
    buys: bool
    """Whether there is anything to buy."""
    shelf: str
    price: str


@dataclass(frozen=True, slots=True)
class GridRow:
    """An abrasive in all its grits; none in those of which nothing is needed."""

    name: str
    cells: tuple[ConsumableRow | None, ...]


@dataclass(frozen=True, slots=True)
class AbrasiveGrid:
    """Abrasives by kind and grit."""

    grits: tuple[str, ...]
    rows: tuple[GridRow, ...]


@dataclass(frozen=True, slots=True)
class HaveRow:
    """One thing that is had in the shop."""

    name: str
    count: str
    people: str
    """Who wears it; empty where it stands ready."""


@dataclass(frozen=True, slots=True)
class Pour:
    """What one item, or one side of it, takes of a coat."""

    item: str
    area: str
    decant: str
    weight: str
    """The same by mass."""
    up_to: str
    mix: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Strip:
    """A coat of a material on all items that get it, or several coats of which the same is measured out."""

    label: str
    pours: tuple[Pour, ...]


@dataclass(frozen=True, slots=True)
class CoatTable:
    """The coats of one material."""

    material: str
    hint: str
    strips: tuple[Strip, ...]


@dataclass(frozen=True, slots=True)
class Buying:
    """Everything to buy and to mix."""

    confidence: str
    shelf: bool
    """Whether anything stands on the shelf."""
    priced: bool
    """Whether anything has a price."""
    materials: tuple[MaterialRow, ...]
    together: str
    """How sure it is that every material is enough."""
    surer: tuple[str, ...]
    """What would make amounts surer, and by how much."""
    total: str
    spoiled: tuple[str, ...]
    """What is on the shelf and too old to be counted on, or not there yet."""
    abrasives: AbrasiveGrid
    consumables: tuple[ConsumableRow, ...]
    trips: tuple[TripTold, ...]
    """What is ordered by when; none where the shop names no suppliers."""
    safety: tuple[ConsumableRow, ...]
    """What is worn or used up for safety."""
    have: tuple[HaveRow, ...]
    """What is had in the shop for safety."""
    coats: tuple[CoatTable, ...]


def buying(plan: Plan) -> Buying:
    """Return what a plan buys and mixes."""
    units, materials, names = plan.units, plan.ordered, Names(plan)
    gear = plan.precautions.gear
    supplies = (*(need.supply for need in materials.materials), *materials.solvents)
    total = total_words(materials, gear.buy, plan.quote.currency)
    return Buying(
        confidence=f"{plain(materials.confidence * 100)} %",
        shelf=any(shelf.good for shelf in (*materials.shelves, *(need.shelf for need in gear.buy))),
        priced=bool(total),
        materials=tuple(_material(supply, plan) for supply in supplies),
        together=f"{sure_percent(materials.enough_probability)} %",
        surer=surer_together(supplies, plan.materials.confidence, units),
        total=total,
        spoiled=tuple(not_counted(materials, units)),
        abrasives=_grid(plan),
        consumables=tuple(
            _consumable(consumable, units) for consumable in materials.consumables if consumable.grit is None
        ),
        trips=ordering_told(plan),
        safety=tuple(_consumable(need, units) for need in gear.buy),
        have=tuple(HaveRow(item.title, str(item.count), listed(item.people)) for item in gear.have),
        coats=tuple(_coat_table(need, plan, names) for need in materials.materials),
    )


def _coat_table(need: MaterialNeed, plan: Plan, names: Names) -> CoatTable:
    """Return the coats of a material; what is minded of every pour is told once."""
    strips = _strips(need, plan, names)
    pours = [pour for strip in strips for pour in strip.pours]
    alike = [line for line in pours[0].mix if all(line in pour.mix for pour in pours)] if len(pours) > 1 else []
    own = tuple(
        Strip(strip.label, tuple(replace(pour, mix=_without(pour.mix, alike)) for pour in strip.pours))
        for strip in strips
    )
    hint = " ".join((_hint(need, plan), *(f"Each time: {line}." for line in alike)))
    return CoatTable(plan.catalogue.finishes[need.material].title, hint, own)


def _without(lines: Sequence[str], told: Sequence[str]) -> tuple[str, ...]:
    return tuple(line for line in lines if line not in told)


def _material(supply: Supply, plan: Plan) -> MaterialRow:
    units = plan.units

    def show(amount: float) -> str:
        return show_amount(amount, supply.measure, units, supply.needed.typical)

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
        weighed=weighed_words(supply),
        price=_price(supply.cost, supply.buy),
    )


def _consumable(need: ConsumableNeed, units: Units) -> ConsumableRow:
    return ConsumableRow(
        name=short_title(need.title, units),
        grit=need.grit or "",
        needed=str(need.at_confidence),
        packs=piece_words(need),
        buys=bool(need.buy),
        shelf=plain(need.shelf.good) if need.shelf.good else "",
        price=_price(need.cost, need.buy),
    )


def _hint(need: MaterialNeed, plan: Plan) -> str:
    """Return what to know of a material whichever coat it is."""
    finish = plan.catalogue.finishes[need.material]
    methods = dict.fromkeys(method_words(coat.step, plan) for coat in need.coats)
    hints = [f"{'; '.join(methods)}.", f"Clean up with {finish.clean_up}."]
    if finish.mix:
        parts = " to ".join(f"{plain(part.parts)} {part.name}" for part in finish.mix.components)
        hints.insert(1, f"Mix {parts} by volume, only what one coat takes.")
    life = plan.materials.pot_lives_h.get(need.material)
    if life is not None:
        hints.insert(-1, f"A pot lasts {show_span(show_duration(life.low), show_duration(life.high))}.")
    hints += [
        Mixing(plan.catalogue, plan.units).make_up(make_up)
        for make_up in plan.materials.make_ups
        if make_up.finish == need.material
    ]
    return " ".join(hints)


def _price(cost: float | None, buy: Sequence[Purchase]) -> str:
    """Return what packs cost; of what has no price a dash: the column says already that it is one of prices."""
    return "–" if buy and cost is None else price_words(cost, buy)


def _grid(plan: Plan) -> AbrasiveGrid:
    """Return the abrasives by kind and grit, coarse first, as the sanding orders them."""
    needs = [need for need in plan.materials.consumables if need.grit is not None]
    sizes_um = {grit: grade for piece in plan.pieces for grit, grade in piece.sanding.stock.sizes_um.items()}
    grits = sorted({need.grit for need in needs if need.grit is not None}, key=lambda grit: -sizes_um[grit])
    by_name: dict[str, dict[str, ConsumableRow]] = {}
    for need in needs:
        row = _consumable(need, plan.units)
        by_name.setdefault(row.name, {})[row.grit] = row
    return AbrasiveGrid(
        grits=tuple(grits),
        rows=tuple(GridRow(name, tuple(cells.get(grit) for grit in grits)) for name, cells in by_name.items()),
    )


def _strips(need: MaterialNeed, plan: Plan, names: Names) -> tuple[Strip, ...]:
    """Return what is measured out of a material, coat by coat in the order in which they come."""
    by_label: dict[str, list[Pour]] = {}
    for item, rows in for_each(_coats(need, plan, names)):
        for label, pour in rows:
            by_label.setdefault(label, []).append(replace(pour, item=item))
    alike: dict[tuple[Pour, ...], list[str]] = {}
    for label, pours in by_label.items():
        alike.setdefault(tuple(pours), []).append(label)
    return tuple(Strip(_label_of(labels), pours) for pours, labels in alike.items())


def _label_of(labels: Sequence[str]) -> str:
    """Return what coats are called of which the same is measured out.

    >>> _label_of(["coat 2"]), _label_of(["coat 2", "coat 3", "coat 5"]), _label_of(["coat 2", "sealing coat"])
    ('Coat 2', 'Coats 2, 3 and 5, each', 'Coat 2 and sealing coat, each')
    >>> _label_of(["coat 2", "coat 3", "coat 4"])
    'Coats 2–4, each'
    """
    if len(labels) == 1:
        return capital(labels[0])
    coats = [label.removeprefix("coat ") for label in labels]
    if all(coat.isdecimal() for coat in coats):
        return f"Coats {numbers_words([int(coat) for coat in coats])}, each"
    return f"{capital(listed(labels))}, each"


def _coats(need: MaterialNeed, plan: Plan, names: Names) -> Iterator[OfItem[tuple[tuple[str, Pour], ...]]]:
    """Give what is measured out for every item, by coat."""
    for item, together in groupby(need.coats, key=lambda coat: _item(coat, names)):
        coats = list(together)
        rows = tuple(
            (measured.label, _pour(measured, plan)) for coat in coats for measured in plan.materials.measured_of(coat)
        )
        yield OfItem(item, coats[0].item, coats[0].number if coats[0].item != SAMPLE else 0, rows, coats[0].several)


def _item(coat: CoatNeed, names: Names) -> str:
    return capital(SAMPLE) if coat.item == SAMPLE else names.of_step(coat.step)


def _pour(measured: MeasuredOut, plan: Plan) -> Pour:
    mixing = Mixing(plan.catalogue, plan.units)
    return Pour(
        item="",
        area=show_area(measured.coat.area_m2, plan.units),
        decant=mixing.poured(measured),
        weight=mixing.by_mass(measured),
        up_to=mixing.up_to(measured),
        mix=mixing.lines(measured, apart=True),
    )

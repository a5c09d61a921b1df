"""What the record knew when a plan was made: what the shop had learnt, and what stood on its shelf."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal, get_args

from finplan.catalogue import Amount, Catalogue
from finplan.inputs import ShelfItem, Shop
from finplan.learning import (
    SORTS,
    Coated,
    Pace,
    Rate,
    SetAside,
    Timed,
    Weighed,
    lessons,
    paces,
    times_of,
)
from finplan.ledger import LearntKind, Ledger, Standing, Tick, length_of, lots_standing, read_back_as, ticks_of
from finplan.material import Lessons
from finplan.moments import show_day
from finplan.planning import Plan, with_stages
from finplan.reading import GivenDate
from finplan.timetable import Deed


def with_known(plan: Plan, ledger: Ledger, *, up_to_tick: int, up_to_event: int, learn: bool) -> Plan:
    """Return a plan with what the record knew up to some entries.

    Parameters
    ----------
    plan
        One of which nothing is reckoned yet
    ledger
        Where
    up_to_tick, up_to_event
        The last tick and the last that befell a lot that count
    learn
        Whether amounts and times are those that the shop has learnt, or the catalogue's
    """
    shelf = shelf_of(lots_standing(ledger, up_to=up_to_event), plan)
    if not learn:
        return replace(plan, shelf=shelf)
    ticks = ticks_of(ledger, up_to=up_to_tick)
    learnt, _, _ = learnt_of(ticks, plan.catalogue, coaters(plan.shop))
    people = tuple(person.name for person in plan.shop.people)
    own_paces, _ = paces_of(ticks, plan.catalogue, people)
    times = times_of(own_paces, people)
    pieces = tuple(with_stages(replace(piece), times=times) for piece in plan.pieces)
    return replace(plan, pieces=pieces, lessons=learnt, shelf=shelf)


def coaters(shop: Shop) -> tuple[str, ...]:
    """Return who may put a coat on in the shop."""
    return tuple(person.name for person in shop.people if {"coating", "spraying"} & set(person.skills))


def learnt_of(
    ticks: tuple[Tick, ...], catalogue: Catalogue, who: tuple[str, ...]
) -> tuple[Lessons, tuple[Rate, ...], tuple[SetAside, ...]]:
    """Return what ticks teach of amounts; as ``learning.lessons``."""
    weighed = (weighed_of(tick, catalogue) for tick in last_told(ticks, "amount"))
    return lessons([weighing for weighing in weighed if weighing is not None], catalogue, who)


def paces_of(
    ticks: tuple[Tick, ...], catalogue: Catalogue, people: tuple[str, ...]
) -> tuple[tuple[Pace, ...], tuple[SetAside, ...]]:
    """Return what ticks teach of times; as ``learning.paces``."""
    return paces([_timed(tick, sort) for sort in SORTS for tick in last_told(ticks, sort)], catalogue, people)


def last_told(ticks: Sequence[Tick], sort: LearntKind) -> list[Tick]:
    """Return the entries that teach something of a sort: of those that tell it of the same step the last alone.

    Who ticks a step again puts right what was told of it.
    """
    seen: set[tuple[int, str]] = set()
    told: list[Tick] = []
    for tick in reversed([entry for entry in ticks if sort in entry.observed]):
        of = {(tick.job, step) for step in _taught_by(tick, sort)}
        if not of & seen:
            told.append(tick)
        seen |= of
    return told[::-1]


def _taught_by(tick: Tick, sort: LearntKind) -> Sequence[str]:
    """Return the steps that an entry tells something of: of an amount the coats, whatever else is ticked with them."""
    if sort != "amount":
        return tick.steps
    with read_back_as("coat"):
        return [str(coat["step"]) for coat in tick.observed[sort]["coats"]]


def _timed(tick: Tick, sort: Literal["minutes", "drying"]) -> Timed:
    basis, told = tick.observed[sort], show_day(tick.at.date())
    person = tick.person if sort == "minutes" else None
    with read_back_as("time"):
        of = basis["of"]
        if sort == "minutes" and of not in get_args(Deed):
            msg = f"{of} is no kind of work"
            raise ValueError(msg)
        return Timed(sort, str(of), length_of(basis["reckoned"]), length_of(basis["took"]), person, told)


def weighed_of(tick: Tick, catalogue: Catalogue) -> Weighed | None:
    """Return what a tick says of an amount; None where it cannot be reckoned in ml, or is of something unknown."""
    basis = tick.observed["amount"]
    with read_back_as("coat"):
        job = str(basis["job"])
        coats = tuple(Coated.of(coat) for coat in basis["coats"])
        finish = coats[0].finish
    used_ml = tick.used_ml
    grams = tick.weighed_g
    if used_ml is None and grams is not None and finish in catalogue.finishes:
        density = catalogue.finishes[finish].density_g_l
        used_ml = None if density is None else grams / density.typical * 1000
    if used_ml is None:
        return None
    told = f"{show_day(tick.at.date())}, {', '.join(f'{coat.item} coat {coat.coat}' for coat in coats)}"
    return Weighed(coats, used_ml, job, tick.person, told)


def shelf_of(lots: tuple[Standing, ...], plan: Plan) -> tuple[ShelfItem, ...] | None:
    """Return what the record's lots are as things on a shelf; None where it has none and the shop file says it."""
    if not lots:
        return None
    zone = plan.shop.time_zone
    shelf_items = []
    for in_stock in lots:
        if in_stock.gone:
            continue
        lot = in_stock.lot
        opened = None if in_stock.opened is None else GivenDate(in_stock.opened.astimezone(zone).date(), None)
        left = int(in_stock.left) if lot.measure == "pieces" else Amount(in_stock.left, lot.measure)
        shelf_items.append(
            ShelfItem.model_construct(
                finish=lot.material if lot.kind == "finishes" else None,
                solvent=lot.material if lot.kind == "solvents" else None,
                abrasive=lot.material if lot.kind == "abrasives" else None,
                consumable=lot.material if lot.kind == "consumables" else None,
                component=lot.component,
                grit=lot.grit,
                left=left,
                opened=opened,
            )
        )
    return tuple(shelf_items)

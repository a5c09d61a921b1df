"""What is had in the shop and what is bought for safety: what the rows ask for, for each person who does them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from finplan.catalogue import Catalogue, Consumable
from finplan.material import ConsumableNeed, Market, bought_by_piece
from finplan.quantity import NOTHING, Range
from finplan.safety.row_care import RowCare, opening
from finplan.timetable import TimetableStep, hours_between

_ONE = Range(1.0, 1.0, 1.0)


@dataclass(frozen=True, slots=True)
class Had:
    """Something to have in the shop."""

    name: str
    """The record of it."""
    title: str
    count: int
    """One for each person who wears it; of what stands ready one."""
    people: tuple[str, ...]
    """Who wears it; none where nobody does."""
    rows: tuple[str, ...]
    """The ids of the rows that ask for it."""


@dataclass(frozen=True, slots=True)
class Gear:
    """All that is had and bought for safety."""

    have: tuple[Had, ...]
    buy: tuple[ConsumableNeed, ...]
    rows: Mapping[str, tuple[str, ...]]
    """The ids of the rows that use each of what is bought, by its name."""


def gear(
    rows: Sequence[TimetableStep], cares: Mapping[str, RowCare], market: Market, beside: Mapping[str, Range]
) -> Gear:
    """Return what the rows of a plan ask for.

    Parameters
    ----------
    rows
        Of the timetable; those in which somebody helps once more, as that person's
    cares
        What they ask for
    market
        What buying goes by
    beside
        What steps use up themselves, by name: of what rows ask for it is bought with that, as one

    Notes
    -----
    Each person has what is worn to himself: a mask is fitted to a face. Of what wears out by hours of use each gets as
    much as he wears it, and one at least; of what is put on afresh, as much as begins; of what is laid out or cleaned
    once a day, as much as there are days, for each caution that names it; of what lasts, one.
    """
    catalogue = market.catalogue
    using = {
        name: tuple(care.row for care in cares.values() if name in care.uses)
        for name in catalogue.consumables
        if any(name in care.uses for care in cares.values())
    }
    return Gear(
        have=tuple(_had(name, rows, cares.values(), catalogue) for name in _asked(cares.values(), catalogue)),
        buy=tuple(
            _bought(name, used_in, rows, cares, market, beside.get(name, NOTHING)) for name, used_in in using.items()
        ),
        rows=using,
    )


def _asked(cares: Iterable[RowCare], catalogue: Catalogue) -> list[str]:
    """Return the equipment that any row asks for, in the order of the catalogue."""
    asked = {name for care in cares for name in care.needs}
    return [name for name in catalogue.equipment if name in asked]


def _had(name: str, rows: Sequence[TimetableStep], cares: Iterable[RowCare], catalogue: Catalogue) -> Had:
    record = catalogue.equipment[name]
    asking = [care for care in cares if name in care.needs]
    there = {care.row for care in asking}
    wearing = dict.fromkeys(row.person or "" for row in rows if row.kind == "attended" and row.id in there)
    people = tuple(wearing) if record.worn else ()
    return Had(name, record.title, max(1, len(people)), people, tuple(care.row for care in asking))


def _bought(
    name: str,
    used: Sequence[str],
    rows: Sequence[TimetableStep],
    cares: Mapping[str, RowCare],
    market: Market,
    beside: Range,
) -> ConsumableNeed:
    record = market.catalogue.consumables[name]
    there = [row for row in rows if row.kind == "attended" and row.id in set(used)]
    begins = opening(there)
    people: dict[str, list[TimetableStep]] = {}
    for row in there:
        people.setdefault(row.person or "", []).append(row)
    if record.life_h is record.use_per_coat is None:
        needed = _ONE
    elif record.once_a_day:
        needed = (record.use_per_coat or NOTHING).scaled(_days(name, there, cares, market.catalogue))
    else:
        needed = Range.total([_for_one(record, of_one, begins) for of_one in people.values()])
    items = [item for item in market.shelf if item.consumable == name]
    return bought_by_piece(name, record.title, None, needed.plus(beside), record.packs, items, market)


def _days(name: str, rows: Sequence[TimetableStep], cares: Mapping[str, RowCare], catalogue: Catalogue) -> int:
    """Return on how many days each caution that names a thing applies, all together."""
    return len(
        {
            (code, row.start.date())
            for row in rows
            for code in cares[row.id].codes
            if name in catalogue.cautions[code].uses
        }
    )


def _for_one(record: Consumable, rows: Sequence[TimetableStep], begins: frozenset[str]) -> Range:
    """Return how many pieces one person uses up."""
    afresh = len({row.id for row in rows} & begins)
    counted = (record.use_per_coat or NOTHING).scaled(afresh)
    if record.life_h is not None:
        hours = sum(hours_between(row.start, row.end) for row in rows)
        life = record.life_h
        counted = Range(
            max(1.0, counted.low, hours / life.high),
            max(1.0, counted.typical, hours / life.typical),
            max(1.0, counted.high, hours / life.low),
        )
    return counted

"""Vapour cartridges: hours of use, and when to change them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from finplan.catalogue import Catalogue
from finplan.quantity import Range
from finplan.safety.duty import CartridgesSpent, Duty
from finplan.timetable import TimetableStep, hours_between

CARTRIDGE = "organic-vapour-cartridge"
"""A name in the catalogue's consumables."""


@dataclass(frozen=True, slots=True)
class CartridgeUse:
    """How long one person wears a mask against vapour, and how long its cartridges last. Times in h."""

    person: str
    steps: tuple[str, ...]
    """The ids of the rows in which it is worn."""
    worn_h: float
    """Work in air that does not do without, spraying, and what else asks for it."""
    life_h: Range
    basis: str
    """The source of how long they last."""
    ticks: tuple[Duty, ...]
    """When to change them, reckoned by the shortest life."""


def cartridge_use(
    rows: Sequence[TimetableStep], masked: Iterable[str], catalogue: Catalogue
) -> tuple[CartridgeUse, ...]:
    """Return the use of cartridges of everybody who wears a mask; nobody shares one.

    Parameters
    ----------
    rows
        Of the timetable, in order of time
    masked
        The ids of the rows in which a mask with cartridges is worn
    catalogue
        Where the cartridges are
    """
    worn = set(masked)
    life_h = catalogue.consumables[CARTRIDGE].life_h
    there = [row for row in rows if row.kind == "attended" and row.id in worn]
    if life_h is None:
        return ()
    people = dict.fromkeys(row.person for row in there if row.person is not None)
    return tuple(_of(person, [row for row in there if row.person == person], life_h, catalogue) for person in people)


def _of(person: str, masked: Sequence[TimetableStep], life_h: Range, catalogue: Catalogue) -> CartridgeUse:
    total_h = since_h = 0.0
    ticks: list[Duty] = []
    for row in masked:
        hours = hours_between(row.start, row.end)
        total_h += hours
        since_h += hours
        if since_h >= life_h.low:
            ticks.append(Duty(row.end, row.id, CartridgesSpent(person, since_h)))
            since_h = 0.0
    return CartridgeUse(
        person=person,
        steps=tuple(dict.fromkeys(row.id for row in masked)),
        worn_h=total_h,
        life_h=life_h,
        basis=catalogue.consumables[CARTRIDGE].source_of("life"),
        ticks=tuple(ticks),
    )

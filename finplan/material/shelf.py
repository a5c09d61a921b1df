"""What on the shelf is still good when it is needed, and what is not any more."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from math import fsum

from finplan.catalogue import Amount
from finplan.inputs import ShelfItem
from finplan.quantity import Range

Counted = Callable[[Amount], float | None]
"""How much of a material an amount is, in the measure of that material; None where it is no such thing."""


@dataclass(frozen=True, slots=True)
class Left:
    """One thing on the shelf. ``amount`` in the measure of its material."""

    name: str
    amount: float
    opened: date | None
    good_until: date | None
    """None where nothing is known of how long it keeps, where it is still sealed, or not there before it is needed."""
    good: bool


@dataclass(frozen=True, slots=True)
class OnShelf:
    """What is left of one material, in its measure."""

    items: tuple[Left, ...] = ()
    usable: float | None = None
    """Where that is not the sum of what is good: how much of a mix its components make."""

    @property
    def good(self) -> float:
        """What can still be used."""
        return fsum(item.amount for item in self.items if item.good) if self.usable is None else self.usable

    @property
    def spoiled(self) -> tuple[Left, ...]:
        """What is too old to be counted on, or not there yet."""
        return tuple(item for item in self.items if not item.good)


NOTHING = OnShelf()


def on_shelf(items: Iterable[ShelfItem], counted: Counted, keeps_h: Range | None, day: date) -> OnShelf:
    """Return what the shelf holds of a material on the day on which it is needed.

    Parameters
    ----------
    items
        What stands there of it
    counted
        How much of it an amount is
    keeps_h
        How long it keeps once it is open; None where it does not spoil. [h]
    day
        When it is needed

    Notes
    -----
    The low end of the range decides, so that nobody counts on a can that may have gone off. What is sealed, or does not
    spoil, is good. What is opened only after that day, or has a slip in its year, is not counted on either.
    """
    lefts: list[Left] = []
    for item in items:
        amount = counted(item.left) if isinstance(item.left, Amount) else float(item.left)
        if amount is None:
            continue
        opened = item.opened.day if item.opened is not None else None
        there = opened is None or opened <= day
        until = opened + timedelta(hours=keeps_h.low) if opened and there and keeps_h is not None else None
        name = item.component or item.named[2]
        lefts.append(Left(name, amount, opened, until, good=there and (until is None or until >= day)))
    return OnShelf(tuple(lefts))

"""What falls due at the end of a step or of a day, as facts; telling words it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class ClothsLaidOut:
    """Cloths that heat themselves are laid flat outdoors, or go under water."""

    cloths: int
    can_ml: float
    """The room that they take under water. [ml]"""
    gives_gas: bool = False
    """Whether any holds isocyanate, so that no lid over it is tight."""


@dataclass(frozen=True, slots=True)
class NoClothLeft:
    """None of the cloths of a day is left in the shop."""

    cloths: int
    can_ml: float
    """The room that they take under water. [ml]"""
    gives_gas: bool = False
    """Whether any holds isocyanate, so that no lid over it is tight."""


@dataclass(frozen=True, slots=True)
class CartridgesSpent:
    """The cartridges of somebody's mask are changed."""

    person: str
    used_h: float
    """Since they were new. [h]"""


@dataclass(frozen=True, slots=True)
class CautionDue:
    """What a caution of the catalogue has ticked."""

    code: str
    evening: bool
    """Whether at the end of a day; else after a row."""
    beside_isocyanate: bool = False
    """Whether something was wet with isocyanate hardener on that day, which is never shut in."""


@dataclass(frozen=True, slots=True)
class ExtraDone:
    """What a step beside the coats has ticked, or signed."""

    extra: str
    """Its name in the catalogue's extra-steps."""


@dataclass(frozen=True, slots=True)
class Duty:
    """One thing to do at the end of a step or of a day, when it falls due."""

    due: datetime
    row: str | None
    """The id of the row of the timetable after which it is due; None at the end of a day."""
    what: ClothsLaidOut | NoClothLeft | CartridgesSpent | CautionDue | ExtraDone

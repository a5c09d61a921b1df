"""What a maker could change so that a job fits, as facts; telling words them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from finplan.inputs import Shift
from finplan.quantity import Units


@dataclass(frozen=True, slots=True)
class StartNow:
    """Work begins at once."""

    is_a: Literal["start-now"] = "start-now"


@dataclass(frozen=True, slots=True)
class WarmerNights:
    """The nights are so many degrees warmer. [°C]"""

    degrees: int
    night_c: float | None
    """What they then are; None where they are told month by month."""
    units: Units = "metric"
    """In which the shop speaks of it."""
    is_a: Literal["warmer-nights"] = "warmer-nights"


@dataclass(frozen=True, slots=True)
class NeverColder:
    """It is never colder than so much. [°C]"""

    lowest_c: int
    units: Units = "metric"
    """In which the shop speaks of it."""
    is_a: Literal["never-colder"] = "never-colder"


@dataclass(frozen=True, slots=True)
class MoreHands:
    """Somebody works more, on a day or on many."""

    person: str | None
    """None for one more person."""
    longer_h: float
    """How much longer the day gets; 0 of one on which that person did not work. [h]"""
    on: date | Literal["each-day", "saturdays", "weekdays"]
    shifts: tuple[Shift, ...]
    """The hours of that day, or of each of those days."""
    after: date | None = None
    """Of weekdays: after which day."""
    is_a: Literal["more-hands"] = "more-hands"


@dataclass(frozen=True, slots=True)
class BoothGiven:
    """A room gets a spray booth, of so much face, drawing so much air. [m², m³/h]"""

    room: str
    face_m2: float
    flow_m3_h: float
    units: Units
    """In which the shop speaks of it."""
    is_a: Literal["booth"] = "booth"


@dataclass(frozen=True, slots=True)
class ByHand:
    """A piece is brushed or wiped instead of sprayed; None where there is one piece only."""

    piece: str | None
    is_a: Literal["by-hand"] = "by-hand"


@dataclass(frozen=True, slots=True)
class FewerCoats:
    """A piece gets so many coats less; None where there is one piece only."""

    coats: int
    piece: str | None
    is_a: Literal["fewer-coats"] = "fewer-coats"


@dataclass(frozen=True, slots=True)
class OtherSystem:
    """A piece gets another coating system."""

    system: str
    piece: str | None
    """None where there is one piece only."""
    family: str | None
    """Of what most of it is made, where that is another than now."""
    less: tuple[str, ...]
    """Against what it is less proof."""
    isocyanate: bool
    """Whether it brings isocyanate where there was none."""
    is_a: Literal["system"] = "system"


@dataclass(frozen=True, slots=True)
class LaterDates:
    """Pieces are delivered later: each with when at the soonest; the piece is None where there is one only."""

    dates: tuple[tuple[str | None, datetime], ...]
    is_a: Literal["later"] = "later"


Remedy = StartNow | WarmerNights | NeverColder | MoreHands | BoothGiven | ByHand | FewerCoats | OtherSystem | LaterDates

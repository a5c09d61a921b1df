"""What cannot be kept of a job that does not fit, as facts; telling words them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from finplan.climate import Objection
from finplan.quantity import Units

ObstacleKind = Literal["rack", "one-room", "lost-day", "closed-days", "holidays"]


@dataclass(frozen=True, slots=True)
class Obstacle:
    """Something of the shop without which the dates could be kept."""

    kind: ObstacleKind
    room: str | None = None
    """In which is sanded and something wet."""
    day: date | None = None
    """On which nobody works."""
    places: int | None = None
    hooks: int | None = None


@dataclass(frozen=True, slots=True)
class DateKept:
    """A piece is delivered by its date."""

    piece: str | None
    """None where there is one piece only."""
    deliver: datetime
    begins: datetime | None
    """From when on may be worked, where the date is before that already."""
    with_: tuple[Obstacle, ...]
    proven: bool
    """Whether it is proven that no plan can."""
    all_tried: bool
    """Whether all that may help was tried."""
    kind: Literal["date"] = "date"


@dataclass(frozen=True, slots=True)
class HoursEnd:
    """Nobody works after a moment: how long is worked until then, and how long the work takes. [h]"""

    last: datetime
    first: date
    worked_h: float
    needed_h: float


@dataclass(frozen=True, slots=True)
class NoRoomFor:
    """Work that finds no room in all the time that is looked at."""

    item: str
    step: str


@dataclass(frozen=True, slots=True)
class AllDone:
    """Everything is done in the weeks that are looked at."""

    weeks: int
    hours: HoursEnd | None
    stuck: NoRoomFor | None
    """What finds no room; None where that is not known."""
    kind: Literal["all-done"] = "all-done"


@dataclass(frozen=True, slots=True)
class SomebodyWorks:
    """Somebody works in the shop in the time that is looked at."""

    first: date
    last: date
    kind: Literal["somebody-works"] = "somebody-works"


@dataclass(frozen=True, slots=True)
class NobodyDoes:
    """Nobody with hours in the shop does it."""

    skill: str
    kind: Literal["nobody"] = "nobody"


@dataclass(frozen=True, slots=True)
class NoBooth:
    """It is sprayed only in a booth, and the room has none whose air moves fast enough. [m/s]"""

    isocyanate: bool
    """Whether for isocyanate; else since it burns."""
    room: str
    least_m_s: float
    has_m_s: float | None
    """None where it has no booth."""
    units: Units
    """In which the shop speaks of it."""
    kind: Literal["booth"] = "booth"


@dataclass(frozen=True, slots=True)
class AirObjects:
    """The air of the shop never lets it be put on."""

    objection: Objection
    """What most often does."""
    kind: Literal["air"] = "air"


@dataclass(frozen=True, slots=True)
class TimeFound:
    """Some work finds a time."""

    work: tuple[tuple[str, tuple[str, ...]], ...]
    """Items, each with what is to be done to it."""
    reason: NobodyDoes | NoBooth | AirObjects
    kind: Literal["time-found"] = "time-found"


Requirement = DateKept | AllDone | SomebodyWorks | TimeFound

"""What a maker has to know of a plan that the shop cannot quite do, as facts; telling words them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from finplan.timetable.job import ReadyFor
from finplan.timetable.operation import Deed


@dataclass(frozen=True, slots=True)
class RackShort:
    """An item takes more of the rack than there is."""

    item: str
    wanted: int
    there: int
    of: Literal["flat place", "hook"]
    kind: Literal["rack"] = "rack"


@dataclass(frozen=True, slots=True)
class NoSprayRoom:
    """Something is sprayed, and no room is for it: in which it is planned."""

    room: str
    kind: Literal["no-spray-room"] = "no-spray-room"


@dataclass(frozen=True, slots=True)
class DustSettles:
    """Wood is sanded where coats go on or dry: how long dust settles before one is begun, and who says so. [h]"""

    room: str
    wait_h: float
    source: str
    kind: Literal["dust"] = "dust"


@dataclass(frozen=True, slots=True)
class AloneWithOldPaint:
    """A room in which nothing else is planned while somebody disturbs an old coating that may hold lead."""

    room: str
    kind: Literal["alone-with-old-paint"] = "alone-with-old-paint"


@dataclass(frozen=True, slots=True)
class TooHard:
    """A coat that was put on before is too hard for the next one by the time at which that is planned."""

    item: str
    coat: str
    put_on: datetime
    next_coat: str
    since: datetime
    abraded: bool
    """Whether it is planned to be abraded first."""
    kind: Literal["too-hard"] = "too-hard"


@dataclass(frozen=True, slots=True)
class Interrupted:
    """Work that should be done in one go, and for which no stretch of a person is long enough."""

    item: str
    step: str
    person: str | None
    with_clean_up: bool
    """Whether the cleaning up after it has to fit into the stretch too."""
    kind: Literal["interrupted"] = "interrupted"


@dataclass(frozen=True, slots=True)
class DriesOn:
    """What may not lie over a break, and for which no stretch of anybody is long enough with what takes it off."""

    item: str
    step: str
    takes_h: float
    """Until it is off again and washed up after. [h]"""
    kind: Literal["dries-on"] = "dries-on"


@dataclass(frozen=True, slots=True)
class LearntTime:
    """In times what is reckoned some work is done here, or a finish dries, and on how many notes that rests."""

    of: Deed | None
    """The kind of work; None of drying."""
    finish: str | None
    """The title of the finish; None of work."""
    times: float
    count: int


@dataclass(frozen=True, slots=True)
class OwnTimesUsed:
    """What is planned by the shop's own times."""

    times: tuple[LearntTime, ...]
    kind: Literal["own-times"] = "own-times"


@dataclass(frozen=True, slots=True)
class DryFrom:
    """From when the next step may be done to a coat that was put on, or its item is fit for the customer."""

    piece: str | None
    """None where there is one piece only."""
    item: str
    coat: str
    put_on: datetime
    next_step: str | None
    """None after the last coat."""
    ready_for: ReadyFor
    """For what it has to be fit where no step comes next."""
    dry_from: datetime | None
    """None for not in the time looked at."""
    otherwise: bool
    """Whether that is another moment than in the shop's usual air."""
    usual: datetime | None
    """When it would be in that; None for not in the time looked at."""
    stood: datetime | None = None
    """When the next step was planned before, where the coat is not dry by then."""
    kind: Literal["dry-from"] = "dry-from"


@dataclass(frozen=True, slots=True)
class NotTaken:
    """A plan that was found and not taken, since it breaks a rule: a fault of the program's own."""

    rule: str
    kind: Literal["not-taken"] = "not-taken"


Note = (
    RackShort
    | NoSprayRoom
    | DustSettles
    | AloneWithOldPaint
    | TooHard
    | Interrupted
    | DriesOn
    | OwnTimesUsed
    | DryFrom
    | NotTaken
)

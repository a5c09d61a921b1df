"""What the care card says of one finish, and what of it is the same for the whole piece."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import TypeVar

from finplan.catalogue import Catalogue, Ratings, System
from finplan.moments import show_year_day
from finplan.telling import hard_from, hard_words, stands_words, usable_words, where_words
from finplan.timetable import ReadyFor

T = TypeVar("T", bound=Hashable)

_ASK = "Ask the workshop"


@dataclass(frozen=True, slots=True)
class CareLine:
    """A line of a card: a day or a damage, and what is said of it."""

    of: str
    words: str


@dataclass(frozen=True, slots=True)
class CareText:
    """From when it may be used how, how it is kept, and how it is mended."""

    times: tuple[CareLine, ...] = ()
    care: tuple[str, ...] = ()
    mend: tuple[CareLine, ...] = ()

    @property
    def says_nothing(self) -> bool:
        """Whether there is nothing to print."""
        return not (self.times or self.care or self.mend)


@dataclass(frozen=True, slots=True)
class Days:
    """When a customer can have the piece, and when what it is finished with is hard; None where no plan says it."""

    ready: date | None
    hard: date | None
    ready_for: ReadyFor


def days_of(
    ready: datetime | None, deliver: datetime | None, cured: Sequence[datetime | None], ready_for: ReadyFor
) -> Days:
    """Return the days that a customer is told: none before the delivery, until which the piece is in the shop.

    Parameters
    ----------
    ready
        When the piece is ready
    deliver
        When it is delivered
    cured
        When each item of one finish has cured; None where that is later than was looked at
    ready_for
        What counts as ready
    """
    known = [moment for moment in cured if moment is not None]
    last = max(known) if known and len(known) == len(cured) else None
    had = max((moment for moment in (ready, deliver) if moment is not None), default=None)
    told = None if had is None else had.date()
    if last is None:
        return Days(told, None, ready_for)
    if had is not None and last <= had:
        return Days(None, told, ready_for)
    return Days(told, hard_from(last), ready_for)


def care_text(system: System, days: Days, catalogue: Catalogue) -> CareText:
    """Return all that is said of a system."""
    return CareText(
        times=_times(days, system.ratings),
        care=(*where_words(outdoors=system.outdoors), *stands_words(system.ratings), *system.care),
        mend=_mend(system, catalogue),
    )


def _times(days: Days, ratings: Ratings) -> tuple[CareLine, ...]:
    times = [] if days.ready is None else [CareLine(show_year_day(days.ready), usable_words(days.ready_for))]
    if days.hard is None:
        return (*times, CareLine(_ASK, "from when it has cured and is fully hard."))
    return (*times, CareLine(show_year_day(days.hard), hard_words(ratings)))


def _mend(system: System, catalogue: Catalogue) -> tuple[CareLine, ...]:
    repair, told = system.repair, []
    if repair is not None:
        told = [
            CareLine("Scratch", repair.scratch),
            CareLine("Ring or stain", repair.ring),
            CareLine("Worn or dull", repair.worn),
        ]
    if system.renewed_with is not None:
        title = catalogue.finishes[system.renewed_with].title
        told.append(CareLine("To renew it", f"{title}: ask the workshop which, and keep to its label."))
    return tuple(told)


def shared_and_own(texts: Sequence[CareText]) -> tuple[CareText, tuple[CareText, ...]]:
    """Return what all of several texts say, and what each says beside it; of one alone, or none, nothing is shared.

    >>> wipe, wax, oil = "Wipe it.", "Wax it.", "Oil it."
    >>> shared, own = shared_and_own([CareText(care=(wipe, wax)), CareText(care=(wipe, oil))])
    >>> shared.care, [text.care for text in own]
    (('Wipe it.',), [('Wax it.',), ('Oil it.',)])
    """
    if len(texts) <= 1:
        return CareText(), tuple(texts)
    shared = CareText(
        times=_common([text.times for text in texts]),
        care=_common([text.care for text in texts]),
        mend=_common([text.mend for text in texts]),
    )
    own = tuple(
        CareText(
            times=_without(text.times, shared.times),
            care=_without(text.care, shared.care),
            mend=_without(text.mend, shared.mend),
        )
        for text in texts
    )
    return shared, own


def _common(lists: Sequence[tuple[T, ...]]) -> tuple[T, ...]:
    return tuple(one for one in lists[0] if all(one in others for others in lists[1:]))


def _without(lines: tuple[T, ...], said: tuple[T, ...]) -> tuple[T, ...]:
    return tuple(line for line in lines if line not in said)

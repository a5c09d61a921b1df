"""What has to hold between plans of one job under other wishes: each is told in words where it does not."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

from finplan.inputs import Person, Shop
from finplan.planning import PlannedPiece, Wishes, job_of
from finplan.timetable import NotFoundYetError, Timetable, with_lost_day
from tests.timetable.generated import NOW, Case, dates_of, planned_case

ASAP = Wishes(asap=True, earliest=False)
LATE = Wishes(earliest=False)
_LARGE = 40
"""Operations."""


def inconsistencies(made: Case, pieces: Sequence[PlannedPiece]) -> list[str]:
    """Return what does not hold between plans of a made-up job."""
    soon = planned_soon(made, pieces)
    return [] if soon is None else [told for check in CHECKS for told in check(made, pieces, soon)]


def planned_soon(made: Case, pieces: Sequence[PlannedPiece]) -> Timetable | None:
    """Return the plan that is ready as early as can be: all others are compared with it. None where there is none."""
    return _planned(made, pieces, ASAP)


def as_soon_as_late(made: Case, pieces: Sequence[PlannedPiece], soon: Timetable) -> Iterator[str]:
    """Tell where what is to be ready as early as can be is ready later than what is begun as late as is safe."""
    late = _planned(made, pieces, LATE)
    if late is not None and _ready(soon) > _ready(late):
        yield f"as soon as can be is ready on {_ready(soon)}, as late as is safe already on {_ready(late)}"


def no_later_with_help(made: Case, pieces: Sequence[PlannedPiece], soon: Timetable) -> Iterator[str]:
    """Tell where it is ready later with one more person."""
    helped = _planned(made, [with_a_helper(piece) for piece in pieces], ASAP)
    if helped is None or _ready(helped) > _ready(soon):
        yield f"with one more person it is ready on {helped and _ready(helped)}, without on {_ready(soon)}"


def no_sooner_with_a_day_lost(made: Case, pieces: Sequence[PlannedPiece], soon: Timetable) -> Iterator[str]:
    """Tell where it is ready sooner with a day lost: the first with work, one in the middle, and one near the end.

    Of a large job it is one of its days, another for each seed, as each takes as long as a plan of its own.
    """
    days = sorted({row.start.date() for row in soon.steps if row.kind == "attended"})
    large = sum(len(piece.operations) for piece in pieces) > _LARGE
    for day in [days[made.seed % len(days)]] if large else days[:: max(1, len(days) // 2)]:
        lost = _with_lost_day(made, pieces, soon, day)
        if lost is not None and _ready(lost) < _ready(soon):
            yield f"with {day} lost it is ready on {_ready(lost)}, without on {_ready(soon)}"


def ready_with_all_done(made: Case, pieces: Sequence[PlannedPiece], soon: Timetable) -> Iterator[str]:
    """Tell where with everything done something is left to be done, or it is not ready as it was to be."""
    done: dict[str, datetime] = {}
    for row in soon.steps:
        if row.kind == "attended":
            done[row.id] = max(row.end, done.get(row.id, row.end))
    over = _planned(made, pieces, replace(ASAP, done=done), now=max(done.values()) + timedelta(minutes=1))
    if over is None or [row.id for row in over.steps if row.kind == "attended"]:
        yield "with everything done something is still to be done"
    elif [one.ready for one in over.pieces] != [one.ready for one in soon.pieces]:
        yield f"with everything done it is ready on {_ready(over)}, as planned on {_ready(soon)}"


Check = Callable[[Case, Sequence[PlannedPiece], Timetable], Iterator[str]]
"""Tells what does not hold between a plan and others of the same job."""
CHECKS: tuple[Check, ...] = (as_soon_as_late, no_later_with_help, no_sooner_with_a_day_lost, ready_with_all_done)


def _planned(made: Case, pieces: Sequence[PlannedPiece], wishes: Wishes, *, now: datetime = NOW) -> Timetable | None:
    """Return a plan; None where there is none, or none was found."""
    try:
        found = planned_case(made, pieces, wishes, now=now).timetable
    except NotFoundYetError:
        return None
    return found if found.has_plan else None


def _with_lost_day(made: Case, pieces: Sequence[PlannedPiece], soon: Timetable, day: date) -> Timetable | None:
    """Return the plan after a day was lost of one that is known; None where there is none, or none was found."""
    try:
        found = with_lost_day(job_of(pieces, dates_of(made), NOW, ASAP), soon, day, asap=True)
    except NotFoundYetError:
        return None
    return found if found.has_plan else None


def _ready(found: Timetable) -> datetime:
    return max(one.ready for one in found.pieces)


def with_a_helper(piece: PlannedPiece) -> PlannedPiece:
    """Return a piece in a shop where one more works as long as the first, and can do everything."""
    shop: Shop = piece.source.shop
    first = shop.people[0]
    helper = Person.model_construct(name="One more", hours=first.hours, skills=first.skills)
    larger = shop.model_copy(update={"people": (*shop.people, helper)})
    shop_file = replace(piece.source.shop_file, shop=larger)
    return replace(piece, source=replace(piece.source, shop_file=shop_file))

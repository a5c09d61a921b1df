"""What is wanted of a timetable beside its dates, and what has been done already."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, tzinfo
from graphlib import TopologicalSorter

from finplan.climate import Measured
from finplan.planning.piece import PlannedPiece
from finplan.problems import FinplanError, did_you_mean
from finplan.quantity import PERCENTAGE, QuantityError, read_quantity
from finplan.reading import DATE_FORM, GivenDate
from finplan.timetable import Progress, ReadyFor

LONGEST_SEARCH_S = 3600.0
LEAST_SURE, MOST_SURE = 0.5, 0.999


class WishError(FinplanError, ValueError):
    """A wish that cannot be understood or had; names it as the command line does."""

    def __init__(self, wish: str, wrong: str) -> None:
        self.wish = wish
        """The wish: of the command line the option without its dashes, from Python the argument."""
        super().__init__(wrong)


@dataclass(frozen=True, slots=True)
class Wishes:
    """What is wanted of a timetable beside its dates."""

    asap: bool = False
    """Ready as early as can be, instead of begun as late as is safe."""
    largest_buffer: bool = False
    """As much between ready and delivery as can be had, instead of what the shop wants."""
    ready_for: ReadyFor = "light-use"
    limit_s: float | None = None
    done: Mapping[str, datetime] = field(default_factory=dict)
    """When operations ended that have been done already, by their id."""
    lost_day: date | None = None
    """A day on which, as turns out in the morning, nobody works."""
    answers: bool = True
    """Whether to say the latest safe start and the earliest finish too, and what would make a plan fit."""
    earliest: bool = True
    """Whether the earliest finish is wanted among the answers."""
    soonest: datetime | None = None
    """When work could begin at the earliest, where the job starts later."""
    numbers: Mapping[str, int] = field(default_factory=dict)
    """What steps are called on paper already, by id."""
    measured: tuple[Measured, ...] = ()
    """The air as it was measured since coats were put on that may still be wet."""
    progress: Progress | None = None


def date_of(wish: str, text: str) -> GivenDate:
    """Return what a wish says as a date.

    Raises
    ------
    WishError
        It is no date.
    """
    try:
        return GivenDate.parse(text)
    except ValueError as error:
        raise WishError(wish, f"{error}; expected {DATE_FORM}") from None


def moment_of(given: GivenDate, zone: tzinfo) -> datetime:
    """Return the moment of a date on the shop's clock; without a time of day, the first of the day."""
    return datetime.combine(given.day, given.clock or time(0), tzinfo=zone)


def start_of(text: str | None, zone: tzinfo, moment: datetime) -> datetime:
    """Return the earliest moment of work: the first of the day that is typed, on the shop's clock, else this *moment*.

    Raises
    ------
    WishError
        It is no date.
    """
    return moment if text is None else moment_of(date_of("from", text), zone).astimezone(UTC)


def confidence_of(text: str) -> float:
    """Return how sure to be, in per cent, as a probability.

    Raises
    ------
    WishError
        It is no percentage, or none from 50 to 99.9 %.
    """
    try:
        confidence = read_quantity(text if "%" in text else f"{text} %", PERCENTAGE) / 100
    except QuantityError as error:
        raise WishError("sure", str(error)) from None
    if not LEAST_SURE <= confidence <= MOST_SURE:
        raise WishError("sure", f"{text} is not between {LEAST_SURE:.0%} and {MOST_SURE:.1%}".replace("%", " %"))
    return confidence


def seconds_of(limit: str | float | None) -> float | None:
    """Return how long to search, or None where nothing is said. [s]

    Raises
    ------
    WishError
        It is no number from 1 to 3600.
    """
    if limit is None:
        return None
    try:
        seconds = float(limit)
    except ValueError:
        seconds = 0.0
    if not 1 <= seconds <= LONGEST_SEARCH_S:
        raise WishError("limit", f"{limit!r} is no time to search for; expected 1 to {LONGEST_SEARCH_S:.0f} seconds")
    return seconds


def named_done(steps: Iterable[str], start: datetime, zone: tzinfo) -> dict[str, datetime]:
    """Return what was typed of steps that are done: by id, when each ended.

    Parameters
    ----------
    steps
        Ids, each with the moment at which it ended, on the shop's clock, behind an equals sign
    start
        When work starts again: a step without a moment ended then
    zone
        That of the shop's clock

    Raises
    ------
    WishError
        A moment is no date.
    """
    named: dict[str, datetime] = {}
    for text in steps:
        name, _, ended = text.partition("=")
        when = date_of("done", ended) if ended else None
        named[name] = start if when is None else moment_of(when, zone)
    return named


def done_of(pieces: Sequence[PlannedPiece], named: Mapping[str, datetime], latest: datetime) -> dict[str, datetime]:
    """Return when what has been done ended, by the id of each operation; a step stands for all that come before it.

    Parameters
    ----------
    pieces
        What is planned
    named
        When the steps ended that are named as done, by id
    latest
        What ended later is still to come

    Raises
    ------
    WishError
        A step is none of these pieces', or cannot have ended then.
    """
    return _with_steps_before(named, steps_before(pieces), latest) if named else {}


def steps_before(pieces: Sequence[PlannedPiece]) -> dict[str, tuple[str, ...]]:
    """Return the id of every step, as a timetable of these pieces names them, with those that come before it."""
    before: dict[str, tuple[str, ...]] = {}
    for piece in pieces:
        direct = {operation.id: [after.id for after in operation.after] for operation in piece.operations}
        all_before: dict[str, tuple[str, ...]] = {}
        for name in TopologicalSorter(direct).static_order():  # an item may wait for one that is listed after it
            all_before[name] = tuple(
                dict.fromkeys([*(far for near in direct[name] for far in all_before[near]), *direct[name]])
            )
        before |= {name: all_before[name] for name in direct}
    return before


def _with_steps_before(
    done: Mapping[str, datetime], before: Mapping[str, Sequence[str]], latest: datetime
) -> dict[str, datetime]:
    whole = dict(done)
    for step, ended in done.items():
        if step not in before:
            raise WishError("done", f"{step!r} is no step; {did_you_mean(step, before)}")
        if ended > latest:
            raise WishError("done", f"{step} cannot have ended at {ended:%Y-%m-%d %H:%M}, which is still to come")
        for earlier in before[step]:
            if earlier in done and done[earlier] > ended:
                raise WishError("done", f"{earlier} comes before {step} and cannot have ended after it")
            if earlier not in done:
                whole[earlier] = min(ended, whole.get(earlier, ended))
    return whole

"""What is wanted of a plan, from the options of the command line."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

import typer

from finplan.cli.options import BufferChoice, ReadyChoice

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import datetime

    from finplan.planning import PlannedPiece, Wishes
    from finplan.reading import Calendar


@contextmanager
def as_typed() -> Iterator[None]:
    """Tell of a wish that cannot be had as of the option that was typed.

    Raises
    ------
    typer.BadParameter
        In the place of ``WishError``.
    """
    from finplan.planning import WishError

    try:
        yield
    except WishError as error:
        raise typer.BadParameter(str(error), param_hint=f"--{error.wish}") from None


def now() -> datetime:
    """Return this moment: the one place where the command line reads the clock."""
    from datetime import UTC, datetime

    return datetime.now(UTC)


def start_of(piece: PlannedPiece, from_: str | None) -> datetime:
    """Return the earliest moment of work: that of --from on the shop's clock, else now."""
    from datetime import UTC

    from finplan.planning import date_of, moment_of

    with as_typed():
        start = date_of("from", from_)
    return now() if start is None else moment_of(start, piece.source.shop.time_zone).astimezone(UTC)


def delivery_of(deliver: str | None) -> Calendar | None:
    """Return the delivery that --deliver names, or None where it names none."""
    from finplan.planning import date_of

    with as_typed():
        return date_of("deliver", deliver)


def confidence_of(sure: str) -> float:
    """Return what --sure says as a probability."""
    from finplan.planning import confidence_of

    with as_typed():
        return confidence_of(sure)


def wishes_of(
    pieces: Sequence[PlannedPiece],
    start: datetime,
    *,
    asap: bool = False,
    buffer: BufferChoice = BufferChoice.wanted,
    ready_for: ReadyChoice = ReadyChoice.light_use,
    lose: str | None = None,
    done: Sequence[str] = (),
    limit: str | None = None,
    earliest: bool = True,
) -> Wishes:
    """Return what is wanted of a timetable; a step that is named as done stands for all that come before it."""
    from finplan.planning import Wishes, date_of, done_of, seconds_of

    soonest = now()
    with as_typed():
        lost = date_of("lose", lose)
        return Wishes(
            asap=asap,
            largest_buffer=buffer is BufferChoice.max,
            ready_for=ready_for.value,
            done=done_of(pieces, done, start, max(start, soonest)),
            limit_s=seconds_of(limit),
            lost_day=None if lost is None else lost.day,
            earliest=earliest,
            soonest=soonest,
        )

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
    from finplan.reading import GivenDate


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

    if from_ is None:
        return now()
    with as_typed():
        return moment_of(date_of("from", from_), piece.source.shop.time_zone).astimezone(UTC)


def delivery_of(deliver: str | None) -> GivenDate | None:
    """Return the delivery that --deliver names, or None where it names none."""
    from finplan.planning import date_of

    if deliver is None:
        return None
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
    from finplan.planning import Wishes, date_of, done_of, named_done, seconds_of

    soonest = now()
    with as_typed():
        return Wishes(
            asap=asap,
            largest_buffer=buffer is BufferChoice.max,
            ready_for=ready_for.value,
            done=done_of(pieces, named_done(done, start, pieces[0].source.shop.time_zone), max(start, soonest)),
            limit_s=seconds_of(limit),
            lost_day=None if lose is None else date_of("lose", lose).day,
            earliest=earliest,
            soonest=soonest,
        )

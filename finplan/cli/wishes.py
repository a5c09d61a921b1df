"""What is wanted of a plan, from the options of the command line."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

import typer

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import datetime

    from finplan.planning import PlannedPiece
    from finplan.reading import GivenDate


@contextmanager
def as_option() -> Iterator[None]:
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


def start_typed(piece: PlannedPiece, from_: str | None) -> datetime:
    """Return the earliest moment of work: that of --from on the shop's clock, else now."""
    from finplan.planning import start_of

    with as_option():
        return start_of(from_, piece.source.shop.time_zone, now())


def delivery_of(deliver: str | None) -> GivenDate | None:
    """Return the delivery that --deliver names, or None where it names none."""
    from finplan.planning import date_of

    if deliver is None:
        return None
    with as_option():
        return date_of("deliver", deliver)


def confidence_typed(sure: str) -> float:
    """Return what --sure says as a probability."""
    from finplan.planning import confidence_of

    with as_option():
        return confidence_of(sure)

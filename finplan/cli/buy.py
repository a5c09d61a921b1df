"""One list of what is bought for all jobs over the next weeks, for a person."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from pathlib import Path
from textwrap import wrap
from typing import TYPE_CHECKING

from finplan.buying import Trip
from finplan.cli.table import table
from finplan.moments import show_day
from finplan.place import SHOP
from finplan.problems import NotPossibleError, RefusedError
from finplan.reading import read_document
from finplan.telling import marks_words, not_counted, trips_told, trips_words

if TYPE_CHECKING:
    from finplan.planning import Plan

_WIDTH = 100
_NO_SUPPLIERS = (
    "The shop file names no suppliers: each thing is taken to be fetched on the day before it is used. "
    "suppliers: {default: 1 d} says how many working days it takes."
)


def piece_files(given: Sequence[Path]) -> list[Path]:
    """Return piece files: those given, and of a folder all that are in it.

    Raises
    ------
    NotPossibleError
        A folder holds none.
    """
    paths: list[Path] = []
    for path in given:
        if not path.is_dir():
            paths.append(path)
            continue
        inside = [file for file in sorted(path.glob("*.yaml")) if file.name != SHOP and _is_piece(file)]
        if not inside:
            msg = f"{path}: there is no piece file in this folder"
            raise NotPossibleError(msg)
        paths += inside
    return list(dict.fromkeys(paths))


def _is_piece(file: Path) -> bool:
    try:
        return "parts" in read_document(file).data
    except (RefusedError, OSError):
        return True  # which the reader then tells what is wrong with it


def trips_within(trips: Sequence[Trip], weeks: int, plan: Plan) -> tuple[tuple[Trip, ...], int]:
    """Return the trips of the next weeks, and how many come after them."""
    last = plan.now.date() + timedelta(weeks=weeks)
    soon = tuple(trip for trip in trips if trip.day <= last)
    return soon, len(trips) - len(soon)


def buy_lines(plan: Plan, trips: Sequence[Trip], weeks: int, later: int) -> list[str]:
    """Return what is bought, trip by trip."""
    first, last = plan.now.date(), plan.now.date() + timedelta(weeks=weeks)
    after = f", {later} after that" if later else ""
    lines = [f"{trips_words(trips)} from {show_day(first)} to {show_day(last)}{after}"]
    told_trips = trips_told(trips, plan)
    for_some = len({order.pieces for told in told_trips for order in told.orders}) > 1
    lines += wrap(marks_words(plan), _WIDTH) if for_some else []
    lines += [""]
    head = ("what", "packs", *(("for",) if for_some else ()), "first needed")
    for told in told_trips:
        rows = [
            (order.name, order.packs, *((order.pieces,) if for_some else ()), order.needed) for order in told.orders
        ]
        lines += [told.by, "", *table(head, rows), ""]
        lines += [line for late in told.late for line in wrap(f"Too late: {late}", _WIDTH)]
        lines += [""] if told.late else []
    lines += [
        line for text in not_counted(plan.materials, plan.units) for line in wrap(f"Not counted: {text}.", _WIDTH)
    ]
    if not plan.shop.suppliers:
        lines += wrap(_NO_SUPPLIERS, _WIDTH)
    return lines

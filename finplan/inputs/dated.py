"""What is doubtful on a certain day: dates that are over, and Christmas."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import cache
from importlib import resources

from finplan.inputs.piece import Piece
from finplan.inputs.shop import Shop
from finplan.problems import Finding

_YEARS = 3
"""So many years have a Christmas Day among them that is no Saturday and no Sunday."""


def dated_in_piece(piece: Piece, today: date) -> Iterator[Finding]:
    """Give a warning for every date of a piece that cannot be meant so on *today*, the shop's."""
    due = piece.deliver
    if due is not None and due.day < today:
        yield _warning(("deliver",), f"{due.day} is over", f"expected a day from {today} on", "past-date")
    sample = piece.sample
    if sample is not None and not sample.approved and sample.by.day < today:
        expected = f"expected a day from {today} on, or approved with the day on which it was"
        yield _warning(("sample",), f"{sample.by.day} is over", expected, "past-date")
    if sample is not None and due is not None and sample.by.day > due.day:
        yield _warning(("sample",), f"{sample.by.day} is after the delivery", "expected a day before it", "past-date")
    if piece.built is not None and piece.built > today.year:
        wrong = f"{piece.built} is yet to come"
        yield _warning(("refinish", "built"), wrong, "expected the year in which it was built", "future-date")


def dated_in_shop(shop: Shop, today: date) -> Iterator[Finding]:
    """Give a warning where a shop that names no public holidays works on the next 25 December."""
    if shop.holidays is not None:
        return
    coming = [day for year in range(today.year, today.year + _YEARS + 1) if (day := date(year, 12, 25)) >= today]
    worked = [day for day in coming[:_YEARS] if any(shop.shifts(person, day) for person in shop.people)]
    if not worked or any(day in shop.closed for day in coming[:_YEARS]):
        return
    zone = shop.time_zone.key
    country = holidays_by_zone(zone)
    expected = f"holidays: {country} takes out those of {zone}" if country else "holidays: GB, say, takes out those"
    wrong = f"no public holidays are named, and {shop.people[0].name if len(shop.people) == 1 else 'somebody'} works"
    yield _warning(
        ("people",), f"{wrong} on {worked[0]}", f"{expected}, a list under closed: any others", "open-at-christmas"
    )


def _warning(path: tuple[str, ...], wrong: str, expected: str, name: str) -> Finding:
    return Finding(path, wrong, expected, severity="warning", name=name)


def holidays_by_zone(zone: str) -> str | None:
    """Return the code of the country in which a time zone lies, as ``holidays:`` takes it; None where it is in none.

    >>> holidays_by_zone("Europe/Dublin"), holidays_by_zone("UTC")
    ('IE', None)
    """
    return _countries().get(zone)


@cache
def _countries() -> dict[str, str]:
    """Return the country of every time zone that lies in one, by ISO 3166: the table zone.tab of the tz database."""
    table = resources.files("tzdata").joinpath("zoneinfo", "zone.tab").read_text(encoding="utf-8")
    rows = [line.split("\t") for line in table.splitlines() if line and not line.startswith("#")]
    return {zone: country for country, _, zone, *_ in rows}

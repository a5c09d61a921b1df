"""Shops and small pieces to plan, and planning them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

from finplan.catalogue import bundled_catalogue
from finplan.planning import PlannedPiece, Wishes, order_of, read_sources, replanned, timetable_of
from finplan.reading import GivenDate
from finplan.timetable import Kept
from tests.plans import sound_pieces
from tests.timetable.read_back import Planned

NOW = datetime(2027, 3, 1, tzinfo=UTC)  # a Monday
SYSTEMS = tuple(bundled_catalogue().systems)

COOL_SHOP = """\
shop: Cool
time-zone: Europe/London
people:
  - {name: Wynn, hours: {mon-fri: [9:30-12:30, 13:30-18:15]}}
rooms:
  room: {for: [sanding, assembly, coating, drying], volume: 75 m3, air-changes: 1, fan: 400 m3/h}
climate:
  day: {from: 8:30, to: 18:30, temperature: 19 degC, humidity: 50 %}
  night: {temperature: 13 degC, humidity: 58 %}
"""
ONE_PERSON = """\
shop: One person
spray-without-booth: I have read the local code
time-zone: Europe/London
people:
  - {name: Wynn, hours: {mon-thu: [8:00-12:00, 12:30-17:00], fri: 8:00-13:00}}
climate:
  day: {from: 8:00, to: 18:00, temperature: 20 degC, humidity: 50 %}
  night: {temperature: 16 degC, humidity: 55 %}
"""
TWO_PEOPLE = """\
shop: Two people and three rooms
time-zone: Europe/London
people:
  - {name: Ines, hours: {mon-thu: [8:00-12:00, 12:30-17:00], fri: 8:00-13:00}, skills: [sanding, assembly, coating]}
  - {name: Tam, hours: {tue-sat: [9:00-12:30, 13:00-15:00]}, skills: [coating, spraying]}
rooms:
  bench: {for: [sanding, assembly]}
  booth: {for: [spraying], booth: {face: 2.4 x 2.1 m, velocity: 0.5 m/s}}
  finishing: {for: [coating, drying]}
rack: {places: 3, hooks: 2}
climate:
  day: {from: 8:00, to: 18:00, temperature: 21 degC, humidity: 48 %}
  night: {temperature: 15 degC, humidity: 58 %}
"""
NIGHT_SHIFT = """\
shop: Night shift in one room
spray-without-booth: I have read the local code
time-zone: Europe/Berlin
people:
  - {name: Odile, hours: {sun-thu: 22:00-6:00}}
rack: {places: 1, hooks: 1}
climate:
  day: {from: 7:00, to: 19:00, temperature: 17 degC, humidity: 58 %}
  night: {temperature: 22 degC, humidity: 45 %}
"""
COLD_NIGHTS = """\
shop: Cold nights, by month
spray-without-booth: I have read the local code
time-zone: Europe/London
people:
  - {name: Bram, hours: {mon-fri: [7:30-12:00, 13:00-17:15]}}
rooms:
  bench: {for: [sanding, assembly]}
  finishing: {for: [coating, spraying, drying]}
buffer: 1 d
climate:
  months:
""" + "".join(
    f"    {month}: {{day: {{from: 7:30, to: 18:30, temperature: {20 + n % 2} degC, humidity: {50 - n % 3} %}}, "
    f"night: {{temperature: {9 + n % 2} degC, humidity: 68 %}}}}\n"
    for n, month in enumerate(("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"))
)
LOGGED = ONE_PERSON[: ONE_PERSON.index("climate")] + "climate: {log: logger.csv}\n"
SHELF = "  {name}: {{shape: board, length: {length}, width: 200, thickness: 20}}\n"


def log_text() -> str:
    """A week of hourly readings that climb and fall between 15 and 23 °C."""
    rows = ["time,temperature,humidity"]
    for hour in range(7 * 24):
        clock = (hour - 3) % 24
        height = 1 - abs(clock - 12) / 12
        rows.append(f"2027-03-{1 + hour // 24:02} {hour % 24:02}:00,{15 + 8 * height:.2f},{58 - 14 * height:.1f}")
    return "\n".join(rows) + "\n"


def shelf(system: str = "hardwax-oil", count: int = 1, **fields: str) -> str:
    """A piece of so many small boards."""
    head = {"timber": "ash", "system": system, **fields}
    boards = "".join(SHELF.format(name=f"shelf {n + 1}", length=600 + 10 * n) for n in range(count))
    lines = "".join(f"{name}: {value}\n" for name, value in head.items())
    return f"piece: Shelf\nlengths: mm\n{lines}parts:\n{boards}"


def read(
    folder: Path, pieces: Sequence[str], shop: str | None = None, log: str | None = None
) -> tuple[PlannedPiece, ...]:
    """Return pieces with what is done to them, from the text of their files."""
    files = []
    for number, text in enumerate(pieces, start=1):
        files.append(folder / f"piece{number}.yaml")
        files[-1].write_text(text, encoding="utf-8")
    shop_file = None
    if shop is not None:
        shop_file = folder / "shop.yaml"
        shop_file.write_text(shop, encoding="utf-8")
        (folder / "logger.csv").write_text(log or log_text(), encoding="utf-8")
    return sound_pieces(read_sources(files, shop_file))


def plan(
    pieces: Sequence[PlannedPiece],
    deliver: str | Sequence[str | None] | None = None,
    *,
    now: datetime = NOW,
    wishes: Wishes | None = None,
) -> Planned:
    """Plan pieces, all for one delivery or each for its own."""
    texts = [deliver] * len(pieces) if deliver is None or isinstance(deliver, str) else deliver
    deliveries = tuple(None if text is None else GivenDate.parse(text) for text in texts)
    wishes = wishes or Wishes(answers=False)
    found = timetable_of(pieces, deliveries, now=now, wishes=wishes)
    return Planned(tuple(pieces), deliveries, now, wishes, found)


def rest_of(planned: Planned, now: datetime, wishes: Wishes) -> Kept:
    """Return the rest of a plan, planned again."""
    return replanned(
        planned.pieces,
        planned.deliveries,
        planned.timetable,
        coats=lambda: order_of(planned.pieces, now=now).coats,
        now=now,
        wishes=wishes,
    )

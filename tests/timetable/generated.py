"""Jobs made up at random from a seed: pieces of every system, in shops of all sorts. The same seed is the same job."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from random import Random

from finplan.catalogue import bundled_catalogue
from finplan.planning import PlannedPiece, Source, Wishes, job_of, read_sources, timetable_of
from finplan.problems import RefusedError
from finplan.reading import GivenDate
from finplan.timetable import Planner
from tests.plans import sound_pieces
from tests.timetable.read_back import Planned
from tests.timetable.shops import log_text

NOW = datetime(2027, 3, 1, tzinfo=UTC)  # a Monday
MOST_PARTS = 12
_SYSTEMS = tuple(bundled_catalogue().systems)
_TIMBERS = ("ash", "white-oak", "walnut", "beech", "sugar-maple", "cherry", "birch", "poplar", "white-pine", "teak")
_SAFE_TIMBER = "beech"
"""What every system goes on."""

_WEEKS = (
    "{mon-fri: [8:00-12:00, 13:00-17:00]}",
    "{mon-thu: [8:00-12:00, 12:30-17:00], fri: 8:00-13:00}",
    "{mon-sat: 7:10-11:25}",
    "{tue-sat: [9:00-12:30, 13:00-15:00]}",
    "{mon-fri: [17:00-21:30], sat: 9:00-16:00}",
    "{mon: 8:00-18:00, wed: 8:00-18:00, fri: 8:00-18:00}",
    "{sun-thu: 22:00-6:00}",
    "{mon-fri: [6:35-8:20, 8:40-10:55, 11:15-14:05]}",
)
_HELPER_WEEKS = (*_WEEKS, "{tue: 9:00-13:00, thu: 9:00-13:00}", "{sat: 8:00-16:00}", "{mon-fri: 13:00-15:30}")
_HELPER_SKILLS = ("[sanding, coating]", "[coating, spraying]", "[sanding, assembly]", "[coating]", "[sanding]")
_ROOMS = (
    "{shop: {for: [sanding, assembly, coating, spraying, drying]}}",
    "{bench: {for: [sanding, assembly]}, finishing: {for: [coating, spraying, drying]}}",
    "{bench: {for: [sanding, assembly, coating]}, store: {for: [drying]}}",
    "{bench: {for: [sanding, assembly]}, booth: {for: [spraying]}, finishing: {for: [coating, drying]}}",
)
_ZONES = ("Europe/London", "Europe/Berlin", "America/Chicago", "Asia/Tokyo", "UTC")
_AS_DRAWN = 0.2
"""This share of the jobs keeps the dates that were drawn, of which many can not be kept."""
_SLACKS = (0.0, 0.1, 0.3, 1.0)
"""Of all others the dates of one lie up to so much of the way from now to ready after it: at 0 each just as it is
ready in a plan that is known."""
_OLD = (
    "",
    *3 * ("refinish: {lead-test: clear, strip: chemical}\n",),
    "refinish: {built: 1950, strip: chemical}\n",
    "refinish: {lead-test: clear, strip: heat}\n",
    "refinish: {built: 1950, strip: scrape}\n",
)
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


@dataclass(frozen=True)
class Case:
    """What is planned: the text of the files, the dates, and whether it is to be ready as early as can be."""

    seed: int
    pieces: tuple[str, ...]
    shop: str
    deliveries: tuple[str | None, ...]
    asap: bool
    slack: float | None = None
    """How far after the plan that is made at once the dates lie (``_SLACKS``); None where they are as drawn."""
    known: bool = False
    """Whether a plan that keeps every date is known."""


def case(seed: int, pieces: int, *, stripped: bool = False) -> Case:
    """Return a job of so many pieces; *stripped*: the same with an old coating on most of them, to be taken off."""
    random = Random(f"{seed}/{pieces}")
    shop = _shop(random)
    texts = tuple(_piece(random, number) for number in range(1, pieces + 1))
    deliveries = tuple(_delivery(random, pieces) for _ in texts)
    made = Case(seed, texts, shop, deliveries, asap=random.random() < 0.25)
    old = Random(f"{seed}/{pieces}/old coating")
    return replace(made, pieces=tuple(old.choice(_OLD) + text for text in texts)) if stripped else made


# --- the shop -------------------------------------------------------------------------------------------------------


def _shop(random: Random) -> str:
    people = [f"  - {{name: Ardith, hours: {random.choice(_WEEKS)}}}"]
    for name in ("Bevis", "Corin")[: random.choice((0, 0, 1, 1, 2))]:
        skills = random.choice(("", f", skills: {random.choice(_HELPER_SKILLS)}"))
        people.append(f"  - {{name: {name}, hours: {random.choice(_HELPER_WEEKS)}{skills}}}")
    lines = [
        "shop: Made-up shop",
        "spray-without-booth: I have read the local code",
        f"time-zone: {random.choice(_ZONES)}",
        "people:",
        *people,
        f"rooms: {random.choice(_ROOMS)}",
        f"rack: {{places: {random.choice((1, 2, 3, 6, 12))}, hooks: {random.choice((1, 2, 4, 8))}}}",
        "methods: [wipe, brush, pad, roller, spatula, spray-hvlp, random-orbit-150, hand, lathe]",
        _climate(random),
    ]
    if random.random() < 0.3:
        away = NOW.date() + timedelta(days=random.randint(3, 30))
        lines.append(f"closed: [{away} to {away + timedelta(days=random.randint(0, 6))}]")
    if random.random() < 0.2:
        lines.append("holidays: GB-ENG")
    buffer = random.choice((None, None, "4 h", "1 d", "2 d"))
    return "\n".join([*lines, *([] if buffer is None else [f"buffer: {buffer}"]), ""])


def _climate(random: Random) -> str:
    kind = random.random()
    if kind < 0.1:
        return "climate: {log: logger.csv}"
    if kind < 0.3:
        months = ", ".join(f"{month}: {{{_day_and_night(random)}}}" for month in _MONTHS)
        return f"climate: {{months: {{{months}}}}}"
    return f"climate: {{{_day_and_night(random)}}}"


def _day_and_night(random: Random) -> str:
    day_c = random.randint(18, 26)
    night_c = random.choice((day_c, day_c - 2, day_c - 4, random.randint(6, day_c)))
    day_pct, night_pct = random.randint(40, 60), random.randint(45, 70)
    return (
        f"day: {{from: {random.randint(6, 9)}:00, to: {random.randint(17, 20)}:30, temperature: {day_c} degC, "
        f"humidity: {day_pct} %}}, night: {{temperature: {night_c} degC, humidity: {night_pct} %}}"
    )


# --- the pieces -----------------------------------------------------------------------------------------------------


def _piece(random: Random, number: int) -> str:
    count = random.choice((1, 1, 2, 2, 3, 4, 5, 6, 8, MOST_PARTS))
    joined = random.choice((0, 0, 2, count - 1)) if count > 2 else 0
    head = [f"piece: Made-up piece {number}", "lengths: mm", f"timber: {random.choice(_TIMBERS)}"]
    head.append(f"system: {random.choice(_SYSTEMS)}")
    names = [f"part {letter}" for letter in "abcdefghijkl"[:count]]
    if joined:
        head.append(f"assemblies: {{frame: {{parts: [{', '.join(names[-joined:])}]}}}}")
    lines = [*head, "parts:"]
    alike = _shape(random) if random.random() < 0.3 else None
    for place, name in enumerate(names):
        fields = [alike or _shape(random)]
        if random.random() < 0.3:
            fields.append(f"count: {random.randint(2, 6)}")
        if place < count - joined and random.random() < 0.15:
            fields.append(f"system: {random.choice(_SYSTEMS)}")
        lines.append(f"  {name}: {{{', '.join(fields)}}}")
    return "\n".join([*lines, ""])


def _shape(random: Random) -> str:
    long, wide, thick = random.randrange(300, 1500, 10), random.randrange(80, 600, 10), random.randint(18, 40)
    side = random.randint(35, 80)
    return random.choice(
        (
            f"shape: board, length: {long}, width: {wide}, thickness: {thick}",
            f"shape: rectangle, length: {long + wide}, width: {wide}, thickness: {thick}",
            f"shape: rectangle, length: {long + wide}, width: {wide}, thickness: {thick}, "
            "faces: {underside: {exposure: show}}",
            f"shape: disc, diameter: {wide + 200}, thickness: {thick}",
            f"shape: square-leg, side: {side}, length: {long}",
            f"shape: rod, diameter: {side}, length: {long}",
            f"shape: turned, elements: [{{block: {{side: {side}, length: 100}}}}, "
            f"{{taper: {{from: {side - 5}, to: {side - 15}, length: {long}}}}}]",
        )
    )


def _delivery(random: Random, pieces: int) -> str | None:
    if random.random() < 0.1:
        return None
    days = random.randint(10, 30) if random.random() < 0.1 else random.randint(30, 45 + 4 * pieces)
    day: date = NOW.date() + timedelta(days=days)
    return f"{day}{random.choice(('', ' 12:00', ' 15:30'))}"


def with_dates_that_can_be_kept(made: Case, pieces: Sequence[PlannedPiece]) -> Case:
    """Return a job with dates that the plan made at once keeps; a share of the jobs with the dates as drawn.

    With ten pieces and more hardly a job keeps all dates that are drawn at random.

    Parameters
    ----------
    made
        The job
    pieces
        Its pieces, with what is done to them

    Returns
    -------
    Case
        Where that plan keeps the drawn dates, it is ``known`` of these too; pieces without a date stay without.
    """
    random = Random(f"{made.seed}/{len(made.pieces)}/dates")
    as_drawn, slack = random.random() < _AS_DRAWN, random.choice(_SLACKS)
    planner = Planner(job_of(pieces, dates_of(made), NOW, Wishes()))
    found = planner.made_early(dated=False)
    if found is None:
        return made
    ready = [planner.setting.clock_of_slot(planner.ready_slot(one, found)) for one in planner.job.pieces]
    if as_drawn:
        dues = [planner.job.delivery(one) for one in planner.job.pieces]
        return replace(made, known=all(due is None or at <= due for at, due in zip(ready, dues, strict=True)))
    dates = tuple(
        None if text is None else f"{_minute_from(at + (at - NOW) * random.uniform(0, slack)):%Y-%m-%d %H:%M}"
        for text, at in zip(made.deliveries, ready, strict=True)
    )
    return replace(made, deliveries=dates, slack=slack, known=True)


def _minute_from(moment: datetime) -> datetime:
    """Return the first whole minute from a moment on."""
    return (moment + timedelta(seconds=59)).replace(second=0, microsecond=0)


# --- planning them --------------------------------------------------------------------------------------------------


def treated_case(made: Case, folder: Path) -> tuple[PlannedPiece, ...]:
    """Return the pieces of a job with what is done to them, its files written to a folder.

    A piece whose timber a system does not go on is made of another.
    """
    (folder / "shop.yaml").write_text(made.shop, encoding="utf-8")
    (folder / "logger.csv").write_text(log_text(), encoding="utf-8")
    sources = [source for number, text in enumerate(made.pieces, start=1) for source in _readable(text, number, folder)]
    return sound_pieces(sources)


def _readable(text: str, number: int, folder: Path) -> list[Source]:
    """Return a piece as it is made up, else of a timber on which all goes, else of one system too."""
    file, shop_file = folder / f"piece{number}.yaml", folder / "shop.yaml"
    timber = next(line for line in text.splitlines() if line.startswith("timber:"))
    safe = text.replace(timber, f"timber: {_SAFE_TIMBER}")
    for tried in (text, safe):
        file.write_text(tried, encoding="utf-8")
        with suppress(RefusedError):
            sources = list(read_sources([file], shop_file))
            sound_pieces(sources)
            return sources
    file.write_text("\n".join(_of_one_system(line) for line in safe.splitlines()), encoding="utf-8")
    return list(read_sources([file], shop_file))


def _of_one_system(line: str) -> str:
    """Return the line of a part without a system of its own."""
    head, found, _ = line.partition(", system:")
    return f"{head}}}" if found else line


def planned_case(
    made: Case, pieces: Sequence[PlannedPiece], wishes: Wishes | None = None, *, now: datetime = NOW
) -> Planned:
    """Return the plan of a job; by default under its own wishes and without answers."""
    wishes = Wishes(answers=False, asap=made.asap) if wishes is None else wishes
    dates = dates_of(made)
    found = timetable_of(pieces, dates, now=now, wishes=wishes, air_waits_h={})
    return Planned(tuple(pieces), dates, now, wishes, found)


def dates_of(made: Case) -> tuple[GivenDate | None, ...]:
    """Return the dates of the pieces of a job, as they are read."""
    return tuple(None if text is None else GivenDate.parse(text) for text in made.deliveries)

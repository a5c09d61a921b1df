"""Three invented pieces and a workshop, to try everything on."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from finplan.whole_file import write_whole

FILES = ("hall-bench.yaml", "round-table.yaml", "book-shelf.yaml", "shop.yaml")
FIRST = "hall-bench.yaml"
WEEKS_AHEAD = 5
_FOLDER = Path(__file__).with_name("files")
_DELIVER = re.compile(r"^deliver: (DELIVER|\d{4}-\d{2}-\d{2})", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class DemoFile:
    """A file of the demo, and what was done about it."""

    path: Path
    done: str
    """``written``, ``there already`` or ``kept, because it was changed``."""


def delivery_day(today: date) -> date:
    """Return the day of delivery that is written into the pieces.

    A Friday some weeks ahead, but not at the turn of the year.

    >>> delivery_day(date(2027, 3, 2)).isoformat(), delivery_day(date(2026, 11, 24)).isoformat()
    ('2027-04-09', '2027-01-15')
    """
    day = today + timedelta(weeks=WEEKS_AHEAD)
    day += timedelta(days=(4 - day.weekday()) % 7)
    while (day.month, day.day) >= (12, 18) or (day.month, day.day) <= (1, 10):
        day += timedelta(weeks=1)
    return day


def write_demo(folder: Path, today: date) -> tuple[DemoFile, ...]:
    """Write the demo's files, and leave alone any that was changed.

    A file that is as it was written, but whose delivery has passed, is written anew.

    Raises
    ------
    OSError
        The folder cannot be made, or a file there cannot be read.
    NotPossibleError
        A file cannot be written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    return tuple(_write(folder / name, name, today) for name in FILES)


def _write(path: Path, name: str, today: date) -> DemoFile:
    template = (_FOLDER / name).read_text(encoding="utf-8")
    text = _DELIVER.sub(f"deliver: {delivery_day(today).isoformat()}", template)
    if path.exists():
        there = path.read_text(encoding="utf-8", errors="replace")
        if _DELIVER.sub("deliver: DELIVER", there) != template:
            return DemoFile(path, "kept, because it was changed")
        match = _DELIVER.search(there)
        if match is None or date.fromisoformat(match.group(1)) > today + timedelta(weeks=WEEKS_AHEAD - 1):
            return DemoFile(path, "there already")
    write_whole(text.encode("utf-8"), path)
    return DemoFile(path, "written")

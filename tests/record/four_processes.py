"""Shows jobs by four processes at once, none of which has planned before, on a machine that is kept busy.

``python -m tests.record.four_processes --busy 4`` plans a wardrobe and three pieces at once in folders of their own,
reads back what timetable, sheet, tags and calendar say of every step, and raises where one says another minute.
"""

from __future__ import annotations

import argparse
import json
import re
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path
from typing import Any

from icalendar import Calendar
from pypdf import PdfReader

SHOP = """\
shop: Otter lane
people:
  - {name: Wenna, hours: {mon-fri: [8:00-12:00, 12:30-17:00]}}
  - {name: Osric, hours: {tue-thu: [9:00-13:00]}, skills: [sanding, coating]}
rack: {places: 6, hooks: 2}
"""
WARDROBE = """\
piece: Loft wardrobe
lengths: mm
timber: ash
system: hardwax-oil
parts:
  side: {shape: rectangle, length: 1880, width: 540, thickness: 22, count: 2}
  shelf: {shape: rectangle, length: 920, width: 520, thickness: 20, count: 4}
  door: {shape: rectangle, length: 1760, width: 462, thickness: 22, count: 2}
  rail: {shape: rod, diameter: 28, length: 915}
  plinth: {shape: board, length: 915, width: 80, thickness: 20}
"""
STOOL = """\
piece: Milking stool
lengths: mm
timber: beech
system: oil-varnish
parts:
  seat: {shape: disc, diameter: 300, thickness: 30}
  leg: {shape: rod, diameter: 32, length: 330, count: 3}
"""
SHELF = """\
piece: Spice shelf
lengths: mm
timber: cherry
system: wax
parts:
  board: {shape: board, length: 640, width: 140, thickness: 18, count: 2}
"""
JOBS = {"wardrobe": (WARDROBE,), "three pieces": (STOOL, SHELF, WARDROBE.replace("Loft wardrobe", "Hall wardrobe"))}
_MOMENT = re.compile(r"[A-Z][a-z]{2} (\d{1,2}) ([A-Z][a-z]{2}) (\d{2}:\d{2})")
_HEAD = re.compile(r"[A-Z][a-z]+day (\d{1,2} [A-Z][a-z]+ \d{4})")
Starts = dict[int, set[str]]
"""By the number of a step, when its stretches begin on the wall: ``2027-03-16 13:05``."""


def shown_at_once(texts: Sequence[str], folder: Path, *, busy: int = 0) -> dict[str, int]:
    """Show a job by four processes at once; return of each how many starts it tells.

    Raises
    ------
    AssertionError
        Two of them tell a step at another minute, more than one plan is held, or one of them fails.
    """
    (folder / "shop.yaml").write_text(SHOP, encoding="utf-8")
    files = [f"piece{number}.yaml" for number in range(1, len(texts) + 1)]
    for name, text in zip(files, texts, strict=True):
        (folder / name).write_text(text, encoding="utf-8")
    asked = [*files, "--from", "2027-03-01", "--deliver", "2027-04-09"]
    commands = {
        "timetable": ["timetable", *asked, "--json"],
        "sheet": ["sheet", *asked, "-o", "sheet.pdf"],
        "tags": ["tags", *asked, "-o", "tags.pdf"],
        "calendar": ["calendar", *asked, "-o", "job.ics"],
    }
    with _kept_busy(busy):
        running = {
            name: subprocess.Popen(
                [sys.executable, "-m", "finplan", *command],
                cwd=folder,
                stdout=subprocess.PIPE,
                stderr=subprocess.PIPE,
                text=True,
            )
            for name, command in commands.items()
        }
        said = {name: process.communicate() for name, process in running.items()}
    for name, process in running.items():
        assert process.returncode == 0, f"{name}: {said[name][1]}"
    whole = json.loads(said["timetable"][0])["steps"]
    steps = [step for step in whole if step["kind"] == "attended"]
    timetable = _by_number((step["number"], step["start"][:16].replace("T", " ")) for step in steps)
    drying = {(step["number"], step["start"][:16].replace("T", " ")) for step in whole if step["kind"] == "drying"}
    calendar = _in_calendar(folder / "job.ics", drying)
    assert calendar == timetable, _otherwise("calendar", calendar, timetable)
    sheet = _on_sheet(folder / "sheet.pdf")
    planned = {step["start"][:16].replace("T", " ") for step in steps if step["deed"] != "clean-up"}
    assert planned <= sheet, f"sheet: nothing begins at {sorted(planned - sheet)}"
    tags = _on_tags(folder / "tags.pdf", min(planned)[:4])
    coats = _by_number(
        (step["number"], step["start"][:16].replace("T", " ")) for step in steps if step["deed"] == "coat"
    )
    assert tags == {(number, min(starts)) for number, starts in coats.items()}, f"tags: {tags} of {coats}"
    assert _plans_held(folder) == 1
    return {"timetable": len(steps), "calendar": len(calendar), "sheet": len(planned), "tags": len(tags)}


def _by_number(found: Iterator[tuple[int, str]] | Any) -> Starts:
    starts: Starts = {}
    for number, start in found:
        starts.setdefault(number, set()).add(start)
    return starts


def _in_calendar(file: Path, drying: set[tuple[int, str]]) -> Starts:
    """Return when the events of work begin; what dries has events of its own, which begin when it does."""
    events = Calendar.from_ical(file.read_bytes()).walk("VEVENT")
    numbered = ((re.match(r"(\d+)\. ", str(event["summary"])), event.decoded("dtstart")) for event in events)
    begins = ((int(found[1]), f"{start:%Y-%m-%d %H:%M}") for found, start in numbered if found)
    return _by_number(one for one in begins if one not in drying)


def _on_sheet(file: Path) -> set[str]:
    """Return every time of day that a day names; cleaning up stands with its coats, without a time."""
    text = "\n".join(page.extract_text() for page in PdfReader(file).pages)
    day: date | None = None
    found: set[str] = set()
    for mark in re.finditer(rf"{_HEAD.pattern}|(?P<clock>\d{{2}}:\d{{2}})", text):
        if mark["clock"] is None:
            day = datetime.strptime(mark[1], "%d %B %Y").date()
        elif day is not None:
            found.add(f"{day} {mark['clock']}")
    return found


def _on_tags(file: Path, year: str) -> set[tuple[int, str]]:
    """Return the number of every coat, and when it is to be put on."""
    text = "\n".join(page.extract_text() for page in PdfReader(file).pages)
    found: set[tuple[int, str]] = set()
    for mark in re.finditer(r"(\d+)\. Coat \d+ of \d+.*?Put on (.*?), really", text, re.DOTALL):
        said = _MOMENT.fullmatch(" ".join(mark[2].split()))
        assert said is not None, mark[2]
        day = datetime.strptime(f"{said[1]} {said[2]} {year}", "%d %b %Y").date()
        found.add((int(mark[1]), f"{day} {said[3]}"))
    return found


def _otherwise(name: str, found: Starts, wanted: Starts) -> str:
    numbers = [number for number in {*found, *wanted} if found.get(number) != wanted.get(number)]
    return f"{name}: " + "; ".join(f"{one}: {found.get(one)} instead of {wanted.get(one)}" for one in numbers)


def _plans_held(folder: Path) -> int:
    said = subprocess.run(
        [sys.executable, "-m", "finplan", "ledger", "export", "finplan.ledger"],
        cwd=folder,
        capture_output=True,
        text=True,
        check=True,
    )
    return len(json.loads(said.stdout)["tables"]["plan"])


@contextmanager
def _kept_busy(processes: int) -> Iterator[None]:
    """Let so many processes reckon without end meanwhile."""
    running = [subprocess.Popen([sys.executable, "-c", "while True: pass"]) for _ in range(processes)]
    try:
        yield
    finally:
        for one in running:
            one.kill()
            one.wait()


def main() -> None:
    """Show both jobs, and print how many starts each process told alike."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--busy", type=int, default=4)
    busy = parser.parse_args().busy
    for name, texts in JOBS.items():
        began = time.monotonic()
        with tempfile.TemporaryDirectory() as folder:
            told = shown_at_once(texts, Path(folder), busy=busy)
        counts = ", ".join(f"{count} on the {what}" for what, count in told.items())
        print(f"{name}: one plan, the same minutes: {counts}; {time.monotonic() - began:.0f} s, {busy} busy")  # noqa: T201


if __name__ == "__main__":
    main()

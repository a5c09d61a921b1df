"""A week of a bench as its maker has it: planned, printed, ticked late and out of order, a cold night, replanned, done.

``python -m tests.record.week`` prints every command with what it says.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Sequence
from contextlib import ExitStack, chdir, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from datetime import UTC, datetime
from importlib import import_module
from io import BytesIO, TextIOWrapper
from pathlib import Path
from unittest.mock import patch

BENCH = """\
piece: Hall bench
lengths: mm
timber: ash
system: hardwax-oil
deliver: 2027-03-12 15:00
parts:
  seat: {shape: rectangle, length: 1180, width: 330, thickness: 32}
  leg: {shape: square-leg, side: 48, length: 420, count: 4}
  rail: {shape: board, length: 900, width: 70, thickness: 22}
"""
SHOP = """\
shop: Otter lane
time-zone: Europe/London
people:
  - {name: Wenna, hours: {mon-fri: [8:00-12:00, 12:30-17:00]}}
  - {name: Osric, hours: {mon-fri: [8:00-12:00]}, skills: [sanding, coating]}
climate:
  day: {from: 8:00, to: 18:00, temperature: 21 degC, humidity: 45 %}
  night: {temperature: 16 degC, humidity: 50 %}
"""
NEXT = BENCH.replace("Hall bench", "Porch bench").replace("2027-03-12", "2027-03-26")
WEEK: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("2027-02-26 16:00", ("timetable", "bench.yaml")),
    ("2027-02-26 16:05", ("materials", "bench.yaml")),
    ("2027-02-26 16:10", ("sheet", "bench.yaml", "-o", "bench.html")),
    ("2027-02-26 16:11", ("calendar", "bench.yaml", "-o", "bench.ics")),
    ("2027-03-01 08:00", ("stock", "receive", "hardwax-oil", "1 l")),
    ("2027-03-04 14:06", ("done", "bench.yaml", "1", "--at", "14:05", "--took", "20 min", "--by", "Wenna")),
    ("2027-03-04 15:22", ("done", "bench.yaml", "2-3", "--at", "15:20", "--by", "Wenna")),
    ("2027-03-04 16:02", ("done", "bench.yaml", "5", "--at", "16:00", "--can", "1012 g -> 942 g", "--by", "Wenna")),
    ("2027-03-04 16:31", ("done", "bench.yaml", "6", "--at", "16:30", "--used", "30 ml", "--by", "Osric")),
    ("2027-03-04 17:06", ("done", "bench.yaml", "4", "7", "--at", "17:05", "--used", "14 ml", "--air", "17 degC 55 %")),
    ("2027-03-05 07:45", ("replan", "bench.yaml", "--air", "9 degC 65 %")),
    ("2027-03-05 07:50", ("calendar", "bench.yaml", "-o", "bench.ics")),
    ("2027-03-05 15:30", ("done", "bench.yaml", "5", "--dry")),
    ("2027-03-05 16:58", ("done", "bench.yaml", "11")),
    ("2027-03-05 16:59", ("done", "bench.yaml", "9", "10")),
    ("2027-03-08 08:10", ("done", "bench.yaml", "8", "--at", "08:05", "--by", "Osric")),
    ("2027-03-08 08:11", ("replan", "bench.yaml")),
    ("2027-03-08 09:12", ("done", "bench.yaml", "11", "--used", "110 ml", "--by", "Wenna", "--at", "09:10")),
    ("2027-03-08 09:13", ("done", "bench.yaml", "11", "--undo")),
    ("2027-03-08 09:14", ("done", "bench.yaml", "11", "--used", "11 ml", "--by", "Wenna", "--at", "09:10")),
    ("2027-03-08 09:40", ("done", "bench.yaml", "12", "--used", "54 ml", "--by", "Osric", "--at", "09:35")),
    ("2027-03-08 10:10", ("done", "bench.yaml", "13", "14", "--used", "21 ml", "--by", "Wenna", "--at", "10:05")),
    ("2027-03-08 10:15", ("replan", "bench.yaml")),
    ("2027-03-08 10:16", ("stock",)),
    ("2027-03-08 10:20", ("review", "bench.yaml")),
    ("2027-03-09 08:00", ("timetable", "next.yaml")),
    ("2027-03-09 08:05", ("materials", "next.yaml")),
)
"""When, on the shop's clock, and what is typed."""


@dataclass(frozen=True)
class Said:
    """A command with what it said."""

    when: str
    typed: tuple[str, ...]
    status: int
    out: str
    err: str


def week(folder: Path) -> list[Said]:
    """Return what every command of the week says, run one after another in a folder that is empty."""
    for name, text in (("bench.yaml", BENCH), ("next.yaml", NEXT), ("shop.yaml", SHOP)):
        (folder / name).write_text(text, encoding="utf-8")
    return [_run(when, typed, folder) for when, typed in WEEK]


def _run(when: str, typed: Sequence[str], folder: Path) -> Said:
    from finplan.cli import main

    moment = datetime.fromisoformat(when).replace(tzinfo=UTC)
    kept = BytesIO(), BytesIO()
    out, err = (TextIOWrapper(one, encoding="utf-8", write_through=True) for one in kept)
    import_module("finplan.cli.app")
    status: object = 0
    with ExitStack() as stack:
        for name in ("wishes", "held", "files", "app", "bench", "stock"):
            module = import_module(f"finplan.cli.{name}")
            if hasattr(module, "now"):
                stack.enter_context(patch.object(module, "now", lambda: moment))
        stack.enter_context(patch.object(sys, "argv", ["finplan", *typed]))
        stack.enter_context(chdir(folder))
        stack.enter_context(redirect_stdout(out))
        stack.enter_context(redirect_stderr(err))
        try:
            main()
        except SystemExit as ended:
            status = ended.code or 0
    return Said(when, tuple(typed), int(str(status)), *(one.getvalue().decode() for one in kept))


def main() -> None:
    """Print the week."""
    with tempfile.TemporaryDirectory() as folder:
        for one in week(Path(folder)):
            typed = " ".join(f"'{part}'" if " " in part else part for part in one.typed)
            print(f"{one.when} $ finplan {typed}\n{one.err}{one.out}", end="\n" if one.status == 0 else "")  # noqa: T201
            if one.status:
                print(f"[{one.status}]\n")  # noqa: T201


if __name__ == "__main__":
    main()

"""How the time at which a piece is ready moves with the temperature of the nights: run it by hand for all of it.

python -m tests.timetable.night_sweep --step 0.1
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise
from pathlib import Path
from tempfile import TemporaryDirectory

from finplan.catalogue import Finish
from finplan.planning import Wishes
from finplan.timetable import Timetable, TimetableStep, first_stretches
from tests.timetable.shops import plan, read, shelf

SYSTEMS = (
    "hardwax-oil",
    "tung-oil",
    "oil-varnish-blend",
    "oil-varnish",
    "oil-polyurethane",
    "waterborne-polyurethane",
    "shellac",
    "polyurethane-2k",
    "alkyd-enamel",
    "acrylic-enamel",
)
COLDEST_C, WARMEST_C = 5.0, 25.0
MOST = timedelta(hours=6)
"""No step of a tenth of a degree moves the time at which a piece is ready by more, unless working hours do."""
_SMALL = timedelta(hours=1)
"""By how much the drying itself may move where working hours turn it into more."""
SHOP = """\
shop: Nights of all sorts
time-zone: UTC
people:
  - {name: Wynn, hours: {mon-fri: [8:00-12:00, 12:30-17:00]}}
methods: [wipe, brush, pad, spatula, random-orbit-150, hand]
climate:
  day: {from: 8:00, to: 18:00, temperature: 20 degC, humidity: 50 %}
  night: {temperature: NIGHT degC, humidity: 60 %}
"""


@dataclass(frozen=True)
class Night:
    """A plan in a shop with nights of one temperature. It is made as early as can be."""

    night_c: float
    timetable: Timetable
    finishes: Mapping[str, Finish]
    """What dries in a row, by its id."""

    @property
    def ready(self) -> datetime:
        assert self.timetable.ready is not None
        return self.timetable.ready


def nights(system: str, temperatures_c: Sequence[float], folder: Path) -> Iterator[Night]:
    """Give the plan of a shelf with a system for each temperature of the nights."""
    for night_c in temperatures_c:
        pieces = read(folder, [shelf(system)], SHOP.replace("NIGHT", f"{night_c:.1f}"))
        found = plan(pieces, wishes=Wishes(asap=True, answers=False)).timetable
        coats = {f"{one.id}/dry": one.finish for one in pieces[0].operations if one.finish is not None}
        catalogue = pieces[0].source.catalogue
        yield Night(night_c, found, {row: catalogue.finishes[finish] for row, finish in coats.items()})


def faults(system: str, found: Sequence[Night]) -> list[str]:
    """Return what is wrong with plans of one system, from cold to warm nights."""
    told: list[str] = []
    for cold, warm in pairwise(found):
        step = cold.ready - warm.ready
        if step < timedelta(0):
            told.append(f"{system}: ready {-step} later at {warm.night_c:.1f} than at {cold.night_c:.1f} °C")
        if step > MOST and why(cold, warm) is None:
            told.append(f"{system}: ready {step} later at {cold.night_c:.1f} than at {warm.night_c:.1f} °C")
    for night in found:
        told += [f"{system} at {night.night_c:.1f} °C: {row.id} {row.next_until}" for row in too_long(night)]
    return told


def too_long(night: Night) -> Iterator[TimetableStep]:
    """Give the coats that may be recoated for longer than the low end of the label says."""
    for row in night.timetable.steps:
        if row.kind == "drying" and row.next_until is not None:
            limit = night.finishes[row.id].recoat_limit_h
            assert limit is not None
            if row.next_until - row.start > timedelta(hours=limit.low):
                yield row


def why(cold: Night, warm: Night) -> str | None:
    """Return which work makes a small step of the drying a large one; None where none does."""
    dry_cold, dry_warm = _dry(cold.timetable), _dry(warm.timetable)
    begun_warm = first_stretches(warm.timetable.steps)
    for name, row in first_stretches(cold.timetable.steps).items():
        before = max((one for one, end in dry_cold.items() if end <= row.start), key=dry_cold.__getitem__, default=None)
        if name not in begun_warm or before is None or before not in dry_warm:
            continue
        later, dry_later = row.start - begun_warm[name].start, dry_cold[before] - dry_warm[before]
        if later - dry_later > _SMALL and dry_later <= MOST:
            finish = cold.finishes.get(f"{name}/dry")
            told = f"{row.step} goes on {later} later, though it could begin only {dry_later} later"
            if finish is not None and finish.film and cold.night_c < finish.film.above_c <= warm.night_c:
                return f"{told}: its film has to form before the night"
            return f"{told}, at {dry_cold[before]:%a %H:%M}: nobody works then"
    return None


def _dry(timetable: Timetable) -> dict[str, datetime]:
    return {row.id: row.end for row in timetable.steps if row.kind == "drying"}


def main() -> None:
    """Print the whole sweep."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--step", type=float, default=0.5, help="degrees between two nights")
    parser.add_argument("systems", nargs="*", default=SYSTEMS)
    given = parser.parse_args()
    count = round((WARMEST_C - COLDEST_C) / given.step)
    temperatures = [COLDEST_C + given.step * number for number in range(count + 1)]
    with TemporaryDirectory() as folder:
        for system in given.systems:
            found = list(nights(system, temperatures, Path(folder)))
            for line in faults(system, found) or [_summary(system, found)]:
                print(line, flush=True)  # noqa: T201
            for cold, warm in pairwise(found):
                if cold.ready - warm.ready > MOST:
                    told = f"{warm.night_c:.1f} to {cold.night_c:.1f} °C: {cold.ready - warm.ready} later"
                    print(f"    {told}; {why(cold, warm)}", flush=True)  # noqa: T201


def _summary(system: str, found: Sequence[Night]) -> str:
    most = max(cold.ready - warm.ready for cold, warm in pairwise(found))
    return f"{system}: ready {found[-1].ready:%d %b %H:%M} to {found[0].ready:%d %b %H:%M}, largest step {most}"


if __name__ == "__main__":
    main()

"""Plans of all sorts, of which every front end tells: a seeded sample of the grid, and jobs that differ in kind."""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from finplan.planning import Plan, Wishes, read_sources
from tests.plans import make_plan
from tests.safety.grid import Cell, cells, plan_of

NOW = datetime(2027, 3, 1, tzinfo=UTC)
_SIZE = 10
"""Of the sample: each takes about a second of one processor."""
_AIR = """\
climate:
  day: {from: 8:00, to: 18:00, temperature: 20 degC, humidity: 50 %}
  night: {temperature: 16 degC, humidity: 52 %}
"""
SHOP = f"shop: Two benches\ntime-zone: Europe/London\n{_AIR}"
BOOTH = f"""\
{SHOP}rooms:
  bench: {{for: [sanding, assembly], volume: 80 m3}}
  finishing: {{for: [coating, drying], volume: 90 m3, air-changes: 3, fan: 1500 m3/h}}
  booth: {{for: [spraying], volume: 40 m3, air-changes: 1, booth: {{face: 2.4 x 2.1 m, velocity: 0.5 m/s}}}}
people:
  - {{name: Ines, hours: {{mon-fri: [8:00-12:00, 12:30-17:00]}}, skills: [sanding, assembly, coating, spraying]}}
  - {{name: Tam, hours: {{tue-thu: 9:00-15:00}}, skills: [sanding, coating]}}
"""
OWN_SHOP = f"{SHOP}records: records\n"
OWN_SYSTEM = """\
raised-between:
  title: Lacquer, raised between its coats
  basis: label
  sheen: Satin
  use: Seats
  progression: normal
  stop-grit: {open: P180, closed: P180, softwood: P180, oily: P180}
  end-grain-steps: 1
  steps:
    - {do: sand}
    - {do: coat, finish: FINISH, methods: [brush]}
    - {do: raise-grain}
    - {do: coat, finish: FINISH, methods: [brush]}
  ratings: {water: 3, heat: 3, wear: 3, repair: 3}
"""
BENCH = """\
piece: Ferry bench
lengths: mm
timber: beech
system: SYSTEM
parts:
  seat: {shape: board, length: 1100, width: 320, thickness: 30, count: 2}
  rail: {shape: board, length: 900, width: 80, thickness: 22, faces: {back: {exposure: secondary}}}
"""
DOOR = """\
piece: Pantry door
lengths: mm
units: UNITS
timber: ash
system: SYSTEM
deliver: 2027-04-30 15:00
parts:
  door: {shape: board, length: 1980, width: 760, thickness: 36}
"""
TRAY = """\
piece: Gull tray
lengths: mm
timber: white-oak
parts:
  seat:
    shape: board
    length: 500
    width: 320
    thickness: 15
    system: waterborne-polyurethane
    faces: {back: {system: hardwax-oil}}
"""


def _planned(folder: Path, shop: str, *pieces: str) -> Plan:
    (folder / "shop.yaml").write_text(shop, encoding="utf-8")
    files = [folder / f"piece-{number}.yaml" for number in range(len(pieces))]
    for file, text in zip(files, pieces, strict=True):
        file.write_text(text, encoding="utf-8")
    return make_plan(read_sources(files, folder / "shop.yaml"), now=NOW, wishes=Wishes(answers=False))


def own_system(folder: Path, finish: str) -> Plan:
    """A shop's own system: a coat, the grain raised, and a coat on which nothing was abraded before."""
    (folder / "records").mkdir()
    records = OWN_SYSTEM.replace("FINISH", finish)
    (folder / "records" / "systems.yaml").write_text(records, encoding="utf-8")
    return _planned(folder, OWN_SHOP, BENCH.replace("SYSTEM", "raised-between"))


def own_door(folder: Path) -> Plan:
    """A door by such a system over a weekend: each side is abraded again, and can be turned over before that."""
    (folder / "records").mkdir()
    (folder / "records" / "systems.yaml").write_text(OWN_SYSTEM.replace("FINISH", "waterborne-polyurethane"))
    deliver = "deliver: 2027-03-19 15:00"
    text = DOOR.replace("SYSTEM", "raised-between").replace("UNITS", "metric")
    return _planned(folder, OWN_SHOP, text.replace("deliver: 2027-04-30 15:00", deliver))


def door(folder: Path, system: str, units: str) -> Plan:
    """A door: each coat on one side and then on the other."""
    return _planned(folder, BOOTH, DOOR.replace("SYSTEM", system).replace("UNITS", units))


def several(folder: Path) -> Plan:
    """Pieces with parts of the same name, one with two systems on one part."""
    return _planned(folder, SHOP, BENCH.replace("SYSTEM", "oil-varnish"), TRAY)


def _cell(cell: Cell) -> Callable[[Path], Plan]:
    return lambda folder: plan_of(cell, folder)


def jobs(size: int = _SIZE) -> dict[str, Callable[[Path], Plan]]:
    """Jobs by name, each with what plans it in a folder.

    Parameters
    ----------
    size
        How many cells of the grid are among them
    """
    drawn = random.Random(19).sample(list(cells()), size)
    return {
        "own system, waterborne": lambda folder: own_system(folder, "waterborne-polyurethane"),
        "own system, varnish": lambda folder: own_system(folder, "oil-varnish"),
        "blend, windows that close": lambda folder: plan_of(
            Cell("oil-varnish-blend", "stool", "the default shop"), folder
        ),
        "own system, shellac": lambda folder: own_system(folder, "shellac"),
        "own system, door": own_door,
        "door, waterborne": lambda folder: door(folder, "waterborne-polyurethane", "metric"),
        "door, two components, us": lambda folder: door(folder, "polyurethane-2k", "us"),
        "door, rubbed out": lambda folder: door(folder, "shellac", "us"),
        "bench, wax, us": lambda folder: _planned(folder, SHOP + "units: us\n", BENCH.replace("SYSTEM", "wax")),
        "several": several,
        **{str(cell): _cell(cell) for cell in drawn},
    }

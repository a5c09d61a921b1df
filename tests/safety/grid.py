"""Every coating system on four pieces in three shops: plans to look for contradictions in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from finplan.catalogue import bundled_catalogue
from finplan.planning import Plan, Wishes, read_source
from tests.plans import make_plan

NOW = datetime(2027, 3, 1, tzinfo=UTC)
SYSTEMS = tuple(bundled_catalogue().systems)
PIECES = {
    "shelf": """\
piece: Hall shelf
lengths: mm
timber: sugar-maple
system: SYSTEM
parts:
  shelf: {shape: board, length: 900, width: 240, thickness: 20}
""",
    "stool": """\
piece: Milking stool
lengths: mm
timber: ash
system: SYSTEM
assemblies:
  base: {parts: [leg, stretcher]}
parts:
  seat: {shape: disc, diameter: 340, thickness: 30}
  leg: {shape: square-leg, side: 40, length: 420, count: 4}
  stretcher: {shape: board, length: 260, width: 50, thickness: 18, count: 2}
""",
    "old bench": """\
piece: Old bench
lengths: mm
timber: beech
system: SYSTEM
refinish: {built: 1965}
parts:
  plank: {shape: board, length: 1100, width: 300, thickness: 35, surface: stripped}
""",
    "pegs": """\
piece: Peg board
lengths: mm
timber: poplar
system: SYSTEM
parts:
  back: {shape: board, length: 700, width: 120, thickness: 20, faces: {back: {exposure: secondary}}}
  peg: {shape: board, length: 90, width: 25, thickness: 20, count: 5}
""",
}
SHOPS: dict[str, str | None] = {
    "the default shop": None,
    "a small room": """\
shop: Back room
time-zone: Europe/London
rooms:
  back room: {for: [sanding, assembly, coating, spraying, drying], volume: 30 m3, air-changes: 0.5}
people:
  - {name: Maud, hours: {mon-fri: [8:00-12:00, 13:00-17:00]}}
climate:
  day: {from: 8:00, to: 18:00, temperature: 20 degC, humidity: 50 %}
  night: {temperature: 17 degC, humidity: 55 %}
""",
    "a large room with a fan": """\
shop: Two at work
time-zone: Europe/London
people:
  - {name: Ines, hours: {mon-thu: [8:00-12:00, 12:30-17:00], fri: 8:00-13:00}, skills: [sanding, assembly, coating]}
  - {name: Tam, hours: {mon-fri: [9:00-12:30, 13:00-16:00]}, skills: [coating, spraying]}
rooms:
  bench: {for: [sanding, assembly], volume: 80 m3}
  finishing: {for: [coating, drying], volume: 90 m3, air-changes: 3, fan: 1500 m3/h}
  booth: {for: [spraying], volume: 40 m3, air-changes: 1, booth: {face: 2.4 x 2.1 m, velocity: 0.5 m/s}}
climate:
  day: {from: 8:00, to: 18:00, temperature: 21 degC, humidity: 48 %}
  night: {temperature: 18 degC, humidity: 55 %}
""",
}


@dataclass(frozen=True)
class Cell:
    """One of the grid."""

    system: str
    piece: str
    shop: str

    def __str__(self) -> str:
        return f"{self.system}, {self.piece}, {self.shop}"


def cells() -> Iterator[Cell]:
    """Give every cell: 19 systems × 4 pieces × 3 shops."""
    for system in SYSTEMS:
        for piece in PIECES:
            yield from (Cell(system, piece, shop) for shop in SHOPS)


def sample() -> Sequence[Cell]:
    """Return some of them: every system once, every piece and shop several times."""
    pieces, shops = list(PIECES), list(SHOPS)
    return [
        Cell(system, pieces[number % len(pieces)], shops[number % len(shops)]) for number, system in enumerate(SYSTEMS)
    ]


def plan_of(cell: Cell, folder: Path) -> Plan:
    """Return the plan of a cell."""
    file, shop = folder / "piece.yaml", folder / "shop.yaml"
    file.write_text(PIECES[cell.piece].replace("SYSTEM", cell.system), encoding="utf-8")
    text = SHOPS[cell.shop]
    if text is not None:
        shop.write_text(text, encoding="utf-8")
    source = read_source(file, None if text is None else shop)
    return make_plan([source], now=NOW, wishes=Wishes(answers=False))

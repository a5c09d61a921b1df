"""Plans of the example piece for the tests of safety."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from finplan.planning import Plan, Source, Wishes, read_source
from tests.conftest import EXAMPLE
from tests.planned_once import made_at_once
from tests.plans import make_plan

NOW = datetime(2027, 1, 4, 8, tzinfo=UTC)
SHOP = """\
shop: Test shop
time-zone: UTC
rooms:
  bench: {for: [sanding, assembly], volume: 80 m3}
  finishing: {for: [coating, spraying, drying], ROOM}
"""
ROOMY = "volume: 60 m3, air-changes: 2, fan: 300 m3/h, booth: {face: 8 x 7 ft, velocity: 100 ft/min}"


def source_with(
    folder: Path, system: str, *, room: str | None = ROOMY, timber: str = "ash", more: str = "", top: str | None = None
) -> Source:
    """The example with another system, of its *top* alone too, another timber or more, in a shop with such a room."""
    file = folder / "piece.yaml"
    text = EXAMPLE.replace("system: hardwax-oil", f"system: {system}").replace("timber: ash", f"timber: {timber}")
    if top is not None:
        text = text.replace("  top:\n", f"  top:\n    system: {top}\n")
    file.write_text(more + text, encoding="utf-8")
    shop = None
    if room is not None:
        shop = folder / "shop.yaml"
        shop.write_text(SHOP.replace("ROOM", room), encoding="utf-8")
    return read_source(file, shop)


def plan_with(
    folder: Path, system: str, *, room: str | None = ROOMY, timber: str = "ash", more: str = "", top: str | None = None
) -> Plan:
    """A plan of it: of vapour, cloths and dust what is asked does not hang on whether it is the best."""
    source = source_with(folder, system, room=room, timber=timber, more=more, top=top)
    with made_at_once():
        return make_plan([source], now=NOW, wishes=Wishes(answers=False))

"""What is said of a step: surplus is wiped off only where the way of putting it on leaves any."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.planning import read_source
from finplan.telling import common_lines
from tests.plans import plan_of
from tests.timetable.shops import NOW

SHOP = """shop: Dye yard
people: [{{name: Una, hours: {{mon-fri: "8:00-16:00"}}}}]
rooms:
  yard: {{for: [sanding, coating, assembly, drying]}}
  booth: {{for: [spraying], volume: 40 m3, booth: {{face: 2.4 x 2.1 m, velocity: 0.5 m/s}}}}
methods: [{way}, hand]
records: own
"""
PIECE = "piece: Tray\nlengths: mm\ntimber: sugar-maple\nsystem: dyed\nparts:\n"
TRAY = "  tray: {shape: rectangle, length: 400, width: 300, thickness: 12}\n"
SYSTEM = """dyed:
  title: Dye alone
  like: lacquer
  steps:
    - {{do: sand}}
    - {{do: coat, finish: {finish}}}
    - {{do: coat, finish: shellac, methods: [spray-hvlp, pad, wipe]}}
"""


@pytest.mark.parametrize(
    ("finish", "way", "expected"),
    [
        # A common way of working with each: dye in alcohol is misted on and is dry as it lands, in water it is flooded.
        ("alcohol-dye", "spray-hvlp", []),
        ("alcohol-dye", "wipe", ["Wipe off after 2 min (0–5 min)."]),
        ("water-dye", "spray-hvlp", ["Wipe off after 2 min (0–5 min)."]),
    ],
)
def test_nothing_is_wiped_off_that_dries_as_it_is_sprayed(
    finish: str, way: str, expected: list[str], tmp_path: Path
) -> None:
    (tmp_path / "own").mkdir()
    (tmp_path / "own" / "systems.yaml").write_text(SYSTEM.format(finish=finish), encoding="utf-8")
    (tmp_path / "shop.yaml").write_text(SHOP.format(way=way), encoding="utf-8")
    (tmp_path / "tray.yaml").write_text(PIECE + TRAY, encoding="utf-8")
    plan = plan_of([read_source(tmp_path / "tray.yaml", tmp_path / "shop.yaml")], now=NOW)
    (treatment,) = plan.pieces[0].treatments
    (dye,) = (step for step in treatment.steps if step.finish == finish)
    assert dye.method == way
    assert [line for line in common_lines(dye, None, plan) if line.startswith("Wipe off")] == expected

"""What a shop has of the grades that it says it keeps."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from finplan.planning import read_sources
from tests.plans import plan_of

PIECE = """\
piece: Tray
lengths: mm
timber: sugar-maple
system: waterborne-polyurethane
parts:
  tray: {shape: rectangle, length: 500, width: 300, thickness: 18}
"""
METHODS = "shop: Own\nmethods: [brush, hand]\n"


def on_shelf_and_bought(folder: Path, shop: str) -> dict[str, tuple[float, float]]:
    """Return what is counted on of sheets of each grade, and how many are bought."""
    (folder / "piece.yaml").write_text(PIECE, encoding="utf-8")
    (folder / "shop.yaml").write_text(METHODS + shop, encoding="utf-8")
    sources = read_sources([folder / "piece.yaml"], folder / "shop.yaml")
    needs = plan_of(sources, now=datetime(2026, 12, 1, tzinfo=UTC)).materials.consumables
    return {need.grit: (need.shelf.good, need.bought) for need in needs if need.name == "sheet" and need.grit}


@pytest.mark.parametrize(
    ("shop", "expected"),
    [
        ("", (0.0, 10.0)),  # nobody has said what is kept
        ("grits: [P120, P180, P220, P240, P320, P400]\n", (1.0, 0.0)),
        (
            "grits: [P120, P180, P220, P240, P320, P400]\nshelf: [{abrasive: sheet, grit: P320, left: 0}]\n",
            (0.0, 10.0),  # the last sheet is used up, as the shelf says
        ),
    ],
    ids=["nothing said", "kept", "counted"],
)
def test_a_sheet_of_a_grade_that_is_kept_is_not_bought(
    shop: str, expected: tuple[float, float], tmp_path: Path
) -> None:
    assert on_shelf_and_bought(tmp_path, shop)["P320"] == expected


def test_more_than_is_kept_is_bought(tmp_path: Path) -> None:
    # Only what the list says: a grade that is not kept is bought.
    found = on_shelf_and_bought(tmp_path, "grits: [P120, P400]\n")
    assert found["P240"] == (0.0, 10.0)
    assert found["P120"] == (1.0, 0.0)

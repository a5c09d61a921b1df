"""Between coats a shop abrades with what it keeps, and reads its own grade on everything that is printed."""

from __future__ import annotations

from pathlib import Path

from finplan.planning import read_source, together
from tests.sanding.pieces import board

CAMI = "[80, 120, 150, 180, 220, 320, 400, 600]"
KEPT = [
    # Grades of a shop, its ways of sanding, a system, and what it abrades with. Grain in um: P240 58.5, P320 46.2,
    # P400 35, CAMI 280 44, CAMI 320 36 (the scales' tables, as in the catalogue). Ratios by hand.
    ("[P180, P320, P400]", "hand", "oil-varnish", ["P320", "P320"]),
    (CAMI, "hand", "oil-varnish", ["CAMI 320", "CAMI 320"]),  # 46.2/36 = 1.28 times finer, the next one kept
    ("[80, 180, 280]", "hand", "oil-varnish", ["CAMI 280", "CAMI 280"]),  # does for it: 1.05
    ("[P180, P240, P400]", "hand", "oil-varnish", ["P400", "P400"]),  # P240 is nearer and scratches
    ("[P180, P240, P600]", "hand", "oil-varnish", ["P320", "P320"]),  # P600 is 1.79 times finer: bought
    ("[80, 120, 220]", "hand", "oil-varnish", ["CAMI 280", "CAMI 280"]),  # bought, in the scale that is sold there
    ("[P180, P400]", "hand-pad, hand", "oil-varnish", ["P320", "P320"]),  # the pad cuts as P320
    (CAMI, "hand", "waterborne-polyurethane", ["CAMI 220", "CAMI 320", "CAMI 320"]),  # P240 on fibres, P320, P400
]


def test_coats_are_abraded_with_what_the_shop_keeps(tmp_path: Path) -> None:
    for grits, methods, system, wanted in KEPT:
        (tmp_path / "piece.yaml").write_text(board(system=system))
        (tmp_path / "shop.yaml").write_text(f"shop: Test\nmethods: [brush, wipe, {methods}]\ngrits: {grits}\n")
        (piece,) = together([read_source(tmp_path / "piece.yaml", tmp_path / "shop.yaml")])
        steps = [step for step in piece.treatments[0].steps if step.do == "abrade"]
        assert [step.recipe.grit for step in steps] == wanted, grits
        assert [step.label for step in steps] == [f"abrade {grit}" for grit in wanted]
        assert [operation.label for operation in piece.operations if operation.deed == "abrade"] == [
            step.label for step in steps
        ]
        assert {one.grit for step in steps for one in piece.sanding.abrading[step.id]} == set(wanted)

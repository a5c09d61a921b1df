"""What was ticked and is taken back: what stays done, what is ticked otherwise, an amount that looks like a slip."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.test_bench import _attended, _done, bench
from tests.cli.test_held import folder
from tests.conftest import Cli

__all__ = ["bench", "folder"]


def test_what_was_ticked_twice_stays_done_by_the_first_until_that_is_taken_back_too(bench: str, cli: Cli) -> None:
    coated = _attended(bench, cli)["leg", "coat 1"]
    slip = cli("done", bench, coated, "--yes", "--used", "9999 l")
    assert "far more than any coat takes" in slip.out
    assert "far more" not in cli("done", bench, coated, "--used", "35 ml").out
    assert f"{coated} stays done, by what was ticked before this" in cli("done", bench, coated, "--undo").out
    assert "stays done" not in cli("done", bench, coated, "--undo").out


def test_a_coat_that_was_taken_back_is_ticked_otherwise(bench: str, cli: Cli) -> None:
    coated = _attended(bench, cli)["leg", "coat 1"]
    _done(cli, bench, coated, "--yes", "--used", "30 ml", "--took", "20 min")
    cli("replan", bench)
    _done(cli, bench, coated, "--undo")
    again = _done(cli, bench, coated, "--yes", "--used", "35 ml", "--took", "20 min")
    assert (again["learnt"], again["used_ml"]) == (["amount", "minutes"], 35)


def test_what_one_side_took_is_drawn_from_the_shelf_and_a_slip_of_it_is_told(folder: Path, cli: Cli) -> None:
    """A fifth of a square metre takes some 25 ml of varnish; that comes off the shelf, whether it teaches or not."""
    shelf = folder / "shelf.yaml"
    shelf.write_text(
        "piece: Shelf\nlengths: mm\ntimber: beech\nsystem: waterborne-polyurethane\n"
        "parts:\n  shelf: {shape: board, length: 900, width: 240, thickness: 22}\n"
    )
    back = _attended(str(shelf), cli)["shelf", "coat 1, back"]
    ledger = ("--ledger", folder / "finplan.ledger")
    cli("stock", "receive", "waterborne-polyurethane", "1 l", *ledger)
    slip = cli("done", shelf, back, "--yes", "--used", "600 ml")
    assert "far more than any coat takes" in slip.out
    assert "nothing is learnt from its amount" in slip.out
    told = _done(cli, shelf, back, "--used", "30 ml")
    assert told["used_ml"] == 30
    assert 15 < told["reckoned_ml"] < 40
    assert told["learnt"] == []
    (lot,) = json.loads(cli("stock", "--json", *ledger).out)["lots"]
    assert lot["left"] == pytest.approx(970)

"""What was ticked and is taken back: what stays done, what is ticked otherwise, an amount that looks like a slip."""

from __future__ import annotations

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

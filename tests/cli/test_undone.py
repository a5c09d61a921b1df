"""What was ticked twice and is taken back: what stays done, and an amount that looks like a slip."""

from __future__ import annotations

from tests.cli.test_bench import _attended, bench
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

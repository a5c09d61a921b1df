"""What the shop has learnt, shown: beforehand, noted, now, and set aside."""

from __future__ import annotations

import json
import re
from datetime import UTC, datetime
from math import exp, log
from pathlib import Path

import pytest

from finplan.material import deviation
from tests.cli.test_held import STOOL, at, folder
from tests.conftest import Cli
from tests.material.pieces import CATALOGUE
from tests.planned_once import made_at_once

__all__ = ["folder"]
TAKES = deviation(CATALOGUE.labour["handwork"].takes)


@pytest.fixture
def noted(folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A shop that has put a first coat of oil on four stools, used 35 ml of it each time, and timed it."""
    pieces = [folder / f"stool-{number}.yaml" for number in range(4)]
    for piece in pieces:
        piece.write_text(STOOL)
        cli("timetable", piece)
    at(monkeypatch, datetime(2027, 3, 5, 16, 0, tzinfo=UTC))
    for piece in pieces:
        assert cli("done", piece, "1").status == 0
        assert cli("done", piece, "2", "--used", "35 ml", "--took", "30 min").status == 0
    return folder / "finplan.ledger"


def test_prior_data_and_posterior_are_shown(noted: Path, cli: Cli) -> None:
    told = json.loads(cli("learnt", "--ledger", noted, "--json").out)
    (amount,), (work,) = told["amounts"], told["minutes"]
    assert (amount["finish"], amount["method"], amount["person"], amount["bare"]) == (
        "hardwax-oil",
        "wipe",
        "Wenna",
        True,
    )
    assert amount["used"]["count"] == work["takes"]["count"] == 4
    before, now = (amount["used"][known]["high"] / amount["used"][known]["low"] for known in ("prior", "posterior"))
    assert now < before, "so little stays on a stool, and so much in the pot, that it is not known much better"
    assert work["takes"]["prior"]["high"] == pytest.approx(exp(1.6448536 * TAKES))
    assert log(work["takes"]["posterior"]["typical"]) == pytest.approx(0.8 * log(work["takes"]["data"])), "4 of 5 parts"
    said = cli("learnt", "--ledger", noted).out
    assert re.search(r"Hardwax oil on bare wood, by Wenna .* 4 coats +[\d.]+–[\d.]+ +1\.\d+ +1\.\d+ \(", said)
    assert re.search(r"Coating, Wenna +4 times +0\.77–1\.3 ", said)
    assert "Set aside" not in said


def test_what_is_planned_says_on_what_it_rests(noted: Path, cli: Cli) -> None:
    piece = noted.parent / "stool-0.yaml"
    (oil, *_) = json.loads(cli("materials", piece, "--json").out)["materials"]
    assert oil["weighed_coats"] == 4
    assert "the amount is from 4 weighed coats of this shop" in " ".join(cli("materials", piece).out.split())
    assert json.loads(cli("materials", piece, "--catalogue-only", "--json").out)["materials"][0]["weighed_coats"] == 0
    sheet = noted.parent / "sheet.html"
    assert cli("sheet", piece, "-o", sheet, "--anew").status == 0
    printed = " ".join(sheet.read_text(encoding="utf-8").split())
    assert "from 4 weighed coats of this shop" in printed
    assert "Planned by this shop" in printed


def test_systems_are_compared_by_what_the_shop_has_learnt(noted: Path, cli: Cli) -> None:
    piece = noted.parent / "stool-0.yaml"

    def oil(*more: str) -> dict[str, object]:
        with made_at_once():
            found = json.loads(cli("systems", piece, "--from", "2027-02-22", *more, "--json").out)["systems"]
        return next(one for one in found if one["system"] == "hardwax-oil")

    need = json.loads(cli("materials", piece, "--json").out)["materials"][0]["needed"]
    assert oil()["volume_ml"] == pytest.approx({level: need[level] for level in ("low", "typical", "high")})
    assert oil("--catalogue-only") == oil("--no-ledger") != oil()


def test_a_slip_is_told_when_it_is_typed_and_where_all_is_shown(noted: Path, cli: Cli) -> None:
    ended = cli("done", noted.parent / "stool-0.yaml", "5", "--yes", "--used", "300 ml", "--took", "20 min")
    assert "standard deviations off: taken for a slip." in ended.out
    told = json.loads(cli("learnt", "--ledger", noted, "--json").out)
    (slip,) = told["set_aside"]
    assert (slip["kind"], slip["of"]) == ("amount", "hardwax-oil")
    assert slip["times"] > 5
    assert slip["note"] == "Fri 5 Mar, seat coat 2"
    said = " ".join(cli("learnt", "--ledger", noted).out.split())
    assert "Set aside Fri 5 Mar, seat coat 2: what was used of Hardwax oil" in said


def test_all_of_it_survives_export_and_import(noted: Path, cli: Cli) -> None:
    """What is learnt, looked back on, on the shelf and planned by a record that was exported and brought in again."""
    piece, again = noted.parent / "stool-0.yaml", noted.parent / "again.ledger"
    assert cli("stock", "receive", "hardwax-oil", "1 l", "--price", "61.50", "--ledger", noted).status == 0
    assert cli("done", piece, "5", "--yes", "--used", "300 ml", "--took", "20 min", "--air", "17 degC 55 %").status == 0
    assert cli("replan", piece, "--catalogue-only").status == 0
    exported = noted.parent / "out.json"
    assert cli("ledger", "export", noted, "-o", exported).status == 0
    assert cli("ledger", "import", exported, "--ledger", again).status == 0
    assert cli("ledger", "export", again).out == exported.read_text(encoding="utf-8")
    for command in (("learnt",), ("stock",), ("review", piece), ("timetable", piece), ("materials", piece)):
        first, second = (cli(*command, "--ledger", record, "--json") for record in (noted, again))
        assert (first.status, first.out) == (second.status, second.out), command


def test_a_shop_that_noted_nothing_is_told_how_to(folder: Path, cli: Cli) -> None:
    assert "Nothing is learnt yet: tick coats" in cli("learnt", "--ledger", folder / "finplan.ledger").out
    assert not (folder / "finplan.ledger").exists()


def test_a_coat_that_is_ticked_again_teaches_once(noted: Path, cli: Cli) -> None:
    """Whoever ticks a coat again puts right what was told of it, as when the job is looked back on."""
    piece = noted.parent / "stool-0.yaml"
    before = json.loads(cli("learnt", "--ledger", noted, "--json").out)
    assert cli("done", piece, "2", "--used", "70 ml", "--took", "60 min").status == 0
    again = json.loads(cli("learnt", "--ledger", noted, "--json").out)
    assert again != before
    assert cli("done", piece, "1-2", "--used", "35 ml").status == 0
    assert cli("done", piece, "2", "--took", "30 min").status == 0
    assert json.loads(cli("learnt", "--ledger", noted, "--json").out) == before
    for step in ("2", "2", "2"):
        assert cli("done", piece, step, "--undo").status == 0
    assert json.loads(cli("learnt", "--ledger", noted, "--json").out) == before, "what was told first stands again"

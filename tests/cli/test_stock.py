"""The shelf by the record: received, opened, drawn down by ticked coats, counted, discarded."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from tests.cli.test_held import SHOP, at, folder
from tests.conftest import Cli

__all__ = ["folder"]


def _lots(folder: Path, cli: Cli) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads(cli("stock", "--ledger", folder / "finplan.ledger", "--json").out)["lots"]
    return found


def _stock(folder: Path, cli: Cli, command: str, *typed: object) -> None:
    ended = cli("stock", command, *typed, "--ledger", folder / "finplan.ledger")
    assert ended.status == 0, ended.err


def test_a_can_is_received_opened_counted_and_discarded(folder: Path, cli: Cli) -> None:
    _stock(folder, cli, "receive", "hardwax-oil", "1 l", "--batch", "B 7", "--price", "61.50")
    (lot,) = _lots(folder, cli)
    assert (lot["left"], lot["opened"], lot["batch"], lot["price"]) == (1000.0, None, "B 7", 61.5)
    _stock(folder, cli, "open", lot["lot"])
    _stock(folder, cli, "count", lot["lot"], "460 g")
    (lot,) = _lots(folder, cli)
    assert lot["left"] == pytest.approx(500.0), "920 g/l by the catalogue"
    assert lot["opened"] == "2027-02-15"
    _stock(folder, cli, "discard", lot["lot"])
    assert _lots(folder, cli) == []


def test_what_is_past_its_keeping_time_is_shown_and_not_counted(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    piece = str(folder / "stool.yaml")
    _stock(folder, cli, "receive", "hardwax-oil", "1 l")
    _stock(folder, cli, "open", 1)
    assert json.loads(cli("materials", piece, "--json").out)["materials"][0]["buy"] == []
    at(monkeypatch, datetime(2028, 9, 1, 8, 0, tzinfo=UTC))
    assert "past, not counted" in cli("stock", "--ledger", folder / "finplan.ledger").out
    assert _lots(folder, cli)[0]["counted_on"] is False


def test_a_ticked_coat_draws_the_open_can_down_and_back_up_when_it_is_undone(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    piece = str(folder / "stool.yaml")
    cli("timetable", piece)
    _stock(folder, cli, "receive", "hardwax-oil", "500 ml")
    _stock(folder, cli, "receive", "hardwax-oil", "250 ml", "--left", "20 ml")
    _stock(folder, cli, "open", 2)
    at(monkeypatch, datetime(2027, 3, 5, 16, 0, tzinfo=UTC))
    assert cli("done", piece, "1-2", "--used", "35 ml").status == 0
    assert [one["left"] for one in _lots(folder, cli)] == [485.0], "the open one first, and then another"
    assert cli("done", piece, "2", "--undo").status == 0
    assert sorted(one["left"] for one in _lots(folder, cli)) == [20.0, 500.0]


def test_what_is_ticked_again_draws_once_and_what_it_put_right_comes_back_with_it(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    piece = str(folder / "stool.yaml")
    cli("timetable", piece)
    _stock(folder, cli, "receive", "hardwax-oil", "500 ml")
    at(monkeypatch, datetime(2027, 3, 5, 16, 0, tzinfo=UTC))
    left = []
    for told in (("1-2", "--used", "90 ml"), ("2", "--used", "60 ml"), ("2", "--undo"), ("2", "--used", "35 ml")):
        assert cli("done", piece, *told).status == 0
        left += [one["left"] for one in _lots(folder, cli)]
    assert left == [410.0, 440.0, 410.0, 465.0]


def test_the_shop_files_shelf_is_taken_over_once(folder: Path, cli: Cli) -> None:
    oil, paper = "{finish: hardwax-oil, left: 400 ml, opened: 2027-01-10}", "{abrasive: sheet, grit: P120, left: 7}"
    shelf = f"shelf:\n  - {oil}\n  - {paper}\n"
    (folder / "shop.yaml").write_text(SHOP + shelf)
    piece = str(folder / "stool.yaml")
    before = json.loads(cli("materials", piece, "--json").out)
    assert before["safety"] is None, "no plan is held"
    _stock(folder, cli, "take-over")
    assert json.loads(cli("materials", piece, "--json").out) == before
    assert [(one["material"], one["left"], one["opened"]) for one in _lots(folder, cli)] == [
        ("hardwax-oil", 400.0, "2027-01-10"),
        ("sheet", 7.0, None),
    ]
    assert cli("stock", "take-over", "--ledger", folder / "finplan.ledger").status == 2
    _stock(folder, cli, "discard", 1)
    _stock(folder, cli, "discard", 2)
    assert cli("stock", "take-over", "--ledger", folder / "finplan.ledger").status == 2, "not even when all is gone"


def test_the_shop_files_shelf_can_be_taken_over_beside_a_can_that_came_first(folder: Path, cli: Cli) -> None:
    (folder / "shop.yaml").write_text(SHOP + "shelf:\n  - {finish: shellac, left: 400 ml}\n")
    record = folder / "finplan.ledger"
    ended = cli("stock", "receive", "hardwax-oil", "1 l", "--ledger", record)
    assert "Not counted beside the record: 1 thing under 'shelf:' in the shop file" in ended.out
    assert "'finplan stock take-over' takes that in" in cli("stock", "--ledger", record).out
    _stock(folder, cli, "take-over")
    assert [one["material"] for one in _lots(folder, cli)] == ["hardwax-oil", "shellac"]
    assert "Not counted" not in cli("stock", "--ledger", record).out


def test_a_coat_ticked_late_draws_on_a_can_that_was_put_on_the_shelf_after_it(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    piece = str(folder / "stool.yaml")
    cli("timetable", piece)
    at(monkeypatch, datetime(2027, 3, 5, 16, 0, tzinfo=UTC))
    _stock(folder, cli, "receive", "hardwax-oil", "1 l")
    assert cli("done", piece, "1-2", "--used", "35 ml", "--at", "2027-03-04 10:00").status == 0
    (lot,) = _lots(folder, cli)
    assert (lot["left"], lot["opened"]) == (965.0, "2027-03-04")


@pytest.mark.parametrize(
    "wrong",
    [
        ["receive", "hardwax-oyl", "1 l"],
        ["receive", "hardwax-oil", "one"],
        ["receive", "hardwax-oil", "7"],
        ["receive", "hardwax-oil", "1 l", "--grit", "P120"],
        ["receive", "hardwax-oil", "1 l", "--price", "inf"],  # kept, nothing of the record could be read any more
        ["receive", "hardwax-oil", "1 l", "--batch", "B\x1b[31m7"],
        ["open", "5"],
        ["count", "5", "1 l"],
        ["discard", "5"],
    ],
)
def test_what_cannot_be_is_refused(folder: Path, cli: Cli, wrong: list[str]) -> None:
    ended = cli("stock", *wrong, "--ledger", folder / "finplan.ledger")
    assert ended.status == 2
    assert "Traceback" not in ended.err


def test_a_note_is_a_sentence(folder: Path, cli: Cli) -> None:
    _stock(folder, cli, "receive", "hardwax-oil", "1 l")
    ended = cli("stock", "discard", 1, "--note", "x" * 301, "--ledger", folder / "finplan.ledger")
    assert (ended.status, len(_lots(folder, cli))) == (2, 1)
    assert "expected at most 300" in ended.err


def test_looking_at_the_shelf_begins_no_record(folder: Path, cli: Cli) -> None:
    ended = cli("stock", "--ledger", folder / "finplan.ledger")
    assert ended.out == "Nothing stands on the shelf by the record.\n"
    assert not (folder / "finplan.ledger").exists()


@pytest.mark.parametrize("wrong", [["open", "1"], ["count", "1", "1 l"], ["discard", "1"]])
def test_a_lot_that_is_not_there_begins_no_record(folder: Path, cli: Cli, wrong: list[str]) -> None:
    ended = cli("stock", *wrong, "--ledger", folder / "finplan.ledger")
    assert ended.status == 2
    assert "there is no lot 1; 'finplan stock' shows those there are" in ended.err
    assert not (folder / "finplan.ledger").exists()


def test_no_more_can_be_left_than_a_can_holds(folder: Path, cli: Cli) -> None:
    record = ("--ledger", folder / "finplan.ledger")
    ended = cli("stock", "receive", "hardwax-oil", "1 l", "--left", "2 l", *record)
    assert (ended.status, ended.out) == (2, "")
    assert "2 L cannot be left of what holds 1 L when full" in ended.err
    assert not (folder / "finplan.ledger").exists()
    _stock(folder, cli, "receive", "hardwax-oil", "150 ml")
    _stock(folder, cli, "receive", "hardwax-oil", "1 l", "--left", "460 g")
    assert cli("stock", "count", 1, "2 l", *record).status == 2
    assert cli("stock", "count", 1, "200 g", *record).status == 2
    assert [one["left"] for one in _lots(folder, cli)] == [150.0, pytest.approx(500.0)], "920 g/l by the catalogue"


@pytest.mark.parametrize("nothing", ["0 ml", "0", "0 g"])
def test_an_empty_can_is_counted(folder: Path, cli: Cli, nothing: str) -> None:
    _stock(folder, cli, "receive", "hardwax-oil", "1 l")
    _stock(folder, cli, "count", 1, nothing)
    assert _lots(folder, cli) == []
    assert cli("stock", "count", 1, "-1 ml", "--ledger", folder / "finplan.ledger").status == 2
    _stock(folder, cli, "count", 1, "200 ml")
    assert _lots(folder, cli)[0]["left"] == 200.0, "counted wrong before"


@pytest.mark.parametrize(
    ("material", "pack", "until"),
    [
        ("shellac", "250 g", "2028-02-10"),
        ("soap-flakes", "500 g", "2029-02-04"),
        ("casein-paint", "1 kg", "2028-02-10"),
    ],
)
def test_what_is_dissolved_keeps_as_its_dry_solid(folder: Path, cli: Cli, material: str, pack: str, until: str) -> None:
    # By hand from the catalogue: 12, 24 and 12 months of 30 days at the least after Mon 15 Feb 2027; and another year
    # than this one is told.
    _stock(folder, cli, "receive", material, pack)
    _stock(folder, cli, "open", 1)
    assert _lots(folder, cli)[0]["good_until"] == until
    assert f" {until[:4]}" in cli("stock", "--ledger", folder / "finplan.ledger").out


def test_what_a_shop_files_can_held_when_full_is_not_known(folder: Path, cli: Cli) -> None:
    (folder / "shop.yaml").write_text(SHOP + "shelf:\n  - {finish: hardwax-oil, left: 400 ml}\n")
    _stock(folder, cli, "take-over")
    _stock(folder, cli, "count", 1, "450 ml")
    assert [one["left"] for one in _lots(folder, cli)] == [450.0]


def test_a_can_is_opened_once_and_discarded_once(folder: Path, cli: Cli) -> None:
    record = ("--ledger", folder / "finplan.ledger")
    _stock(folder, cli, "receive", "hardwax-oil", "1 l")
    _stock(folder, cli, "open", 1)
    assert "lot 1 is open already" in cli("stock", "open", 1, *record).err
    _stock(folder, cli, "discard", 1)
    assert "lot 1 was discarded before" in cli("stock", "discard", 1, *record).err
    assert "nothing is left of lot 1" in cli("stock", "open", 1, *record).err
    _stock(folder, cli, "count", 1, "300 ml")
    _stock(folder, cli, "discard", 1)


def test_a_grade_that_there_is_not_is_refused(folder: Path, cli: Cli) -> None:
    ended = cli("stock", "receive", "sheet", "25", "--grit", "P9999", "--ledger", folder / "finplan.ledger")
    assert ended.status == 2
    assert "'P9999' is not a grade" in ended.err


def test_the_record_named_before_the_command_is_not_passed_over(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(folder)
    ended = cli("stock", "--ledger", folder / "other.ledger", "receive", "hardwax-oil", "1 l")
    assert ended.status == 2
    assert "behind the command" in ended.err
    assert not list(folder.glob("*.ledger"))

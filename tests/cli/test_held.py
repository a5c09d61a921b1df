"""A plan is made once and held: every command shows the same, whatever the clock says."""

from __future__ import annotations

import json
import os
import re
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from finplan.ledger import read_ledger
from finplan.problems import NotPossibleError
from tests.conftest import Cli

STOOL = """\
piece: Milking stool
lengths: mm
timber: beech
system: hardwax-oil
deliver: 2027-03-12 15:00
parts:
  seat: {shape: disc, diameter: 300, thickness: 30}
"""
SHOP = """\
shop: Otter lane
people: [{name: Wenna, hours: {mon-fri: [8:00-12:00, 12:30-17:00]}}]
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A workshop's folder on a Monday in February."""
    (tmp_path / "stool.yaml").write_text(STOOL)
    (tmp_path / "shop.yaml").write_text(SHOP)
    at(monkeypatch, datetime(2027, 2, 15, 7, 30, tzinfo=UTC))
    return tmp_path


def at(monkeypatch: pytest.MonkeyPatch, moment: datetime) -> None:
    """Let it be another moment."""
    for module in ("wishes", "held", "files", "app", "bench", "stock"):
        monkeypatch.setattr(f"finplan.cli.{module}.now", lambda: moment, raising=False)


def _starts(data: dict[str, Any]) -> list[tuple[int, str]]:
    return [(step["number"], step["start"]) for step in data["steps"]]


def test_every_command_shows_the_plan_made_first(folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    piece = str(folder / "stool.yaml")
    first = json.loads(cli("timetable", piece, "--json").out)
    for days in range(3):
        at(monkeypatch, datetime(2027, 2, 15, 9, 0, tzinfo=UTC) + days * timedelta(days=1, minutes=17))
        assert json.loads(cli("timetable", piece, "--json").out) == first
    plan = json.loads(cli("plan", piece).out)
    assert _starts(plan["timetable"]) == _starts(first)
    assert cli("calendar", piece, "-o", str(folder / "stool.ics")).status == 0
    calendar = (folder / "stool.ics").read_bytes().decode().replace("\r\n ", "")
    events = re.findall(r"SUMMARY:(\d+)\. .*?DTSTART[^:]*:(\d{8}T\d{4})", calendar, re.DOTALL)
    said = {(int(number), start) for number, start in events}
    assert said == {(number, re.sub(r"[-:]", "", start)[:13]) for number, start in _starts(first)}
    assert cli("tags", piece, "-o", str(folder / "stool.html")).status == 0
    tagged = {int(one) for one in re.findall(r">(\d+)\. Coat", (folder / "stool.html").read_text())}
    assert tagged == {
        step["number"] for step in first["steps"] if step["deed"] == "coat" and step["kind"] == "attended"
    }


def test_a_piece_that_was_planned_with_others_is_not_held_alone_beside_them(folder: Path, cli: Cli) -> None:
    """Two plans of one piece would call their steps by the same numbers: what is ticked is of the plan on the wall."""
    stool, perch = folder / "stool.yaml", folder / "perch.yaml"
    perch.write_text(STOOL.replace("Milking stool", "Perch").replace("seat", "saddle"))
    together = json.loads(cli("timetable", perch, stool, "--json").out)
    alone = cli("timetable", stool, "--json")
    assert "stool.yaml was planned together with perch.yaml" not in alone.out
    said = "was planned together with perch.yaml, and plan 1 of all of them is held: this is a look at it alone"
    assert said in alone.err
    step = next(row for row in together["steps"] if row["item"] == "saddle" and row["deed"] == "sand")
    told = cli("done", stool, step["number"], "--at", "2027-02-15 07:10", "--yes")
    assert told.out.replace("\xa0", " ").startswith(f"Ticked {step['number']} (A saddle: sand bare wood): done ")
    with read_ledger(folder / "finplan.ledger") as ledger:
        assert ledger is not None
        assert len(ledger.rows("SELECT id FROM job")) == 1
    assert cli("timetable", stool, "--anew").err == "", "apart from the other, as it is asked for"
    assert cli("timetable", stool).err == "", "and so it was planned last"
    assert cli("done", stool, "1", "--at", "2027-02-15 07:20", "--yes").out.startswith(
        "Ticked 1 (seat: sand bare wood)"
    )


def test_what_was_ticked_of_a_piece_alone_is_done_in_the_plan_of_several(folder: Path, cli: Cli) -> None:
    stool, perch = folder / "stool.yaml", folder / "perch.yaml"
    perch.write_text(STOOL.replace("Milking stool", "Perch").replace("seat", "saddle"))
    cli("timetable", stool)
    cli("done", stool, "1", "--at", "2027-02-15 07:10", "--yes")
    for typed in ((), ("--from", "2027-02-16"), ("--anew",)):
        together = json.loads(cli("timetable", perch, stool, *typed, "--json").out)["steps"]
        sanded = [row["item"] for row in together if row["deed"] == "sand"]
        assert sanded == ["saddle"], "the seat is sanded"
        assert {row["item"] for row in together if row["deed"] == "coat"} == {"saddle", "seat"}


def test_numbers_go_from_one_on_in_the_order_of_the_plan(folder: Path, cli: Cli) -> None:
    steps = json.loads(cli("timetable", str(folder / "stool.yaml"), "--json").out)["steps"]
    attended = [step for step in steps if step["kind"] == "attended"]
    numbers = list(dict.fromkeys(step["number"] for step in attended))
    assert numbers == list(range(1, len(numbers) + 1))
    coats = {step["id"]: step["number"] for step in attended}
    assert all(coats[step["id"].removesuffix("/dry")] == step["number"] for step in steps if step["kind"] == "drying")


def _plans(folder: Path) -> list[int]:
    with read_ledger(folder / "finplan.ledger") as ledger:
        assert ledger is not None
        return [row["number"] for row in ledger.rows("SELECT number FROM plan ORDER BY id")]


def test_other_files_and_other_wishes_make_the_next_plan(folder: Path, cli: Cli) -> None:
    piece = folder / "stool.yaml"
    cli("timetable", str(piece))
    cli("timetable", str(piece), "--asap")
    assert _plans(folder) == [1, 2]
    asap = cli("timetable", str(piece)).out
    assert asap == cli("timetable", str(piece), "--asap").out, "asked for nothing, it is as it was asked last"
    piece.write_text(STOOL.replace("300", "320"))
    cli("timetable", str(piece))
    assert _plans(folder) == [1, 2, 3]
    cli("timetable", str(piece), "--anew")
    assert _plans(folder) == [1, 2, 3, 4]
    cli("calendar", str(piece), "-o", str(folder / "stool.ics"))
    assert b"SEQUENCE:4" in (folder / "stool.ics").read_bytes()


def test_what_only_looks_begins_no_record(folder: Path, cli: Cli) -> None:
    piece = str(folder / "stool.yaml")
    for command in ("check", "areas", "materials", "sanding"):
        assert cli(command, piece).status == 0
    assert cli("draw", piece, "-o", str(folder / "drawings")).status == 0
    assert cli("timetable", piece, "--no-ledger").status == 0
    assert cli("timetable", piece, "--lose", "2027-03-08").status == 0
    assert not (folder / "finplan.ledger").exists()


def test_the_shop_beside_the_piece_is_taken_and_another_beats_it(folder: Path, cli: Cli) -> None:
    piece = str(folder / "stool.yaml")
    assert "Shop: Otter lane" in cli("timetable", piece, "--no-ledger").out
    other = folder / "other.yaml"
    other.write_text(SHOP.replace("Otter lane", "Heron row"))
    assert "Shop: Heron row" in cli("timetable", piece, "--shop", str(other), "--no-ledger").out


def test_without_a_workshop_nothing_is_held_unless_a_record_is_named(tmp_path: Path, cli: Cli) -> None:
    piece = tmp_path / "stool.yaml"
    piece.write_text(STOOL)
    asked = ("timetable", str(piece), "--from", "2027-02-15")
    assert cli(*asked).status == 0
    assert [one.name for one in tmp_path.iterdir()] == ["stool.yaml"]
    cli(*asked, "--ledger", str(tmp_path / "job.ledger"))
    assert sorted(one.name for one in tmp_path.iterdir()) == ["job.ledger", "stool.yaml"]


def test_a_record_that_cannot_be_used_is_said_and_left(folder: Path, cli: Cli) -> None:
    (folder / "finplan.ledger").write_text("no ledger")
    ended = cli("timetable", str(folder / "stool.yaml"))
    assert ended.status == 2
    assert "is no ledger of finplan" in ended.err
    assert (folder / "finplan.ledger").read_text() == "no ledger"


def test_a_held_plan_that_breaks_a_rule_is_not_shown(folder: Path, cli: Cli) -> None:
    """Somebody moved a coat by another program: to where the one below is wet."""
    import sqlite3

    piece = str(folder / "stool.yaml")
    before = cli("timetable", piece, "--json").out
    connection = sqlite3.connect(folder / "finplan.ledger")
    connection.execute("DROP TRIGGER planned_is_not_changed")
    connection.execute(
        "UPDATE planned SET begins = (SELECT min(begins) FROM planned), ends = (SELECT min(ends) FROM planned) "
        "WHERE step LIKE '%coat%2' OR position = (SELECT max(position) FROM planned WHERE person IS NOT NULL)"
    )
    connection.commit()
    connection.close()
    ended = cli("timetable", piece, "--json")
    assert "breaks what the shop asks" in ended.err
    assert _starts(json.loads(ended.out)) == _starts(json.loads(before))
    assert _plans(folder) == [1, 2]


def test_where_a_record_may_only_be_read_a_held_plan_is_shown(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What may be written is asked of the system, which lets root write everything: here it says no."""
    piece, record = folder / "stool.yaml", folder / "finplan.ledger"
    first = cli("timetable", piece, "--json").out
    before = record.read_bytes()
    monkeypatch.setattr("finplan.ledger.file.os.access", lambda path, mode: mode != os.W_OK)
    assert cli("timetable", piece, "--json").out == first
    for command in ("review", "safety", "materials"):
        ended = cli(command, piece)
        assert ended.status == 0, ended.err
    refused = cli("timetable", piece, "--anew")
    assert (refused.status, refused.out) == (2, "")
    assert "may only be read; nothing was written down; with --no-ledger it is planned, and held nowhere" in refused.err
    assert record.read_bytes() == before
    assert cli("timetable", piece, "--no-ledger").status == 0


def test_where_no_record_can_be_begun_the_way_without_is_named(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(data: bytes, target: Path) -> bool:
        msg = f"{target}: cannot be written: permission denied"
        raise NotPossibleError(msg)

    monkeypatch.setattr("finplan.ledger.file.write_new", refuse)
    ended = cli("timetable", folder / "stool.yaml")
    assert (ended.status, ended.out) == (2, "")
    assert "permission denied; with --no-ledger it is planned, and held nowhere" in ended.err

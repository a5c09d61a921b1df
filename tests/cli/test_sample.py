"""Every command that takes a piece takes one with a sample board, which is planned beside it as a piece of its own."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.conftest import Cli

PIECE = """\
piece: Tray for the toll house
lengths: mm
timber: beech
system: hardwax-oil
deliver: 2027-03-19
sample: approve by 2027-02-24
parts:
  base: {shape: board, length: 420, width: 280, thickness: 12}
"""
SHOP = """\
shop: Toll house
time-zone: UTC
people: [{name: Ida, hours: {mon-fri: [8:00-12:00, 13:00-17:00]}}]
rooms: {shop: {for: [sanding, assembly, coating, drying], volume: 80 m3, air-changes: 2}}
climate:
  day: {temperature: 20 degC, humidity: 50 %}
  night: {temperature: 18 degC, humidity: 55 %}
"""
FROM = ("--from", "2027-02-01")
COMMANDS: dict[str, tuple[str, ...]] = {
    "check": (),
    "areas": (),
    "materials": (),
    "sanding": (),
    "timetable": FROM,
    "safety": FROM,
    "plan": FROM,
    "quote": FROM,
    "buy": FROM,
    "sheet": (*FROM, "-o", "sheet.html"),
    "tags": (*FROM, "-o", "tags.html"),
    "calendar": (*FROM, "-o", "days.ics"),
    "draw": ("-o", "drawings"),
    "systems": FROM,
    "replan": (),
    "review": (),
}
JSON = ("check", "areas", "materials", "sanding", "timetable", "safety", "quote", "review")


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "shop.yaml").write_text(SHOP, encoding="utf-8")
    (tmp_path / "tray.yaml").write_text(PIECE, encoding="utf-8")
    return Path("tray.yaml")


def test_every_command_takes_it(file: Path, cli: Cli) -> None:
    said: dict[str, str] = {}
    for command, more in COMMANDS.items():
        ended = cli(command, file, *more)
        if ended.status:
            said[command] = ended.err
        if command in JSON:
            found = cli(command, file, *more, "--json")
            if found.status or not isinstance(json.loads(found.out), dict):
                said[f"{command} --json"] = found.err
    assert said == {}
    assert {path.name for path in Path("drawings").iterdir()} == {"tray-base.svg"}
    ticked = cli("done", file, "1", "--at", "2026-11-20 08:00", "--yes")
    assert ticked.status == 0, ticked.err


def test_its_board_is_in_the_safety_of_its_plan(file: Path, cli: Cli) -> None:
    """What is put on the board is in the air of its day."""
    rows = json.loads(cli("timetable", file, *FROM, "--json").out)["steps"]
    board = {
        row["id"]
        for row in rows
        if row["id"].startswith("sample/") and row["deed"] == "coat" and row["kind"] == "attended"
    }
    told = json.loads(cli("safety", file, *FROM, "--json").out)
    assert board
    assert board <= {step for one in told["sessions"] for step in one["steps"]}


def test_an_item_has_one_name_in_the_timetable(file: Path, cli: Cli) -> None:
    said = cli("timetable", file, *FROM).out
    (cured,) = (line for line in said.splitlines() if "cured fully" in line and "sample" in line)
    named, _, _ = cured.partition(": cured fully")
    assert f"  {named}  " in said  # as in the rows of its steps

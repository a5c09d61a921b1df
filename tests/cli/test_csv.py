"""What spreadsheets get from the command line."""

from __future__ import annotations

import csv
import io
import json
import os
import subprocess
import sys
from datetime import datetime
from pathlib import Path

import pytest

from tests.conftest import Cli

FROM = ("--from", "2026-11-30")
PIECE = """\
piece: "{piece}"
lengths: mm
timber: ash
system: wax
parts:
  {part}: {{shape: rod, diameter: 30, length: 400}}
"""


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def named(folder: Path, piece: str, part: str) -> Path:
    file = folder / "piece.yaml"
    file.write_text(PIECE.format(piece=piece, part=part), encoding="utf-8")
    return file


def test_areas_add_up_as_in_json(demo: Path, cli: Cli) -> None:
    piece = demo / "round-table.yaml"
    found, data = rows(cli("areas", piece, "--csv").out), json.loads(cli("areas", piece, "--json").out)
    assert sum(float(row["all_m2"]) for row in found) == pytest.approx(data["area_m2"], rel=1e-5)
    finished = sum(float(row["all_m2"]) for row in found if row["finished"] == "yes")
    assert finished == pytest.approx(data["finished_m2"], rel=1e-5)
    assert len(found) == sum(len(part["faces"]) for part in data["parts"])
    assert {row["exposure"] for row in found if row["finished"] == "no"} == {"covered"}


def test_steps_are_those_of_json(demo: Path, cli: Cli) -> None:
    asked = ("timetable", demo / "round-table.yaml", *FROM)
    found, data = rows(cli(*asked, "--csv").out), json.loads(cli(*asked, "--json").out)
    assert len(found) == len(data["steps"])
    for row, step in zip(found, data["steps"], strict=True):
        for key in ("id", "piece", "item", "step", "kind", "deed", "start", "end", "room"):
            assert row[key] == step[key]
        for key in ("person", "next_from", "next_until"):
            assert row[key] == (step[key] or "")
        assert row["critical"] == ("yes" if step["critical"] else "no")
        lasts = datetime.fromisoformat(step["end"]) - datetime.fromisoformat(step["start"])
        assert float(row["minutes"]) * 60 == lasts.total_seconds()


def test_no_timetable_no_rows(demo: Path, cli: Cli) -> None:
    ended = cli("timetable", demo / "hall-bench.yaml", *FROM, "--deliver", "2026-12-01", "--csv")
    assert ended.status == 3
    assert ended.out.startswith("piece,item,step,")
    assert rows(ended.out) == []
    assert "deliver by 2026-12-01" in ended.err


@pytest.mark.parametrize("command", ["areas", "materials", "timetable"])
def test_one_form_at_a_time(command: str, demo: Path, cli: Cli) -> None:
    ended = cli(command, demo / "hall-bench.yaml", "--csv", "--json")
    assert ended.status == 2
    assert "either --json or --csv" in ended.err


@pytest.mark.parametrize("command", ["areas", "timetable"])
def test_a_name_is_no_formula(command: str, tmp_path: Path, cli: Cli) -> None:
    """OWASP, CSV Injection: text that begins with one of = + - @ would be run by a spreadsheet."""
    file = named(tmp_path, "=HYPERLINK(1)", "'@SUM(A1), \"top\"'")
    found = rows(cli(command, file, *(FROM if command == "timetable" else ()), "--csv").out)
    assert found
    for row in found:
        assert row["piece"] == "'=HYPERLINK(1)"
        assert row.get("part", row.get("item")) in ('\'@SUM(A1), "top"', "whole piece")
        assert not any(cell.startswith(("=", "+", "-", "@")) for cell in row.values())


def test_neither_is_that_of_a_record(tmp_path: Path, cli: Cli) -> None:
    """OWASP, CSV Injection: of materials it is the shop's own words that reach the spreadsheet."""
    (tmp_path / "own").mkdir()
    (tmp_path / "own" / "finishes.yaml").write_text(
        'my-wax: {like: paste-wax, title: "=cmd|calc", basis: label}\n', encoding="utf-8"
    )
    (tmp_path / "own" / "systems.yaml").write_text(
        "mine: {like: wax, title: My own, basis: label, steps: [{do: sand}, {do: coat, finish: my-wax}]}\n",
        encoding="utf-8",
    )
    shop = tmp_path / "shop.yaml"
    shop.write_text("shop: Copper Beech joinery\nrecords: own\n", encoding="utf-8")
    file = named(tmp_path, "Peg", "peg")
    file.write_text(file.read_text(encoding="utf-8").replace("system: wax", "system: mine"), encoding="utf-8")
    ended = cli("materials", file, "--shop", shop, "--csv")
    assert ended.status == 0, ended.err
    titles = [row["title"] for row in rows(ended.out)]
    assert "'=cmd|calc" in titles
    assert not any(title.startswith("=") for title in titles)


def test_it_is_utf_8_where_the_terminal_is_not(tmp_path: Path) -> None:
    """A part named 東京 is that in the spreadsheet too, and no escape of it."""
    file = named(tmp_path, "Łódź", "東京")
    command = [sys.executable, "-m", "finplan", "areas", str(file), "--csv"]
    done = subprocess.run(command, capture_output=True, check=True, env={**os.environ, "PYTHONIOENCODING": "cp1252"})
    assert {(row["piece"], row["part"]) for row in rows(done.stdout.decode("utf-8"))} == {("Łódź", "東京")}

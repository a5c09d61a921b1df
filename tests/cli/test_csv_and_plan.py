"""What other programs and spreadsheets get from the command line."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest

from tests.conftest import Cli

FROM = ("--from", "2026-11-30")


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_areas_add_up_as_in_json(demo: Path, cli: Cli) -> None:
    piece = demo / "round-table.yaml"
    found, data = rows(cli("areas", piece, "--csv").out), json.loads(cli("areas", piece, "--json").out)
    assert sum(float(row["all_m2"]) for row in found) == pytest.approx(data["area_m2"], rel=1e-5)
    finished = sum(float(row["all_m2"]) for row in found if row["exposure"] != "covered")
    assert finished == pytest.approx(data["finished_m2"], rel=1e-5)
    assert len(found) == sum(len(part["faces"]) for part in data["parts"])


def test_steps_are_those_of_json(demo: Path, cli: Cli) -> None:
    asked = ("timetable", demo / "round-table.yaml", demo / "hall-bench.yaml", "--shop", demo / "workshop.yaml", *FROM)
    found, data = rows(cli(*asked, "--csv").out), json.loads(cli(*asked, "--json").out)
    assert [(row["id"], row["start"], row["end"]) for row in found] == [
        (step["id"], step["start"], step["end"]) for step in data["steps"]
    ]
    assert {row["person"] for row in found if row["kind"] == "drying"} == {""}


def test_no_timetable_no_rows(demo: Path, cli: Cli) -> None:
    ended = cli("timetable", demo / "hall-bench.yaml", *FROM, "--deliver", "2026-12-01", "--csv")
    assert ended.status == 3
    assert rows(ended.out) == []
    assert "deliver by 2026-12-01" in ended.err


@pytest.mark.parametrize("command", ["areas", "materials", "timetable"])
def test_one_form_at_a_time(command: str, demo: Path, cli: Cli) -> None:
    ended = cli(command, demo / "hall-bench.yaml", "--csv", "--json")
    assert ended.status == 2
    assert "either --json or --csv" in ended.err


def test_a_name_is_no_formula(tmp_path: Path, cli: Cli) -> None:
    """OWASP, CSV Injection: text that begins with one of = + - @ would be run by a spreadsheet."""
    file = tmp_path / "piece.yaml"
    file.write_text(
        'piece: "=HYPERLINK(1)"\nlengths: mm\ntimber: ash\nsystem: wax\n'
        "parts: {'@SUM(A1), \"top\"': {shape: rod, diameter: 30, length: 400}}\n",
        encoding="utf-8",
    )
    for command in ("areas", "timetable"):
        found = rows(cli(command, file, *(FROM if command == "timetable" else ()), "--csv").out)
        for row in found:
            assert row["piece"] == "'=HYPERLINK(1)"
            assert not any(cell.startswith(("=", "+", "-", "@")) for cell in row.values())
    part = rows(cli("areas", file, "--csv").out)[0]["part"]
    assert part == '\'@SUM(A1), "top"'


def test_the_whole_plan(demo: Path, cli: Cli) -> None:
    asked = ("plan", demo / "round-table.yaml", "--shop", demo / "workshop.yaml", *FROM)
    printed = cli(*asked)
    assert printed.status == 0
    data = json.loads(printed.out)
    assert data["format"] == "finplan-plan/1"
    assert data["timetable"]["earliest_ready"] is not None
    output = demo / "plan.json"
    assert cli(*asked, "-o", output).out == f"{output}: written\n"
    assert output.read_text(encoding="utf-8") == printed.out
    assert cli(*asked, "-o", demo / "plan.txt").status == 2


def test_a_plan_that_does_not_fit_is_told_all_the_same(demo: Path, cli: Cli) -> None:
    ended = cli("plan", demo / "hall-bench.yaml", *FROM, "--deliver", "2026-12-01")
    assert ended.status == 3
    assert json.loads(ended.out)["timetable"]["status"] == "impossible"

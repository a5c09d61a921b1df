"""What other programs get from the command line: the whole plan, and its parts by the commands of their own."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from tests.conftest import Cli
from tests.plan_guide import read_schema

FROM = ("--from", "2026-11-30")
SCHEMA = read_schema()


def test_the_whole_plan(demo: Path, cli: Cli) -> None:
    asked = ("plan", demo / "round-table.yaml", *FROM)
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
    asked = ("plan", demo / "hall-bench.yaml", *FROM, "--deliver", "2026-12-01")
    ended = cli(*asked)
    assert ended.status == 3
    assert json.loads(ended.out)["timetable"]["status"] == "impossible"
    output = demo / "plan.json"
    assert cli(*asked, "-o", output).status == 3
    assert output.read_text(encoding="utf-8") == ended.out


@pytest.mark.parametrize("command", ["areas", "sanding", "materials", "timetable", "safety"])
def test_a_part_of_it_is_described_where_it_stands_alone(command: str, demo: Path, cli: Cli) -> None:
    """The schema of the plan holds that of every command that prints a part of it."""
    from_ = FROM if command in ("timetable", "safety") else ()
    ended = cli(command, demo / "book-shelf.yaml", *from_, "--json")
    assert ended.status == 0, ended.err
    data = json.loads(ended.out)
    described = Draft202012Validator({"$ref": f"#/$defs/{command}", "$defs": SCHEMA["$defs"]})
    assert [error.message for error in described.iter_errors(data)] == []
    assert not described.is_valid({**data, "undocumented": None})

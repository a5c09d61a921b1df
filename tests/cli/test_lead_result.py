"""What a test of an old coating came to, told at the tick: the plan then is as if it stood in the piece file."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from tests.cli.test_held import at
from tests.conftest import Cli

PIECE = """\
piece: Bench of the old ferry
lengths: mm
timber: white-pine
system: oil-varnish-blend
refinish: {built: 1930, strip: scrape}
parts:
  seat: {shape: board, length: 900, width: 300, thickness: 22}
  leg: {shape: board, length: 400, width: 280, thickness: 22}
"""
SHOP = """\
shop: Ferry shed
time-zone: UTC
people: [{name: Wenna, hours: {mon-fri: [8:00-12:00, 13:00-17:00]}}]
climate:
  day: {temperature: 20 degC, humidity: 50 %}
  night: {temperature: 18 degC, humidity: 55 %}
"""
CLEAN_UP = "clean up after old paint"
TEST = "test the old coating for lead"


@pytest.fixture
def piece(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    (tmp_path / "shop.yaml").write_text(SHOP, encoding="utf-8")
    (tmp_path / "bench.yaml").write_text(PIECE, encoding="utf-8")
    at(monkeypatch, datetime(2027, 3, 1, 7, 0, tzinfo=UTC))
    return str(tmp_path / "bench.yaml")


def rows(cli: Cli, piece: str, *more: str) -> list[dict[str, Any]]:
    ended = cli("timetable", piece, "--json", *more)
    assert ended.status == 0, ended.err
    found: list[dict[str, Any]] = json.loads(ended.out)["steps"]
    return [row for row in found if row["kind"] == "attended"]


def steps(cli: Cli, piece: str) -> set[str]:
    return {row["step"] for row in rows(cli, piece)}


def ticked(cli: Cli, piece: str, monkeypatch: pytest.MonkeyPatch, result: str) -> str:
    """Tick the first test with what it came to; return its number."""
    first = next(row for row in rows(cli, piece) if row["step"] == TEST)
    at(monkeypatch, datetime.fromisoformat(first["end"]))
    ended = cli("done", piece, first["number"], "--result", result, "--json")
    assert ended.status == 0, ended.err
    told = json.loads(ended.out)
    assert told["result"] == result
    assert any("replan" in note for note in told["notes"])
    return str(first["number"])


def work(found: list[dict[str, Any]]) -> set[tuple[str, str]]:
    """Steps by their items, without cleaning tools, which several coats may share."""
    return {(row["item"], row["step"]) for row in found if row["deed"] != "clean-up"}


def as_in_the_file(piece: str, cli: Cli, result: str) -> set[tuple[str, str]]:
    """What a plan has whose file says so."""
    file = Path(piece).with_name("said.yaml")
    file.write_text(PIECE.replace("built: 1930", f"built: 1930, lead-test: {result}"), encoding="utf-8")
    return work(rows(cli, str(file), "--no-ledger"))


@pytest.mark.parametrize("result", ["clear", "lead"])
def test_the_rest_is_planned_as_if_the_file_said_so(
    result: str, piece: str, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    number = ticked(cli, piece, monkeypatch, result)
    assert cli("replan", piece).status == 0
    found = rows(cli, piece)
    assert work(found) == as_in_the_file(piece, cli, result)
    left = {row["step"] for row in found}
    assert TEST not in left
    assert (CLEAN_UP in left) is (result == "lead")
    sheet = Path(piece).with_name("sheet.html")
    assert cli("sheet", piece, "-o", sheet).status == 0
    assert ("olds lead" in sheet.read_text(encoding="utf-8")) is (result == "lead")
    assert cli("done", piece, number, "--undo").status == 0
    assert {TEST, CLEAN_UP} <= steps(cli, piece), "what was told is taken back, and the rest planned again"


def test_lead_that_is_found_after_all_counts(piece: str, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    number = ticked(cli, piece, monkeypatch, "clear")
    assert cli("replan", piece).status == 0
    assert cli("done", piece, number, "--result", "lead").status == 0
    assert CLEAN_UP in steps(cli, piece)


def test_only_a_test_has_a_result(piece: str, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    found = rows(cli, piece)
    last = max(row["number"] for row in found)
    at(monkeypatch, datetime.fromisoformat(found[-1]["end"]))
    ended = cli("done", piece, last, "--result", "clear", "--yes")
    assert (ended.status, "--result is what a test of an old coating came to" in ended.err) == (2, True)
    ended = cli("done", piece, "1", "--result", "claer", "--yes")
    assert (ended.status, "did you mean 'clear'?" in ended.err) == (2, True)
    ended = cli("done", piece, next(row["number"] for row in found if row["step"] == TEST), "--yes")
    assert "What the test came to is not told" in ended.out

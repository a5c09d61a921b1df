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


def ticked(cli: Cli, piece: str, monkeypatch: pytest.MonkeyPatch, result: str) -> list[str]:
    """Tick every test with what it came to; return their numbers."""
    tests = [row for row in rows(cli, piece) if row["step"] == TEST]
    told: dict[str, Any] = {}
    for row in tests:
        at(monkeypatch, datetime.fromisoformat(row["end"]))
        ended = cli("done", piece, row["number"], "--result", result, "--json")
        assert ended.status == 0, ended.err
        told = json.loads(ended.out)
        assert told["result"] == result
    assert any("replan" in note for note in told["notes"])
    return [str(row["number"]) for row in tests]


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
    numbers = ticked(cli, piece, monkeypatch, result)
    assert cli("replan", piece).status == 0
    found = rows(cli, piece)
    assert work(found) == as_in_the_file(piece, cli, result)
    left = {row["step"] for row in found}
    assert TEST not in left
    assert (CLEAN_UP in left) is (result == "lead")
    sheet = Path(piece).with_name("sheet.html")
    assert cli("sheet", piece, "-o", sheet).status == 0
    assert ("olds lead" in sheet.read_text(encoding="utf-8")) is (result == "lead")
    assert all(cli("done", piece, number, "--undo").status == 0 for number in numbers)
    assert {TEST, CLEAN_UP} <= steps(cli, piece), "what was told is taken back, and the rest planned again"


def test_lead_that_is_found_after_all_counts(piece: str, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    numbers = ticked(cli, piece, monkeypatch, "clear")
    assert cli("replan", piece).status == 0
    assert cli("done", piece, numbers[0], "--result", "lead").status == 0
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
    assert "what the test came to is not told of seat (test 1)" in ended.out


NOBODY = "until it is settled who may go on"
MAY = "planned as what may hold lead"
NOT_TOLD = "what the test came to is not told"
NONE = "holds lead: plan the rest again"


@pytest.mark.parametrize(
    ("told", "of_last", "said", "careful"),
    [
        ((("seat", "lead"), ("leg", "clear")), (NOBODY, "said of it alone"), (NOBODY, "of seat (test 1, Mon"), True),
        ((("leg", "clear"), ("seat", "lead")), (NOBODY,), (NOBODY, "of seat (test 1, Mon"), True),
        ((("leg", "clear"),), (MAY,), (MAY, "says nothing of seat (test 1)"), True),
        ((("seat", "clear"),), (MAY,), (MAY, "says nothing of leg (test 2)"), True),
        ((("seat", "clear"), ("leg", None)), (MAY,), (MAY, "says nothing of leg (test 2)"), True),
        ((("seat", None), ("leg", None)), (NOT_TOLD,), (NOT_TOLD, "of seat (test 1) and leg (test 2)"), True),
        ((("leg", "clear"), ("seat", "clear")), (NONE,), (), False),
    ],
)
def test_a_result_is_of_the_item_that_was_tested(
    told: tuple[tuple[str, str | None], ...],
    of_last: tuple[str, ...],
    said: tuple[str, ...],
    careful: bool,
    piece: str,
    cli: Cli,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    numbers = {row["item"]: row["number"] for row in rows(cli, piece) if row["step"] == TEST}
    assert set(numbers) == {"seat", "leg"}
    at(monkeypatch, datetime(2027, 3, 1, 10, 0, tzinfo=UTC))
    words = ""
    for item, result in told:
        ended = cli("done", piece, numbers[item], "--yes", *(() if result is None else ("--result", result)))
        assert ended.status == 0, ended.err
        words = ended.out
    assert all(one in words for one in of_last), words
    assert (NONE in words) is not careful
    before, again = cli("timetable", piece).out, cli("replan", piece).out
    for lines in (before, again, cli("timetable", piece).out):
        head = lines.split("\n\n")[1]
        assert all(one in head for one in said), head
        assert (" lead" in head) is bool(said)
    kept = rows(cli, piece)
    assert {row["item"] for row in kept if row["step"] == CLEAN_UP} == ({"seat", "leg"} if careful else set())


def test_data_of_a_plan_come_with_what_stands_beside_them(
    piece: str, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    ticked(cli, piece, monkeypatch, "lead")
    for ended in (cli("timetable", piece, "--json"), cli("timetable", piece, "--csv"), cli("replan", piece, "--json")):
        assert NOBODY in ended.err
        assert NOBODY not in ended.out


def test_a_step_under_the_stop_is_warned_of_when_it_is_ticked(
    piece: str, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    ticked(cli, piece, monkeypatch, "lead")
    assert cli("replan", piece).status == 0
    found = rows(cli, piece)
    at(monkeypatch, datetime.fromisoformat(found[1]["end"]))
    first = cli("done", piece, found[0]["number"], "--yes").out
    assert f"step {found[0]['number']} is ticked although lead was found: stop, take up" in first
    cleaned = next(row for row in found if row["step"] == CLEAN_UP)
    assert "although lead was found" not in cli("done", piece, cleaned["number"], "--yes").out

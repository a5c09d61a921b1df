"""The timetable on the command line: its options, what is refused, and what is shown where nothing is left to do."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from tests.conftest import Cli

FROM = ("--from", "2026-11-30")
TOP = "top/hardwax-oil"


@pytest.fixture
def table(demo: Path) -> tuple[object, ...]:
    return ("timetable", demo / "round-table.yaml", *FROM)


@pytest.mark.parametrize("limit", ["0", "-1", "nan", "soon", "3601"])
def test_a_limit_that_is_none(limit: str, table: tuple[object, ...], cli: Cli) -> None:
    ended = cli(*table, "--limit", limit)
    assert ended.status == 2
    assert f"'{limit}' is no time to search for; expected 1 to 3600 seconds" in ended.err


@pytest.mark.parametrize(
    ("done", "told"),
    [
        (["varnish"], "'varnish' is no step"),
        ([f"{TOP}/1=yesterday"], "'yesterday' is not a date"),
        ([f"{TOP}/2=2126-12-24 10:00"], f"{TOP}/2 cannot have ended at 2126-12-24 10:00, which is still to come"),
        (
            [f"{TOP}/2=2026-11-24 11:00", f"{TOP}/4=2026-11-24 10:00"],
            f"{TOP}/2 comes before {TOP}/4 and cannot have ended after it",
        ),
    ],
)
def test_what_cannot_have_been_done(done: list[str], told: str, table: tuple[object, ...], cli: Cli) -> None:
    ended = cli(*table, *(word for one in done for word in ("--done", one)))
    assert ended.status == 2
    assert told in " ".join(ended.err.split())


def test_a_step_that_is_done_stands_for_those_before_it(table: tuple[object, ...], cli: Cli) -> None:
    told = json.loads(cli(*table, "--done", f"{TOP}/3=2026-11-27 10:00", "--json").out)
    of_the_top = {step["id"] for step in told["steps"] if step["item"] == "top" and step["kind"] == "attended"}
    assert of_the_top == {f"{TOP}/4"} | {one for one in of_the_top if one.endswith("/clean-up")}


def test_nothing_is_left_to_do(table: tuple[object, ...], cli: Cli) -> None:
    ended = cli(*table, "--done", "put-together=2026-11-27 10:00")
    assert ended.status == 0
    assert ended.out.splitlines()[3].startswith("Nothing is left to do, ready for light use ")
    assert "next coat" not in ended.out


def test_what_is_on_the_piece_is_not_changed_for_another_system(table: tuple[object, ...], cli: Cli) -> None:
    late = (*table, "--deliver", "2026-12-04 06:00", "--json")
    untouched = json.loads(cli(*late).out)
    oiled = json.loads(cli(*late, "--done", f"{TOP}/2=2026-11-29 10:00").out)

    def offered(told: dict[str, list[dict[str, list[dict[str, str]]]]]) -> list[str]:
        return [one["change"] for clash in told["clashes"] for one in clash["would_fit"]]

    assert any(one.startswith("system") for one in offered(untouched))
    assert offered(oiled)
    assert not any(one.startswith("system") for one in offered(oiled))


def test_coats_whose_air_may_burn_are_told_by_their_numbers(tmp_path: Path, cli: Cli) -> None:
    (tmp_path / "shop.yaml").write_text(
        "shop: Narrow\nrooms:\n  shop: {for: [sanding, coating, drying, assembly], volume: 30 m3, air-changes: 0.3}\n"
    )
    (tmp_path / "top.yaml").write_text(
        "piece: Wide top\nlengths: mm\ntimber: beech\nsystem: oil-varnish\n"
        "parts:\n  top: {shape: rectangle, length: 2000, width: 1000, thickness: 20}\n"
    )
    piece = tmp_path / "top.yaml"
    told = cli("timetable", piece, *FROM).out
    sessions = json.loads(cli("safety", piece, *FROM, "--json").out)["sessions"]
    steps = json.loads(cli("timetable", piece, *FROM, "--json").out)["steps"]
    stopped = {name for one in sessions if one["verdict"] == "above the planning target" for name in one["steps"]}
    numbers = {step["number"] for step in steps if step["id"] in stopped and step["kind"] == "attended"}
    (line,) = [line for line in told.splitlines() if "too little air against fire" in line]
    assert numbers
    assert line.startswith("Step")
    assert {int(word) for word in re.findall(r"\d+", line)} <= numbers, "of a run its first and last"

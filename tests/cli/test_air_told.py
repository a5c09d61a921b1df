"""The air as it was told beside ticks and when the rest is planned again."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.cli.test_held import at, folder
from tests.conftest import Cli

__all__ = ["folder"]


@pytest.fixture
def coated(folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> str:
    """A stool with its first coat on since half past three, and the morning after."""
    piece = str(folder / "stool.yaml")
    cli("timetable", piece)
    at(monkeypatch, datetime(2027, 3, 3, 15, 30, tzinfo=UTC))
    told = cli("done", piece, "1", "2", "--air", "17 degC 55 %").out
    assert "coat 1 of Wed 3 Mar 15:30 is dry enough for the next step, abrade P320, from Thu 4 Mar " in told
    at(monkeypatch, datetime(2027, 3, 4, 8, 0, tzinfo=UTC))
    return piece


def _dry_at(cli: Cli, piece: str, *air: str) -> str:
    options = [part for one in air for part in ("--air", one)]
    ended = cli("replan", piece, *options)
    assert ended.status == 0, ended.err
    (told,) = [line for line in ended.out.splitlines() if "by the air as it was measured" in line]
    return told.split("from ")[1].split(",")[0]


def test_a_cold_night_is_told_in_one_reading_in_several_or_by_a_log(coated: str, cli: Cli) -> None:
    one = _dry_at(cli, coated, "9 degC 65 %")
    log = Path(coated).with_name("night.csv")
    log.write_text("time,temperature,humidity\n2027-03-03 15:30,9,65\n2027-03-03 20:00,9,65\n2027-03-04 01:00,9,65\n")
    assert _dry_at(cli, coated, "15:30 9 degC 65 %", "2027-03-04 07:00 9 degC 65 %") == one
    assert _dry_at(cli, coated, str(log)) == one
    held = cli("timetable", coated)
    assert one in held.out, "and it is held"
    assert held.out == cli("timetable", coated).out
    assert held.err == ""
    steps = json.loads(cli("timetable", coated, "--json").out)["steps"]
    assert min(step["start"] for step in steps) >= "2027-03-04T08:00"


def test_what_was_told_once_counts_in_the_next_plan_too(coated: str, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    told = _dry_at(cli, coated, "9 degC 65 %")
    at(monkeypatch, datetime(2027, 3, 4, 8, 30, tzinfo=UTC))
    assert _dry_at(cli, coated) == told


@pytest.mark.parametrize(
    ("air", "words"),
    [
        (["warm"], "is no air"),
        (["9 degC 65 %", "5 degC 60 %"], "has no time"),
        (["7:00 9 degC"], "lacks one of temperature and humidity"),
        (["7:00 9 degC 60 %", "7:00 8 degC 60 %"], "have one time"),
        (["2027-03-09 07:00 9 degC 60 %"], "still to come"),
        (["no-such.csv"], "no such file"),
        (["shop.csv"], "expected"),
        (["early.csv"], "no row is of the time since"),
    ],
)
def test_what_is_no_air_is_refused_and_nothing_planned(
    coated: str, cli: Cli, air: list[str], words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = Path(coated).parent
    monkeypatch.chdir(folder)
    (folder / "shop.csv").write_text("a,b\n1,2\n")
    (folder / "early.csv").write_text("time,temperature,humidity\n2027-02-03 15:30,9,65\n2027-02-03 20:00,9,65\n")
    before = cli("timetable", coated).out
    ended = cli("replan", coated, *(part for one in air for part in ("--air", one)))
    assert (ended.status, ended.out) == (2, "")
    assert words in ended.err
    assert "Traceback" not in ended.err
    assert cli("timetable", coated).out == before


def test_air_is_told_of_what_is_still_to_dry(folder: Path, cli: Cli) -> None:
    piece = str(folder / "stool.yaml")
    cli("timetable", piece)
    ended = cli("replan", piece, "--air", "9 degC 60 %")
    assert ended.status == 2
    assert "none that is ticked is still to dry" in ended.err

"""What was timed and found dry at the bench, in the plans that come after."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.cli.test_held import STOOL, at, folder
from tests.conftest import Cli

__all__ = ["folder"]


def _plan(cli: Cli, piece: Path, *more: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(cli("timetable", piece, "--json", *more).out)
    return found


def _rows(plan: dict[str, Any], step: str) -> dict[str, Any]:
    return next(one for one in plan["steps"] if one["step"] == step and one["kind"] == "attended")


def _minutes(plan: dict[str, Any], step: str) -> float:
    row = _rows(plan, step)
    return (datetime.fromisoformat(row["end"]) - datetime.fromisoformat(row["start"])).total_seconds() / 60


def _next(folder: Path) -> Path:
    """Write another piece of the same sizes."""
    file = folder / "second.yaml"
    file.write_text(STOOL.replace("Milking stool", "Second stool"))
    return file


def test_work_that_was_timed_is_planned_as_long_as_it_takes_here(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    piece, second = folder / "stool.yaml", _next(folder)
    first = _plan(cli, piece)
    row = _rows(first, "sand bare wood")
    before = _plan(cli, second, "--no-ledger")
    at(monkeypatch, datetime.fromisoformat(row["end"]) + timedelta(hours=2))
    took = 1.6 * _minutes(first, "sand bare wood")
    assert cli("done", piece, row["number"], "--took", f"{took:.0f} min").status == 0
    assert _plan(cli, piece) == first, "a tick changes no plan that hangs on the wall"
    after = _plan(cli, second)
    assert _minutes(after, "sand bare wood") > _minutes(before, "sand bare wood")
    assert _minutes(after, "coat 1") == _minutes(before, "coat 1"), "coating was not timed"
    assert "Planned by this shop's own times: sanding bare wood" in " ".join(after["notes"])
    assert "(1 timed)" in cli("timetable", second).out
    only = _plan(cli, second, "--catalogue-only")
    assert _minutes(only, "sand bare wood") == _minutes(before, "sand bare wood")
    assert _plan(cli, second, "--catalogue-only") == only
    assert _minutes(_plan(cli, second), "sand bare wood") == _minutes(after, "sand bare wood")
    assert cli("done", piece, row["number"], "--undo").status == 0
    assert _plan(cli, second)["steps"] == _plan(cli, second)["steps"]


def test_a_coat_that_was_found_dry_late_lets_the_next_wait_longer(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    piece, second = folder / "stool.yaml", _next(folder)
    first = _plan(cli, piece)
    coat = _rows(first, "coat 1")
    end, dry = datetime.fromisoformat(coat["end"]), datetime.fromisoformat(_rows(first, "coat 2")["start"])
    before = _plan(cli, second, "--no-ledger")
    at(monkeypatch, dry + timedelta(days=2))
    for number in (_rows(first, "sand bare wood")["number"], coat["number"]):
        assert cli("done", piece, number, "--at", f"{end:%Y-%m-%d %H:%M}", "--yes").status == 0
    typed = f"{end + 2.2 * (dry - end):%Y-%m-%d %H:%M}"
    ended = cli("done", piece, coat["number"], "--dry", "--at", typed, "--json")
    assert json.loads(ended.out)["learnt"] == ["drying"]
    after = _plan(cli, second, "--from", "2027-02-22", "--asap")
    before = _plan(cli, second, "--from", "2027-02-22", "--asap", "--no-ledger")
    waits = [
        datetime.fromisoformat(_rows(one, "coat 1")["next_from"]) - datetime.fromisoformat(_rows(one, "coat 1")["end"])
        for one in (before, after)
    ]
    assert waits[1] > waits[0]
    assert "Hardwax oil dries in" in " ".join(after["notes"])


def test_a_night_that_was_measured_cold_is_no_fault_of_the_finish(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same coat, found dry at the same time: where it was cold meanwhile, less drying has passed till then."""
    found = []
    for name, air in (("mild", ()), ("cold", ("--air", "8 degC 60 %"))):
        record = ("--ledger", folder / f"{name}.ledger")
        at(monkeypatch, datetime(2027, 2, 15, 7, 30, tzinfo=UTC))
        plan = json.loads(cli("timetable", folder / "stool.yaml", *record, "--json").out)
        coat = _rows(plan, "coat 1")
        end = datetime.fromisoformat(coat["end"])
        at(monkeypatch, end + timedelta(days=2))
        typed = (folder / "stool.yaml", coat["number"], "--yes", *record)
        assert cli("done", *typed, "--at", f"{end:%Y-%m-%d %H:%M}", *air).status == 0
        assert cli("done", *typed, "--dry", "--at", f"{end + timedelta(hours=20):%Y-%m-%d %H:%M}").status == 0
        found.append(json.loads(cli("learnt", *record, "--json").out)["drying"][0]["takes"]["data"])
    assert found[1] < found[0]


def test_a_coat_that_waits_for_nothing_teaches_nothing_of_drying(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    piece = folder / "stool.yaml"
    number = _rows(_plan(cli, piece), "coat 1")["number"]
    at(monkeypatch, datetime(2027, 3, 20, 12, tzinfo=UTC))
    ended = cli("done", piece, number, "--dry")
    assert ended.status == 0
    assert "Nothing is learnt of how it dries" in ended.out

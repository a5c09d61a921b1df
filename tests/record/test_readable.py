"""A record from outside, or a damaged one, of which some values are not what they should be: refused, never a fault."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from tests.cli.test_bench import _numbers
from tests.cli.test_held import at, folder
from tests.conftest import Cli

__all__ = ["folder"]

WRONG: dict[str, tuple[str, str, str]] = {
    "done is nothing": ("plan", "done", "null"),
    "done is of another kind": ("plan", "done", '{"a": 5}'),
    "the answer is a list": ("plan", "answer", "[]"),
    "the answer has no time": ("plan", "answer", "{}"),
    "the time is a number": ("plan", "answer", '{"now": 5}'),
    "the time has no zone": ("plan", "answer", '{"now": "2027-02-15T07:30:00"}'),
    "the air is a word": ("plan", "answer", '{"now": "2027-02-15T07:30:00+00:00", "air": "warm"}'),
    "repairs are no ids": ("plan", "answer", '{"now": "2027-02-15T07:30:00+00:00", "repairs": ["x"]}'),
    "a wish that nobody knows": ("plan", "wishes", '{"from": 5}'),
    "a wish of another kind": ("plan", "wishes", '{"start": 5, "done": []}'),
    "ready for what nobody knows": ("plan", "wishes", '{"ready_for": "the fair", "done": []}'),
    "a row is a number": ("planned", "row", "7"),
    "a row begins before all jobs": ("planned", "begins", "0001-01-01T00:00:00+00:00"),
    "work of no kind": ("observation", "basis", "WORK"),
    "a basis without coats": ("observation", "basis", '{"x": 1e999}'),
    "a coat that is none": ("observation", "basis", '{"job": "a", "coats": [{"step": "x"}]}'),
    "a size that cannot be": ("observation", "basis", "SIZE"),
}
"""By what is wrong: the table, its column, and what stands in it."""


def _exported(folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> dict[str, Any]:
    piece = str(folder / "stool.yaml")
    numbers = _numbers(piece, cli)
    at(monkeypatch, datetime(2027, 3, 5, 16, 0, tzinfo=UTC))
    ticked = cli("done", piece, numbers["sand bare wood"], numbers["coat 1"], "--at", "15:30", "--used", "25 ml")
    assert ticked.status == 0, ticked.err
    found: dict[str, Any] = json.loads(cli("ledger", "export", str(folder / "finplan.ledger")).out)
    return found


def test_values_that_are_none_are_refused_and_nothing_is_made(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    data = _exported(folder, cli, monkeypatch)

    def refused(what: str) -> None:
        table, column, value = WRONG[what]
        row = data["tables"][table][0]
        if value == "SIZE":
            value = row[column].replace('"share":1.0', '"share":1e300')
            assert value != row[column]
        if value == "WORK":
            value = '{"of": "dancing", "reckoned": 5, "took": 6}'
            row = {**row, "kind": "minutes"}
        rows = [{**row, column: value}, *data["tables"][table][1:]]
        (folder / "in.json").write_text(json.dumps({**data, "tables": {**data["tables"], table: rows}}))
        told = cli("ledger", "import", str(folder / "in.json"), "--ledger", str(folder / "new.ledger"))
        assert told.status == 2, (what, told)
        assert "the ledger holds" in told.err, (what, told.err)
        assert not (folder / "new.ledger").exists(), what

    for what in WRONG:
        refused(what)


def test_a_plan_whose_rows_are_of_another_job_is_made_anew(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    data = _exported(folder, cli, monkeypatch)
    for wrong in ({"piece": "Another piece"}, {"next_from": "9999-12-31T23:59:59Z"}):
        for row in data["tables"]["planned"]:
            row["row"] = json.dumps({**json.loads(row["row"]), **wrong})
        new = folder / f"{len(wrong)}{next(iter(wrong))}.ledger"
        (folder / "in.json").write_text(json.dumps(data))
        assert cli("ledger", "import", str(folder / "in.json"), "--ledger", str(new)).status == 0
        told = cli("timetable", str(folder / "stool.yaml"), "--ledger", str(new))
        assert told.status == 0, told.err
        assert "Another piece" not in told.out


def test_what_was_exported_is_brought_in(folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    (folder / "in.json").write_text(json.dumps(_exported(folder, cli, monkeypatch)))
    told = cli("ledger", "import", str(folder / "in.json"), "--ledger", str(folder / "new.ledger"))
    assert told.status == 0, told.err

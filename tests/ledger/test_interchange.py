"""A ledger as JSON and back."""

from __future__ import annotations

import json
import tempfile
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finplan.ledger import (
    Event,
    HeldRow,
    Ledger,
    LedgerError,
    Lot,
    Made,
    Tick,
    begin_job,
    bring_in,
    hold_plan,
    ledger_data,
    open_ledger,
    read_ledger,
    receive,
    take_back,
    ticks_of,
    undo_event,
    write_event,
    write_tick,
)
from tests.ledger.entries import FILES, MORNING, done, made

TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)
NAMES = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=20)
MOMENTS = st.datetimes(datetime(1990, 1, 1), datetime(2090, 1, 1)).map(lambda at: at.replace(tzinfo=UTC, microsecond=0))
AMOUNTS = st.floats(0, 1e9, allow_nan=False)
MAYBE = st.none() | AMOUNTS
PLAIN = st.dictionaries(NAMES, st.none() | st.booleans() | st.integers(-(2**53), 2**53) | AMOUNTS | TEXT, max_size=4)

TICKS = st.builds(
    Tick,
    steps=st.lists(NAMES, min_size=1, max_size=4, unique=True).map(tuple),
    at=MOMENTS,
    entered=MOMENTS,
    kind=st.sampled_from(["done", "dry"]),
    person=st.none() | TEXT,
    used_ml=MAYBE,
    used_g=MAYBE,
    air_c=st.none() | st.floats(-40, 60),
    humidity_pct=st.none() | st.floats(0, 100),
    note=st.none() | TEXT,
    result=st.sampled_from([None, "lead", "clear"]),
    observed=st.dictionaries(st.sampled_from(["amount", "minutes", "drying"]), PLAIN),
)
ROWS = st.builds(
    HeldRow,
    step=NAMES,
    number=st.none() | st.integers(1, 999),
    begins=MOMENTS,
    ends=MOMENTS,
    person=st.none() | TEXT,
    row=PLAIN,
)
PLANS = st.builds(
    Made,
    at=MOMENTS,
    version=TEXT,
    digest=TEXT,
    wishes=PLAIN,
    done=st.dictionaries(NAMES, MOMENTS, max_size=3),
    answer=PLAIN,
    rows=st.lists(ROWS, max_size=4).map(tuple),
    last_tick=st.integers(0, 99),
    last_event=st.integers(0, 99),
)
LOTS = st.builds(
    Lot,
    kind=st.sampled_from(["finishes", "solvents", "abrasives", "consumables"]),
    material=NAMES,
    measure=st.sampled_from(["ml", "g", "pieces"]),
    pack=AMOUNTS,
    component=st.none() | TEXT,
    grit=st.none() | TEXT,
    batch=st.none() | TEXT,
    price=MAYBE,
)


def _write(ledger: Ledger, plans: list[Made], ticks: list[Tick], lots: list[Lot], drawn: list[float]) -> None:
    for plan in plans:
        hold_plan(ledger, FILES, plan)
    with ledger.changing():
        job = begin_job(ledger, FILES, MORNING)
        for entry in ticks:
            write_tick(ledger, job, entry)
        for number in [receive(ledger, lot, MORNING, MORNING) for lot in lots]:
            for amount in drawn:
                write_event(ledger, Event(number, "drawn", MORNING, MORNING, amount))
        if ticks:
            take_back(ledger, ticks_of(ledger)[0], MORNING, "a slip")


@settings(max_examples=40)
@given(
    plans=st.lists(PLANS, max_size=3),
    ticks=st.lists(TICKS, max_size=3),
    lots=st.lists(LOTS, max_size=2),
    drawn=st.lists(AMOUNTS, max_size=2),
)
def test_nothing_is_lost_on_the_way_out_and_in(
    plans: list[Made], ticks: list[Tick], lots: list[Lot], drawn: list[float]
) -> None:
    with tempfile.TemporaryDirectory() as folder:
        one, other = Path(folder, "one.ledger"), Path(folder, "other.ledger")
        with open_ledger(one) as ledger:
            _write(ledger, plans, ticks, lots, drawn)
            data = ledger_data(ledger)
        text = json.dumps(data)
        bring_in(text, other)
        with open_ledger(other) as ledger:
            again = ledger_data(ledger)
            every = [ledger.rows(f"SELECT * FROM {name}") for name in data["tables"]]  # noqa: S608
        assert again == data
        assert json.dumps(again) == text
        with open_ledger(one) as ledger:
            assert every == [ledger.rows(f"SELECT * FROM {name}") for name in data["tables"]]  # noqa: S608


def _exported(tmp_path: Path) -> dict[str, Any]:
    with open_ledger(tmp_path / "first.ledger") as ledger:
        _write(ledger, [made()], [done()], [Lot("finishes", "hardwax-oil", "ml", 500.0)], [20.0])
        with ledger.changing():
            undo_event(ledger, Event(1, "drawn", MORNING, MORNING, 20.0, id=2), MORNING)
        return ledger_data(ledger)


def test_what_an_older_version_exported_is_brought_in_and_forward(tmp_path: Path) -> None:
    data = _exported(tmp_path)
    old = {name: rows for name, rows in data["tables"].items() if not name.startswith("lot")}
    for table, later in (("plan", "last_event"), ("tick", "result")):
        old[table] = [{name: value for name, value in row.items() if name != later} for row in old[table]]
    bring_in(json.dumps({**data, "version": 1, "tables": old}), tmp_path / "second.ledger")
    with read_ledger(tmp_path / "second.ledger") as ledger:
        assert ledger is not None
        assert ledger_data(ledger)["tables"]["tick"] == data["tables"]["tick"]
        assert ledger_data(ledger)["tables"]["lot"] == []


WRONG: dict[str, Any] = {
    "no JSON": "{",
    "no group": "[]",
    "another format": '{"format": "songs/1"}',
    "too deep": "[" * 100_000,
    "a newer version": lambda data: {**data, "version": 99},
    "a version that is none": lambda data: {**data, "version": True},
    "an unknown table": lambda data: {**data, "tables": {**data["tables"], "songs": [{"name": "x"}]}},
    "a table without rows": lambda data: {**data, "tables": {**data["tables"], "lot": [7]}},
    "an unknown column": lambda data: _with(data, "tick", {"id": 9, "song": "x"}),
    "a column that is none": lambda data: _with(data, "tick", {"id) VALUES (1); --": 1}),
    "a list in a column": lambda data: _with(data, "job", {"id": 9, "files": [], "begun": "2027-02-10"}),
    "a number too large": lambda data: _with(data, "job", {"id": 10**30, "files": "[]", "begun": "2027-02-10"}),
    "half a letter": lambda data: _with(data, "job", {"id": 9, "files": "\ud800", "begun": "2027-02-10"}),
    "a time that is none": lambda data: _with(data, "tick", {**data["tables"]["tick"][0], "id": 9, "at": "noon"}),
    "no such job": lambda data: _with(data, "tick", {**data["tables"]["tick"][0], "id": 9, "job": 77}),
    "twice the same": lambda data: _with(data, "job", data["tables"]["job"][0]),
    "files that are none": lambda data: _with(data, "job", {"id": 9, "files": "{", "begun": "2027-02-10"}),
    "no tables": lambda data: {**data, "tables": []},
    "no table of jobs": lambda data: {**data, "tables": {}},
    "files that are no names": lambda data: _with(data, "job", {"id": 9, "files": "[7]", "begun": "2027-02-10"}),
    "an amount that cannot be": lambda data: _with(
        data, "tick", {**data["tables"]["tick"][0], "id": 9, "used_ml": 1e300, "used_g": None}
    ),
    "no number": lambda data: json.dumps(data).replace("500.0", "NaN"),
}


def _with(data: dict[str, Any], table: str, row: dict[str, Any]) -> dict[str, Any]:
    return {**data, "tables": {**data["tables"], table: [*data["tables"][table], row]}}


@pytest.mark.parametrize("what", WRONG)
def test_what_is_no_ledger_is_refused_and_nothing_is_made(tmp_path: Path, what: str) -> None:
    wrong = WRONG[what]
    if callable(wrong):
        wrong = wrong(_exported(tmp_path))
    text = wrong if isinstance(wrong, str) else json.dumps(wrong)
    target = tmp_path / "second.ledger"
    with pytest.raises(LedgerError) as refused:
        bring_in(text, target)
    assert refused.value.exit_code == 2
    assert not target.exists()


def test_a_ledger_that_is_there_is_never_written_over(tmp_path: Path) -> None:
    text = json.dumps(_exported(tmp_path))
    before = (tmp_path / "first.ledger").read_bytes()
    with pytest.raises(LedgerError, match="is there already"):
        bring_in(text, tmp_path / "first.ledger")
    assert (tmp_path / "first.ledger").read_bytes() == before

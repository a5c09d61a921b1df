"""What commands answer that print no part of a plan: every key of it is described in a schema of their own."""

from __future__ import annotations

import json
from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from finplan.data import LedgerRow, ledger_rows
from finplan.ledger import ledger_data, open_ledger
from tests.cli.test_held import folder
from tests.conftest import Cli
from tests.plan_guide import ANSWERS_GUIDE, documents, guide, places, read_schema
from tests.plan_schema import ANSWERS, answers_schema, schema_text

__all__ = ["folder"]

SCHEMA = read_schema(ANSWERS)
VALIDATOR = Draft202012Validator(SCHEMA)


def test_the_schema_is_made_from_the_types() -> None:
    """If it is not: ``python -m tests.plan_guide``."""
    assert ANSWERS.read_text(encoding="utf-8") == schema_text(answers_schema())


def test_the_guide_is_made_from_the_schema() -> None:
    """If it is not: ``python -m tests.plan_guide``."""
    assert ANSWERS_GUIDE.read_text(encoding="utf-8") == guide(SCHEMA)


def test_every_definition_has_its_place() -> None:
    assert {node["title"] for node in documents(SCHEMA)} == {
        "Check",
        "Systems",
        "Quote",
        "Buying list",
        "Tick",
        "Stock",
        "Learnt by a shop",
        "Review",
        "Record",
        "Forms",
        "Begun",
        "Fields",
        "Faults of a coat",
        "Repair",
    }
    roots = {one["$ref"].rpartition("/")[2] for one in SCHEMA["oneOf"]}
    assert set(places(SCHEMA)) | roots == set(SCHEMA["$defs"])


def test_a_table_of_the_record_has_the_keys_of_its_columns(tmp_path: Path) -> None:
    """A column that is added is described as well, and so exported: nothing of a record is lost."""
    with open_ledger(tmp_path / "finplan.ledger") as ledger:
        columns = {
            row["name"]: {column["name"] for column in ledger.rows(f"PRAGMA table_info({row['name']})")}
            for row in ledger.rows("SELECT name FROM sqlite_master WHERE type = 'table'")
        }
        assert ledger_rows(ledger_data(ledger)).tables.lot == ()
    tables = SCHEMA["$defs"]["tables"]["properties"]
    keys = {
        name: set(SCHEMA["$defs"][form["items"]["$ref"].rpartition("/")[2]]["properties"])
        for name, form in tables.items()
    }
    assert keys == columns
    assert {field.name for field in fields(LedgerRow)} == {"format", "version", "tables"}


def test_what_is_answered_meets_the_schema(folder: Path, cli: Cli) -> None:
    piece, record = folder / "stool.yaml", folder / "finplan.ledger"
    copper = "piece: Odd\ntimber: beach\nsystem: hardwax-oil\nparts: {top: {shape: disc, diameter: 300 mm}}\n"
    (folder / "odd.yaml").write_text(copper, encoding="utf-8")

    def answer(*typed: object, status: int = 0) -> Any:
        ended = cli(*typed)
        assert ended.status == status, ended.err
        data = json.loads(ended.out)
        errors = [f"{one.json_path}: {one.message}" for one in VALIDATOR.iter_errors(data)]
        assert not errors, (typed, errors)
        return data

    assert answer("check", piece, "--json")["sound"]
    assert answer("new", "--forms", "--json")["forms"]
    assert answer("fields", "--json")["topics"]
    begun = ("--form", "box", "--timber", "ash", "--system", "soap", "--deliver", "2099-06-18", "--json")
    assert answer("new", folder / "box.yaml", *begun)["written"] == [str(folder / "box.yaml")]
    assert answer("check", folder / "odd.yaml", "--json", status=2)["problems"]
    steps = json.loads(cli("timetable", piece, "--json").out)["steps"]
    coat = next(step for step in steps if step["deed"] == "coat" and step["kind"] == "attended")
    assert cli("stock", "receive", "hardwax-oil", "1 l", "--price", "61.50", "--ledger", record).status == 0
    told = answer("done", piece, coat["number"], "--used", "20 ml", "--took", "9 min", "--yes", "--json")
    assert (told["kind"], told["steps"], told["used_ml"]) == ("done", [coat["id"]], 20.0)
    assert told["learnt"] == ["amount", "minutes"]
    assert answer("done", piece, coat["number"], "--dry", "--json")["kind"] == "dry"
    assert answer("done", piece, coat["number"], "--undo", "--json")["kind"] == "void"
    assert answer("stock", "--ledger", record, "--json")["lots"][0]["price"] == 61.5
    assert answer("review", piece, "--json")["done"] == 2
    learnt = answer("learnt", "--ledger", record, "--json")
    assert [(one["kind"], one["of"]) for one in learnt["set_aside"]] == [("minutes", "coat")], "9 min are too few"
    assert [one["used"]["count"] for one in learnt["amounts"]] == [1]
    assert answer("fault", piece, coat["number"], "--json")["faults"]
    assert answer("fault", piece, coat["number"], "tacky", "--repair", "--json")["steps"]
    tables = answer("ledger", "export", record)["tables"]
    assert all(tables[name] for name in tables), "every table has entries here"


@pytest.mark.parametrize("also", [{"more": 1}, {"format": "finplan-stock/2"}])
def test_the_schema_refuses_what_is_none_of_them(also: dict[str, Any]) -> None:
    sound = {"format": "finplan-stock/1", "lots": []}
    assert VALIDATOR.is_valid(sound)
    assert not VALIDATOR.is_valid(sound | also)

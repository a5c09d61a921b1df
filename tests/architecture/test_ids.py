"""Ids are made at one place and read apart nowhere: what one is of stands in the fields beside it."""

from __future__ import annotations

import ast

import pytest

from tests.architecture.ids import made, read_apart
from tests.architecture.modules import HOUSE, trees

MAKER = HOUSE / "system" / "ids.py"


def test_no_id_is_read_apart() -> None:
    assert [f"{file}:{line}" for file, tree in trees().items() for line in read_apart(tree)] == []


def test_ids_are_made_at_one_place() -> None:
    assert MAKER in trees()
    assert [f"{file}:{line}" for file, tree in trees().items() if file != MAKER for line in made(tree)] == []


@pytest.mark.parametrize(
    "code",
    [
        'row.id.removesuffix("/dry")',
        'step.id.rpartition("/")[2]',
        "row.id.startswith(treatment.key)",
        'self.id.replace(f"#{number}", "", 1)',
        're.match(r"(.*)/dry", row.id)',
        "row.id[: len(stem)]",
        '"/dry" in row.id',
        'plan.piece_of(row).key.rstrip("/")',
    ],
)
def test_what_reads_one_apart_is_seen(code: str) -> None:
    assert list(read_apart(ast.parse(code))) == [1]


@pytest.mark.parametrize("code", ['f"{step.id}/clean-up"', 'f"{treatment.key}{treatment.item}"', 'row.id + "/dry"'])
def test_what_makes_one_is_seen(code: str) -> None:
    assert list(made(ast.parse(code))) == [1]


@pytest.mark.parametrize("code", ['f"{row.id} is no coat"', "f'{row.id}'", "row.id == other.id", "by_id[row.id]"])
def test_what_does_neither_is_let_be(code: str) -> None:
    assert [*read_apart(ast.parse(code)), *made(ast.parse(code))] == []

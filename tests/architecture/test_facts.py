"""Rooms that reckon hold facts: what is said of them to people is worded in telling, or stands in the catalogue."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator

from tests.architecture.modules import HOUSE, nodes, trees

ROOMS = ("climate", "planning", "record", "safety", "timetable")
TWO_WORDS = re.compile(r"[a-z]{2,}[,:]? [a-z{]|[a-z}] [a-z]{2,}", re.IGNORECASE)
FOR_A_MAKER = ("Finding", "Problem", "_warning", "RefusedError", "checked", "Form")
"""What is wrong in a file is worded where it is found, and so is of what a figure is that is no number."""
WORDED = {
    "planning/used.py": "what sources are",
    "climate/moisture.py": "a finding, put together",
    "climate/beyond_log.py": "a finding, put together",
    "record/film_tested.py": "what is wrong in what was typed",
    "record/typed_air.py": "what is expected in what is typed",
    "record/shelf.py": "a note that an entry of the ledger holds",
    "timetable/explain.py": "a room that no shop has, in which is tried what would help",
    "timetable/help/hands.py": "a person who is in no shop, likewise",
    "timetable/operations.py": "what work is called",
    "timetable/portions.py": "what a portion is called",
    "timetable/rows.py": "what a row is called",
    "timetable/step_work.py": "what work is called",
    "timetable/problem.py": "what rules are called, which only whoever looks after the program reads",
    "timetable/recheck.py": "which rules a held plan breaks, likewise",
}
"""Modules in which words stand, and which."""


def _skipped(tree: ast.Module) -> set[int]:
    """Return what is no sentence of a plan: documentation, names of kinds, and what is raised or found wrong."""
    return {id(one) for node in nodes(tree) if _is_no_telling(node) for one in ast.walk(node)}


def _is_no_telling(node: ast.AST) -> bool:
    match node:
        case ast.Expr(value=ast.Constant()) | ast.Subscript(value=ast.Name("Literal")) | ast.Raise() | ast.Assert():
            return True
        case ast.Call():
            return ast.unparse(node.func).endswith((*FOR_A_MAKER, "Error", "__init__"))
        case ast.Assign():
            return ast.unparse(node.targets[0]) == "msg"
    return False


def _kinds() -> set[str]:
    """Return every name of a kind in the house: what a type lets a value be."""
    kinds: set[str] = set()
    for tree in trees().values():
        for node in nodes(tree):
            if isinstance(node, ast.Subscript) and isinstance(node.value, ast.Name) and node.value.id == "Literal":
                kinds |= {str(one.value) for one in ast.walk(node.slice) if isinstance(one, ast.Constant)}
    return kinds


def _sentences(tree: ast.Module, kinds: set[str]) -> Iterator[tuple[int, str]]:
    """Give the lines and the words of what looks like English for people."""
    skipped = _skipped(tree)
    for node in nodes(tree):
        if id(node) in skipped:
            continue
        if isinstance(node, ast.JoinedStr):
            skipped |= {id(one) for one in ast.walk(node)}
            words = "".join(str(one.value) if isinstance(one, ast.Constant) else "{}" for one in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            words = node.value
        else:
            continue
        if TWO_WORDS.search(words) and words not in kinds and not words.lstrip().startswith("<"):
            yield node.lineno, words


def test_what_reckons_words_nothing() -> None:
    kinds = _kinds()
    found = [
        f"{file.relative_to(HOUSE)}:{line}: {words}"
        for room in ROOMS
        for file in sorted((HOUSE / room).rglob("*.py"))
        if str(file.relative_to(HOUSE).as_posix()) not in WORDED
        for line, words in _sentences(trees()[file], kinds)
    ]
    assert found == []


def test_nothing_is_let_through_that_is_not_there() -> None:
    kinds = _kinds()
    for name in WORDED:
        assert list(_sentences(trees()[HOUSE / name], kinds)), name


def test_a_sentence_is_seen() -> None:
    text = 'x = f"{n} cloths are left"\ny = "too late"\n"""A note of it."""\nraise ValueError("not a plan")\n'
    assert [words for _, words in _sentences(ast.parse(text), {"too late"})] == ["{} cloths are left"]

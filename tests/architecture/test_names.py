"""A name of a class or a type means one thing in the whole house; one that begins with an underscore, in its module."""

from __future__ import annotations

import ast
from collections import defaultdict
from functools import cache
from pathlib import Path

import finplan

HOUSE = Path(finplan.__file__).parent
ALLOWED: dict[str, tuple[str, ...]] = {
    # What Python calls a plan is the plan, with pages.
    "Plan": ("face", "planning"),
    # Scheduling in general speaks as its literature does, and knows no other word of the house.
    "Problem": ("problems", "scheduling"),
    "Finish": ("catalogue", "scheduling"),
    # A row of the JSON, and the same as a row on paper, which is made of words.
    **dict.fromkeys(
        ("AirRow", "CautionRow", "ConsumableRow", "FaceRow", "PieceRow", "SourceRow", "StepRow"),
        ("data", "sheet"),
    ),
    # Of the plan, and what a page shows of it.
    "Condition": ("safety", "sheet"),
    "Danger": ("safety", "sheet"),
    "Tick": ("ledger", "sheet"),
}
"""Names that two rooms have, which, and why."""


@cache
def _rooms() -> dict[str, list[str]]:
    found: dict[str, list[str]] = defaultdict(list)
    for file in sorted(HOUSE.rglob("*.py")):
        room = file.relative_to(HOUSE).parts[0].removesuffix(".py")
        tree = ast.parse(file.read_text("utf-8"))
        classes = [node.name for node in ast.walk(tree) if isinstance(node, ast.ClassDef)]
        for name in (*classes, *filter(None, map(_alias, tree.body))):
            if not name.startswith("_"):
                found[name].append(room)
    return found


def _alias(node: ast.stmt) -> str | None:
    """Return the name that a statement gives to a type; None of any other statement."""
    if (
        not isinstance(node, ast.Assign)
        or isinstance(node.value, ast.Call)
        or not isinstance(node.targets[0], ast.Name)
    ):
        return None
    name = node.targets[0].id
    return name if name[0].isupper() and not name.isupper() else None


def test_a_type_has_its_name_to_itself() -> None:
    twice = {name: tuple(sorted(rooms)) for name, rooms in _rooms().items() if len(rooms) > 1}
    assert {name: rooms for name, rooms in twice.items() if ALLOWED.get(name) != rooms} == {}


def test_nothing_is_allowed_that_is_not_there() -> None:
    rooms = _rooms()
    assert [name for name in ALLOWED if len(rooms[name]) < 2] == []

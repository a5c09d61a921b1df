"""A name of a class, a type or a function means one thing in the whole house; with an underscore, in its module."""

from __future__ import annotations

import ast
from collections import defaultdict
from functools import cache

from tests.architecture.modules import HOUSE, nodes, trees

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
ALLOWED_FUNCTIONS: dict[str, tuple[str, ...]] = {
    # A command is named as it is typed.
    "plan": ("cli/files.py", "face.py"),
    "tags": ("cli/files.py", "tags/tag.py"),
}
"""Functions that two modules have, which, and why."""


@cache
def _rooms() -> dict[str, list[str]]:
    found: dict[str, list[str]] = defaultdict(list)
    for file, tree in trees().items():
        room = file.relative_to(HOUSE).parts[0].removesuffix(".py")
        classes = [node.name for node in nodes(tree) if isinstance(node, ast.ClassDef)]
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


def test_a_function_has_its_name_to_itself() -> None:
    modules: dict[str, list[str]] = defaultdict(list)
    for file, tree in trees().items():
        for node in tree.body:
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and not _is_registered(node):
                modules[node.name].append(file.relative_to(HOUSE).as_posix())
    twice = {name: tuple(files) for name, files in modules.items() if len(files) > 1 and not name.startswith("_")}
    assert twice == ALLOWED_FUNCTIONS


def _is_registered(node: ast.FunctionDef | ast.AsyncFunctionDef) -> bool:
    """Return whether it is called by what its decorator registers it with: a command is named as it is typed."""
    return any(not isinstance(decorator, ast.Name) for decorator in node.decorator_list)


def test_a_parameter_hides_no_function_of_its_module() -> None:
    """But for options of the command line, which are called as they are typed."""
    hidden: list[str] = []
    for file in sorted(HOUSE.rglob("*.py")):
        tree = ast.parse(file.read_text("utf-8"))
        functions = {node.name for node in tree.body if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)}
        names = {node.arg for node in ast.walk(tree) if isinstance(node, ast.arg)}
        hidden += [f"{file.relative_to(HOUSE)}: {name}" for name in functions & names if "cli" not in file.parts]
    assert hidden == []

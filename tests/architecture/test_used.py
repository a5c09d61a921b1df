"""What stands in the house is used in it, and what a face gives is asked for: what only tests use lives with tests."""

from __future__ import annotations

import ast
import re
from collections import Counter, defaultdict
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import finplan
from finplan.resources import data_dir

HOUSE = Path(finplan.__file__).parent
CALLED_BY_OTHERS = {
    # By a library, of a class of its own.
    *("capture_signals", "emit", "get_cache_key", "get_source_checksum", "load_bytecode", "dump_bytecode"),
    "on_solution_callback",
    "format_commands",
    # By whoever schedules something else: the example of the developers' page.
    "makespan",
}
"""Methods that nothing in the house calls by name, and who does."""
Use = tuple[str, str]
"""A module, and a name of it."""


@cache
def _trees() -> dict[Path, ast.Module]:
    return {file: ast.parse(file.read_text("utf-8")) for file in sorted(HOUSE.rglob("*.py"))}


def _module(file: Path) -> str:
    return ".".join(("finplan", *file.relative_to(HOUSE).with_suffix("").parts)).removesuffix(".__init__")


def _defined(tree: ast.Module) -> Iterator[tuple[str, ast.stmt]]:
    """Give the functions and constants of a module, and what defines each; types are what functions take and give."""
    for node in tree.body:
        match node:
            # What is registered by a decorator is called by whatever it is registered with.
            case ast.FunctionDef(name=name) | ast.AsyncFunctionDef(name=name) if all(
                isinstance(decorator, ast.Name) for decorator in node.decorator_list
            ):
                yield name, node
            case ast.Assign(targets=[ast.Name(id=name)]) | ast.AnnAssign(target=ast.Name(id=name)) if name.isupper():
                yield name, node


def _used(tree: ast.Module) -> Iterator[Use]:
    """Give what a file imports from modules of the house, or asks of one that it imports."""
    modules: dict[str, str] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("finplan"):
            for name in node.names:
                yield str(node.module), name.name
                modules[name.asname or name.name] = f"{node.module}.{name.name}"
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id in modules:
            yield modules[node.value.id], node.attr


def test_every_function_and_every_constant_is_used_in_the_house_or_in_a_template() -> None:
    used = {_module(file): Counter(_names(tree)) for file, tree in _trees().items()}
    for file, tree in _trees().items():
        if file.name != "__init__.py":  # a face only hands on
            used[_module(file)].update(name for _, name in _used(tree))
    given = {*finplan.__all__, *_in_templates()}
    among = Counter(name for names in used.values() for name in names)
    unused: list[str] = []
    for file, tree in _trees().items():
        module = _module(file)
        for name, node in _defined(tree):
            elsewhere = among[name] - (name in used[module])
            beside = used[module][name] - sum(own == name for own in _names(node))
            if not elsewhere and not beside and name not in given and not name.startswith("__"):
                unused.append(f"{module}.{name}")
    assert unused == []


def _names(tree: ast.AST) -> Iterator[str]:
    """Give the names that are read in a tree."""
    for node in ast.walk(tree):
        match node:
            case ast.Name(id=name, ctx=ast.Load()) | ast.Attribute(attr=name):
                yield name


def _in_templates() -> set[str]:
    templates = data_dir("templates").rglob("*.html")
    return {name for template in templates for name in re.findall(r"\w+", template.read_text("utf-8"))}


def test_every_method_is_called_in_the_house_or_in_a_template() -> None:
    called = {name for tree in _trees().values() for name in _names(tree)} | _in_templates()
    methods = {
        node.name: _module(file)
        for file, tree in _trees().items()
        for kind in ast.walk(tree)
        if isinstance(kind, ast.ClassDef)
        for node in kind.body
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
    }
    assert {name: module for name, module in methods.items() if name not in called | CALLED_BY_OTHERS} == {}
    assert CALLED_BY_OTHERS - methods.keys() | CALLED_BY_OTHERS & called == set()


def test_what_a_face_gives_is_asked_for_by_another_room_or_by_a_test() -> None:
    asked: dict[Use, set[str]] = defaultdict(set)
    for file, tree in _trees().items():
        for use in _used(tree):
            asked[use].add(_module(file))
    for file in Path(__file__).parents[1].rglob("*.py"):
        for use in _used(ast.parse(file.read_text("utf-8"))):
            asked[use].add("tests")
    unasked: list[str] = []
    for file, tree in _trees().items():
        room = _module(file)
        if file.name != "__init__.py" or room == "finplan":
            continue
        for name in _face(tree):
            outside = {module for module in asked[room, name] if not f"{module}.".startswith(f"{room}.")}
            if not outside and not (name[0].isupper() and not name.isupper()):
                unasked.append(f"{room}.{name}")
    assert unasked == []


def _face(tree: ast.Module) -> list[str]:
    for node in tree.body:
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__":
            names: list[str] = ast.literal_eval(node.value)
            return names
    return []

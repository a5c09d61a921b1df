"""What stands in the house is used in it, and what a face gives is asked for: what only tests use lives with tests."""

from __future__ import annotations

import ast
import re
from collections import Counter, defaultdict
from collections.abc import Iterator
from pathlib import Path

import finplan
from finplan.resources import data_dir
from tests.architecture.modules import HOUSE, nodes, trees

CALLED_BY_OTHERS = {
    # By a library, of a class of its own.
    *("capture_signals", "emit", "get_cache_key", "get_source_checksum", "load_bytecode", "dump_bytecode"),
    "on_solution_callback",
    "format_commands",
    # By whoever schedules something else: the example of the developers' page.
    "makespan",
}
"""Methods that nothing in the house calls by name, and who does."""
READ_OTHERWISE = {
    "is_a",  # what a row of a kind is, by which it is read back
    "control",  # matched by its place
    "detail",  # what the interface answers, by whoever asks it
}
"""Fields that nothing reads by name, and how they are."""
Use = tuple[str, str]
"""A module, and a name of it."""


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
    for node in nodes(tree):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("finplan"):
            for name in node.names:
                yield str(node.module), name.name
                modules[name.asname or name.name] = f"{node.module}.{name.name}"
    for node in nodes(tree):
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id in modules:
            yield modules[node.value.id], node.attr


def test_every_function_and_every_constant_is_used_in_the_house_or_in_a_template() -> None:
    used = {_module(file): Counter(_names(tree)) for file, tree in trees().items()}
    for file, tree in trees().items():
        if file.name != "__init__.py":  # a face only hands on
            used[_module(file)].update(name for _, name in _used(tree))
    given = {*finplan.__all__, *_in_templates()}
    among = Counter(name for names in used.values() for name in names)
    unused: list[str] = []
    for file, tree in trees().items():
        module = _module(file)
        for name, node in _defined(tree):
            elsewhere = among[name] - (name in used[module])
            beside = used[module][name] - (name in used[module] and sum(own == name for own in _names(node)))
            if not elsewhere and not beside and name not in given and not name.startswith("__"):
                unused.append(f"{module}.{name}")
    assert unused == []


def _names(tree: ast.AST) -> Iterator[str]:
    """Give the names that are read in a tree."""
    for node in nodes(tree):
        match node:
            case ast.Name(id=name, ctx=ast.Load()) | ast.Attribute(attr=name):
                yield name


def _in_templates() -> set[str]:
    templates = data_dir("templates").rglob("*.html")
    return {name for template in templates for name in re.findall(r"\w+", template.read_text("utf-8"))}


def test_every_method_is_called_in_the_house_or_in_a_template() -> None:
    called = {name for tree in trees().values() for name in _names(tree)} | _in_templates()
    methods = {
        node.name: _module(file)
        for file, tree in trees().items()
        for kind in nodes(tree)
        if isinstance(kind, ast.ClassDef)
        for node in kind.body
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
    }
    assert {name: module for name, module in methods.items() if name not in called | CALLED_BY_OTHERS} == {}
    assert CALLED_BY_OTHERS - methods.keys() | CALLED_BY_OTHERS & called == set()


def test_every_field_of_what_is_reckoned_is_read() -> None:
    """In the house, in a template, or as a key of the JSON; records and files are shown with all that they hold."""
    read = {
        *(name for tree in trees().values() for node in nodes(tree) for name in _read(node)),
        *(field for file, tree in trees().items() if "data" in file.parts for _, field in _fields(tree)),
        *_in_templates(),
    }
    reckoned = {file: tree for file, tree in trees().items() if not {"catalogue", "data", "inputs"} & {*file.parts}}
    fields = [(_module(file), kind, field) for file, tree in reckoned.items() for kind, field in _fields(tree)]
    assert len(fields) > 1000
    assert [field for field in fields if field[2] not in read | READ_OTHERWISE] == []


def _fields(tree: ast.Module) -> Iterator[tuple[str, str]]:
    for kind in nodes(tree):
        if isinstance(kind, ast.ClassDef):
            for node in kind.body:
                if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
                    yield kind.name, node.target.id


def _read(node: ast.AST) -> Iterator[str]:
    match node:
        case ast.Attribute(attr=name, ctx=ast.Load()):
            yield name
        case ast.MatchClass(kwd_attrs=names):
            yield from names


def test_what_a_face_gives_is_asked_for_by_another_room_or_by_a_test() -> None:
    asked: dict[Use, set[str]] = defaultdict(set)
    for file, tree in trees().items():
        for use in _used(tree):
            asked[use].add(_module(file))
    for file in Path(__file__).parents[1].rglob("*.py"):
        for use in _used(ast.parse(file.read_text("utf-8"))):
            asked[use].add("tests")
    unasked: list[str] = []
    for file, tree in trees().items():
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

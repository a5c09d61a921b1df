"""What the developers' page names is there: files, commands, functions, and every room on its floor."""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from tests.architecture.modules import nodes, trees
from tests.readme import ROOT

PAGE = (ROOT / "DEVELOPERS.md").read_text("utf-8")
PROSE = re.sub(r"```.*?```", "", PAGE, flags=re.DOTALL)
NAMED = list(dict.fromkeys(re.findall(r"`([^`\n]+)`", PROSE)))
FILE = re.compile(r"[\w*/.-]+\.(?:css|html|ipynb|js|json|md|py|svg|toml|txt|yaml)|[\w/.-]+/")
ELSEWHERE = {
    # Of another package, an address, and one for each of a kind.
    *("benchmark_instances.json", "/openapi.json", "catalogue/KIND.yaml"),
}
ROOMS = {file.stem for file in (ROOT / "finplan").iterdir() if file.suffix == ".py" or (file / "__init__.py").exists()}


@cache
def _files() -> tuple[str, ...]:
    tops = ("catalogue", "finplan", "templates", "tests")
    inside = (file for top in tops for file in (ROOT / top).rglob("*") if "__pycache__" not in file.parts)
    return tuple(file.relative_to(ROOT).as_posix() for file in (*ROOT.iterdir(), *inside))


@cache
def _words() -> frozenset[str]:
    """Return every name that stands in the code, the words of its texts among them: keys, fields of a file."""
    words: set[str] = set()
    for file in _files():
        if file.endswith(".py"):
            tree = trees().get(ROOT / file) or ast.parse((ROOT / file).read_text("utf-8"))
            for node in nodes(tree):
                words |= set(_in(node))
    return frozenset(words)


def _in(node: ast.AST) -> Iterator[str]:
    match node:
        case ast.FunctionDef(name=name) | ast.AsyncFunctionDef(name=name) | ast.ClassDef(name=name):
            yield name
        case ast.Name(id=name) | ast.Attribute(attr=name) | ast.arg(arg=name) | ast.alias(name=name):
            yield name
        case ast.Constant(value=str(text)) if len(text) < 200:
            yield from re.findall(r"[\w-]+", text)


def test_every_file_that_it_names_is_there() -> None:
    named = [name for name in NAMED if FILE.fullmatch(name) and name not in ELSEWHERE]
    assert len(named) > 100
    assert [name for name in named if not _is_there(name.rstrip("/"))] == []


def _is_there(name: str) -> bool:
    pattern = re.compile(rf"(?:.*/)?{re.escape(name).replace(chr(92) + '*', '[^/]*')}")
    return any(pattern.fullmatch(file) for file in _files())


def test_every_command_that_it_names_is_there() -> None:
    modules = set(re.findall(r"python -m (tests[\w.]*)", PAGE))
    assert len(modules) > 10
    homes = {module: module.replace(".", "/") for module in modules}
    assert [name for name, home in homes.items() if not {f"{home}.py", f"{home}/__main__.py"} & {*_files()}] == []


def test_every_name_of_the_code_is_there() -> None:
    commit = re.compile(r"[0-9a-f]{7}")
    called = [name for name in NAMED if not commit.fullmatch(name)]
    names = [name.removesuffix("()") for name in called if re.fullmatch(r"[A-Za-z_][\w.]*(?:\(\))?", name)]
    assert len(names) > 100
    stems = {Path(file).stem for file in _files()}
    gone = [name for name in names if name.rpartition(".")[2] not in _words() | stems and name not in ELSEWHERE]
    assert [name for name in gone if not FILE.fullmatch(name)] == []


def test_every_room_is_in_the_table() -> None:
    (table,) = re.findall(r"\| room \| holds \|\n\|---\|---\|\n((?:\|.*\n)+)", PAGE)
    told = {room.removesuffix(".py").rstrip("/") for row in table.splitlines() for room in _rooms_of(row)}
    assert told == ROOMS - {"__init__", "__main__"}


def _rooms_of(row: str) -> list[str]:
    return re.findall(r"`([\w/.]+)`", row.split("|")[1])


def test_the_drawing_has_the_floors_that_imports_are_held_to() -> None:
    contracts = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["importlinter"]["contracts"]
    floors = [{room.strip().removeprefix("finplan.") for room in floor.split("|")} for floor in contracts[0]["layers"]]
    (drawing,) = re.findall(r"```\n(cli  face .*?)```", PAGE, flags=re.DOTALL)
    drawn = [set(re.split(r"\s{2,}", line)) & ROOMS for line in drawing.splitlines()]
    assert drawn == floors

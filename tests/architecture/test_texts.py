"""Programs that tests run as a text import what is there: no reader of types looks into them."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path

_IMPORT = re.compile(r"^\s*from (finplan[\w.]*|tests[\w.]*) import ([\w, ]+)$", re.MULTILINE)


def _imported(text: str) -> Iterator[tuple[str, str]]:
    for module, names in _IMPORT.findall(text.replace(";", "\n")):
        yield from ((module, name.split()[0]) for name in names.split(",") if name.strip())


def test_what_they_import_is_there() -> None:
    asked = {
        imported
        for file in Path(__file__).parents[1].rglob("*.py")
        for node in ast.walk(ast.parse(file.read_text("utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
        for imported in _imported(node.value)
    }
    assert len(asked) > 10
    assert [named for named in sorted(asked) if not _is_there(*named)] == []


def _is_there(module: str, name: str) -> bool:
    return hasattr(import_module(module), name) or find_spec(f"{module}.{name}") is not None

"""The modules of the house as trees, read once for all tests that look at them."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

import finplan

HOUSE = Path(finplan.__file__).parent


@cache
def trees() -> dict[Path, ast.Module]:
    """Return the tree of every module, in order."""
    return {file: ast.parse(file.read_text("utf-8")) for file in sorted(HOUSE.rglob("*.py"))}


@cache
def nodes(tree: ast.AST) -> tuple[ast.AST, ...]:
    """Return all that is in a tree, as ``ast.walk`` gives it."""
    return tuple(ast.walk(tree))

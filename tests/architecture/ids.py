"""Where the code reads an id apart, or makes one beside ``finplan.system.ids``."""

from __future__ import annotations

import ast
from collections.abc import Iterator

from tests.architecture.modules import nodes

FIELDS = frozenset({"id", "of_step", "key", "stem", "kin", "dries", "work"})
"""Fields that hold an id, or what ids begin with."""
NAMES = frozenset({"id_", "step_id", "row_id", "operation_id"})
"""What one is called by itself."""
TAKING_APART = frozenset(
    {
        *("split", "rsplit", "partition", "rpartition", "splitlines", "find", "index", "rfind", "rindex", "count"),
        *(
            "removeprefix",
            "removesuffix",
            "startswith",
            "endswith",
            "strip",
            "lstrip",
            "rstrip",
            "replace",
            "translate",
        ),
    }
)
MATCHING = frozenset({"match", "fullmatch", "search", "split", "findall", "finditer", "sub"})


def read_apart(tree: ast.AST) -> Iterator[int]:
    """Give the lines in which a text that is an id is cut, searched, or asked how it begins or ends."""
    for node in nodes(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            method = node.func
            by_pattern = method.attr in MATCHING and any(map(_is_id, node.args))
            if by_pattern or (method.attr in TAKING_APART and _is_id(method.value)):
                yield node.lineno
        elif isinstance(node, ast.Subscript) and isinstance(node.slice, ast.Slice) and _is_id(node.value):
            yield node.lineno
        elif isinstance(node, ast.Compare) and _is_text(node.left) and any(map(_is_id, node.comparators)):
            yield from (node.lineno for sign in node.ops if isinstance(sign, ast.In | ast.NotIn))


def made(tree: ast.AST) -> Iterator[int]:
    """Give the lines in which an id is put together: an id in a text with more, which is no sentence."""
    for node in nodes(tree):
        if isinstance(node, ast.JoinedStr):
            values = [one.value for one in node.values if isinstance(one, ast.FormattedValue)]
            told = "".join(str(one.value) for one in node.values if isinstance(one, ast.Constant))
            if any(map(_is_id, values)) and len(node.values) > 1 and not any(letter.isspace() for letter in told):
                yield node.lineno
        elif isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add):
            both = (node.left, node.right)
            if any(map(_is_id, both)) and any(map(_is_text, both)):
                yield node.lineno


def _is_id(node: ast.AST) -> bool:
    return (isinstance(node, ast.Attribute) and node.attr in FIELDS) or (
        isinstance(node, ast.Name) and node.id in NAMES
    )


def _is_text(node: ast.AST) -> bool:
    return isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str))

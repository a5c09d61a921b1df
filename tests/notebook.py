"""The notebook of the guide: its cells are run one after the other, and what each shows is kept in it.

Run as a program, it writes what is shown today into the notebook; the test compares.
"""

from __future__ import annotations

import ast
import contextlib
import io
import json
import os
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from tests.readme import ROOT, prepare

NOTEBOOK = ROOT / "finplan" / "guide" / "from-python.ipynb"
_RICH = {"image/svg+xml": "_repr_svg_", "text/html": "_repr_html_"}
"""What a notebook shows in the place of the text, by its type, and how an object is asked for it."""


def run(notebook: dict[str, Any], folder: Path) -> dict[str, Any]:
    """Return a notebook with what its cells show when they are run in *folder*, beside the demo's files."""
    prepare(folder)
    names: dict[str, Any] = {}
    count = 0
    cells = []
    before = Path.cwd()
    os.chdir(folder)
    try:
        for cell in notebook["cells"]:
            if cell["cell_type"] == "code":
                count += 1
                shown = _shown("".join(cell["source"]), names, count)
                cell = {**cell, "execution_count": count, "outputs": shown}
            cells.append(cell)
    finally:
        os.chdir(before)
    return {**notebook, "cells": cells}


def _shown(source: str, names: dict[str, Any], count: int) -> list[dict[str, Any]]:
    """Run a cell; return what it prints, and what its last line is worth."""
    tree = ast.parse(source)
    end = tree.body[-1]
    last = end if isinstance(end, ast.Expr) else None
    tree.body = tree.body[: -1 if last else None]
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed):
        exec(compile(tree, "cell", "exec"), names)  # noqa: S102 - our own guide
        value = eval(compile(ast.Expression(last.value), "cell", "eval"), names) if last else None  # noqa: S307
    outputs: list[dict[str, Any]] = []
    if printed.getvalue():
        outputs.append({"output_type": "stream", "name": "stdout", "text": _lines(printed.getvalue())})
    if value is not None:
        data = {"text/plain": _lines(repr(value))}
        for kind, method in _RICH.items():
            if hasattr(value, method):
                data[kind] = _lines(getattr(value, method)())
        outputs.append({"output_type": "execute_result", "execution_count": count, "data": data, "metadata": {}})
    return outputs


def _lines(text: str) -> list[str]:
    return text.splitlines(keepends=True)


def written(notebook: dict[str, Any]) -> str:
    """Return a notebook as it stands in its file."""
    return json.dumps(notebook, indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    with TemporaryDirectory() as name:
        found = run(json.loads(NOTEBOOK.read_text(encoding="utf-8")), Path(name))
    NOTEBOOK.write_text(written(found), encoding="utf-8")

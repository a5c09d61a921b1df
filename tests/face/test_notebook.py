"""The notebook of the guide shows what is shown today, and is a notebook."""

from __future__ import annotations

import json
from pathlib import Path

from tests.notebook import NOTEBOOK, run, written


def test_every_cell_shows_what_stands_there(tmp_path: Path) -> None:
    text = NOTEBOOK.read_text(encoding="utf-8")
    assert written(run(json.loads(text), tmp_path)) == text


def test_it_has_the_fields_of_the_format() -> None:
    # nbformat 4.5, "The Jupyter Notebook Format": the top-level fields, and an id for every cell.
    notebook = json.loads(NOTEBOOK.read_text(encoding="utf-8"))
    assert (notebook["nbformat"], notebook["nbformat_minor"]) == (4, 5)
    assert len({cell["id"] for cell in notebook["cells"]}) == len(notebook["cells"])

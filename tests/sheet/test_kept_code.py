"""Templates kept as code: the same page from it, never a page of another text, and none kept where none may be."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from jinja2 import Environment, FileSystemLoader

from finplan.typesetting.kept_code import KeptCode


def page(folder: Path) -> str:
    """The page of a folder, by an environment that knows nothing of it yet."""
    environment = Environment(loader=FileSystemLoader(folder), autoescape=True)
    environment.bytecode_cache = KeptCode(folder, environment)
    return environment.get_template("part/page.html").render(name="Ash & oak")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    monkeypatch.setattr(sys, "pycache_prefix", None)
    (tmp_path / "part").mkdir()
    (tmp_path / "part" / "page.html").write_text("<p>{{ name }}</p>", encoding="utf-8")
    return tmp_path


def kept(folder: Path) -> list[Path]:
    return sorted(folder.rglob("*.pyc"))


def test_it_is_kept_once_and_used(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert page(folder) == "<p>Ash &amp; oak</p>"
    assert [file.name.partition(".cpython")[0] for file in kept(folder)] == ["part.page.html"]
    monkeypatch.setattr(Environment, "compile", None)
    assert page(folder) == "<p>Ash &amp; oak</p>"


def test_another_text_is_compiled_anew(folder: Path) -> None:
    page(folder)
    (folder / "part" / "page.html").write_text("<b>{{ name }}</b>", encoding="utf-8")
    assert page(folder) == "<b>Ash &amp; oak</b>"
    assert len(kept(folder)) == 1


@pytest.mark.parametrize("length", [0, 4, 30, 200])
def test_half_a_file_is_none(folder: Path, length: int) -> None:
    page(folder)
    (file,) = kept(folder)
    file.write_bytes(file.read_bytes()[:length])
    assert page(folder) == "<p>Ash &amp; oak</p>"


def test_nothing_is_kept_where_none_may_be(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (folder / "__pycache__").write_text("a file where the folder would be", encoding="utf-8")
    assert page(folder) == "<p>Ash &amp; oak</p>"
    (folder / "__pycache__").unlink()
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    assert page(folder) == "<p>Ash &amp; oak</p>"
    assert not kept(folder)

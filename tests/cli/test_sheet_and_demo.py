"""The sheet and the demo, end to end."""

from __future__ import annotations

import re
import sys
from datetime import date
from html import unescape
from pathlib import Path

import pytest
from pypdf import PdfReader

from finplan.demo import FILES, delivery_day, write_demo
from tests.conftest import Cli

FROM = ("--from", "2026-11-30")


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


@pytest.mark.parametrize("name", ["round-table", "hall-bench", "book-shelf"])
def test_every_demo_piece_makes_a_sheet(name: str, demo: Path, cli: Cli) -> None:
    output = demo / f"{name}.pdf"
    ended = cli("sheet", demo / f"{name}.yaml", *FROM, "-o", output)
    assert (ended.status, ended.err) == (0, "")
    assert ended.out == f"{output}: written\n"
    assert len(PdfReader(output).pages) >= 4


@pytest.mark.parametrize(("paper", "size_pt"), [("a4", (595.28, 841.89)), ("letter", (612.0, 792.0))])
def test_paper(paper: str, size_pt: tuple[float, float], demo: Path, cli: Cli) -> None:
    output = demo / "sheet.pdf"
    assert cli("sheet", demo / "hall-bench.yaml", "--paper", paper, *FROM, "-o", output).status == 0
    box = PdfReader(output).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(size_pt, abs=0.1)


def test_html(demo: Path, cli: Cli) -> None:
    output = demo / "sheet.html"
    assert cli("sheet", demo / "hall-bench.yaml", *FROM, "-o", output).status == 0
    assert output.read_text(encoding="utf-8").lstrip().lower().startswith("<!doctype html>")


@pytest.mark.parametrize(
    ("output", "words"),
    [("sheet.docx", "not '.docx'"), ("sheet", "not ''"), ("nowhere/sheet.pdf", "there is no folder")],
)
def test_an_output_that_cannot_be(output: str, words: str, demo: Path, cli: Cli) -> None:
    before = contents(demo)
    ended = cli("sheet", demo / "hall-bench.yaml", *FROM, "-o", demo / output)
    assert ended.status == 2
    assert words in ended.err
    assert contents(demo) == before


def test_no_sheet_where_nothing_fits(demo: Path, cli: Cli) -> None:
    output = demo / "sheet.pdf"
    ended = cli("sheet", demo / "hall-bench.yaml", *FROM, "--deliver", "2026-12-01", "-o", output)
    assert ended.status == 3
    assert "deliver by 2026-12-01" in ended.err
    assert not output.exists()


def text_of(file: Path) -> str:
    """Return the words of a page; that they are printed too is looked at in the room of the sheet."""
    text = re.sub(r"<(style|svg).*?</\1>|<[^>]+>", " ", file.read_text(encoding="utf-8"), flags=re.S)
    return " ".join(unescape(text).split())


def test_several_pieces_on_one_sheet(demo: Path, cli: Cli) -> None:
    output, shop = demo / "sheet.html", demo / "shop.yaml"
    files = [demo / "round-table.yaml", demo / "hall-bench.yaml"]
    assert cli("sheet", *files, "--shop", shop, *FROM, "-o", output).status == 0
    words = text_of(output)
    for said in ("Round table for the mill reading room and Hall bench", "A base: Coat 1", "B seat: Coat 1"):
        assert said in words


def test_the_sheet_of_what_is_left_after_a_lost_day(demo: Path, cli: Cli) -> None:
    """The sheet is printed anew when something came between: what was done is told, and is not planned again."""
    output, shop = demo / "sheet.html", demo / "shop.yaml"
    asked = ("sheet", demo / "round-table.yaml", "--shop", shop, "-o", output)
    done = ("--done", "base/hardwax-oil/2=2026-12-01 09:10", "--done", "top/hardwax-oil/2=2026-12-01 09:40")
    assert cli(*asked, "--from", "2026-12-02", "--asap", *done).status == 0
    words = text_of(output)
    assert "Done already" in words
    assert "base: sand bare wood and coat 1, until Tue 1 Dec 09:10" in words
    assert "base: Coat 2" in words
    assert "base: Coat 1" not in words
    before = output.read_bytes()
    assert cli(*asked, "--from", "2026-12-02", "--asap", *done, "--lose", "2026-12-02").status == 0
    assert output.read_bytes() != before
    assert "Wednesday 2 December" not in text_of(output)


def test_a_step_that_is_none(demo: Path, cli: Cli) -> None:
    ended = cli("sheet", demo / "round-table.yaml", *FROM, "--done", "base/hardwax-oil/22", "-o", demo / "sheet.pdf")
    assert ended.status == 2
    assert "'base/hardwax-oil/22' is no step; did you mean 'base/hardwax-oil/2'" in ended.err
    assert not (demo / "sheet.pdf").exists()


def test_demo(tmp_path: Path, cli: Cli) -> None:
    folder = tmp_path / "try"
    ended = cli("demo", folder)
    assert (ended.status, ended.err) == (0, "")
    assert {path.name for path in folder.iterdir()} == {*FILES, "hall-bench.pdf", "finplan.ledger"}
    assert f"finplan areas {folder / 'hall-bench.yaml'}" in ended.out
    written = contents(folder)
    assert cli("demo", folder).status == 0
    assert contents(folder) == written


def test_the_demo_is_a_workshop_whose_printed_plan_is_the_one_that_commands_show(tmp_path: Path, cli: Cli) -> None:
    folder = tmp_path / "try"
    cli("demo", folder)
    piece, again = folder / "hall-bench.yaml", folder / "again.pdf"
    assert "Shop: Heron Yard workshop." in cli("timetable", piece).out
    assert cli("sheet", piece, "-o", again).status == 0
    assert again.read_bytes() == (folder / "hall-bench.pdf").read_bytes()


def test_demo_never_overwrites_what_was_changed(tmp_path: Path, cli: Cli) -> None:
    folder = tmp_path / "try"
    cli("demo", folder)
    for name in ("hall-bench.yaml", "shop.yaml", "hall-bench.pdf"):
        changed = folder / name
        changed.write_bytes(changed.read_bytes() + b"\n# mine\n")
    mine = contents(folder)
    ended = cli("demo", folder)
    assert ended.status == 0
    assert "hall-bench.yaml: kept, because it was changed" in ended.out
    assert contents(folder) == mine


def test_demo_into_a_file(tmp_path: Path, cli: Cli) -> None:
    (tmp_path / "try").write_text("not a folder", encoding="utf-8")
    ended = cli("demo", tmp_path / "try")
    assert ended.status == 2
    assert "cannot be written" in ended.err


def test_a_delivery_that_has_passed_is_renewed(tmp_path: Path) -> None:
    write_demo(tmp_path, date(2026, 11, 24))
    done = {file.path.name: file.done for file in write_demo(tmp_path, date(2027, 6, 1))}
    assert done["hall-bench.yaml"] == "written"
    assert done["shop.yaml"] == "there already"
    assert delivery_day(date(2027, 6, 1)).isoformat() in (tmp_path / "hall-bench.yaml").read_text(encoding="utf-8")


@pytest.mark.usefixtures("own_press")
def test_without_the_page_renderer(demo: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    (demo / "lost").mkdir()
    lost = "print('-----')\nraise OSError(\"cannot load library 'libpango-1.0-0': no such file\")\n"
    (demo / "lost" / "weasyprint.py").write_text(lost, encoding="utf-8")
    for name in [name for name in sys.modules if name.split(".")[0] == "weasyprint"]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.syspath_prepend(demo / "lost")
    output = demo / "sheet.pdf"
    ended = cli("sheet", demo / "hall-bench.yaml", *FROM, "-o", output)
    assert ended.status == 2
    for words in ("libpango-1.0-0 is missing", "apt install", "dnf install pango", "brew install pango", "MSYS2"):
        assert words in ended.err
    assert not output.exists()
    assert cli("sheet", demo / "hall-bench.yaml", *FROM, "-o", demo / "sheet.html").status == 0
    tried = cli("demo", demo / "new")
    assert tried.status == 0
    assert (demo / "new" / "hall-bench.html").exists()


def test_a_hostile_piece(tmp_path: Path, cli: Cli) -> None:
    secret = tmp_path / "secret.txt"
    secret.write_text("the-secret", encoding="utf-8")
    file = tmp_path / "piece.yaml"
    name = f"<img src='file://{secret}'><script>alert(1)</script>"
    file.write_text(
        f'piece: "{name}"\ncustomer: "<link rel=attachment href=file://{secret}>"\ntimber: ash\nsystem: wax\n'
        "parts:\n  '<b>top</b>': {shape: rod, diameter: 30 mm, length: 400 mm}\n",
        encoding="utf-8",
    )
    for output in (tmp_path / "sheet.pdf", tmp_path / "sheet.html"):
        assert cli("sheet", file, *FROM, "-o", output).status == 0
        assert b"the-secret" not in output.read_bytes()
    html = (tmp_path / "sheet.html").read_text(encoding="utf-8")
    assert "<script>alert" not in html
    assert "<b>top</b>" not in html
    text = "".join(page.extract_text() for page in PdfReader(tmp_path / "sheet.pdf").pages)
    assert "alert(1)" in text

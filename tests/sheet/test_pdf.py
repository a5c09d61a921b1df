"""The printed file: what can be read in it, its pages, fonts and bytes, and what happens where it cannot be made."""

from __future__ import annotations

import builtins
import filecmp
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

import finplan
from finplan.cli.sheet import write_sheet
from finplan.planning import Plan
from finplan.problems import NotPossibleError
from finplan.sheet import sheet_html
from finplan.typesetting import write_pdf
from finplan.whole_file import write_whole
from tests.conftest import Cli
from tests.sheet.conftest import BLEND, COLD_SHOP


def words_of(file: Path) -> str:
    """All text of a file, white space made single: lines break anywhere."""
    return " ".join(" ".join(page.extract_text() for page in PdfReader(file).pages).split())


def fonts_of(file: Path) -> set[str]:
    pages: list[Any] = list(PdfReader(file).pages)
    fonts = [font.get_object() for page in pages for font in page["/Resources"]["/Font"].values()]
    return {font["/BaseFont"].partition("+")[2] for font in fonts}


def test_pages_are_numbered_and_headed(table_pdf: Path) -> None:
    pages = PdfReader(table_pdf).pages
    second = pages[1].extract_text()
    assert f"Page 2 of {len(pages)}" in second
    assert "Reading table, village library" in second
    assert "deliver Fri 12 Mar 15:00" in second


@pytest.mark.parametrize(
    ("pdf", "size_mm", "source"),
    [("table_pdf", (210, 297), "ISO 216, A4"), ("hostile_pdf", (215.9, 279.4), "ANSI Y14.1, size A: 8.5 by 11 in")],
)
def test_page_size(pdf: str, size_mm: tuple[float, float], source: str, request: pytest.FixtureRequest) -> None:
    for page in PdfReader(request.getfixturevalue(pdf)).pages:
        found = (float(page.mediabox.width) / 72 * 25.4, float(page.mediabox.height) / 72 * 25.4)
        assert found == pytest.approx(size_mm, abs=0.01), source


def test_only_the_bundled_fonts_are_embedded(table_pdf: Path) -> None:
    assert fonts_of(table_pdf) == {"Sheet", "Sheet-Semi-Bold"}


def test_title_and_no_date(table_pdf: Path) -> None:
    metadata = PdfReader(table_pdf).metadata
    assert metadata is not None
    assert metadata.title == "Finishing schedule: Reading table, village library"
    assert metadata.creation_date is None


def test_the_same_plan_gives_the_same_bytes(table: Plan, table_pdf: Path, tmp_path: Path) -> None:
    write_pdf(sheet_html(table, with_appendix=True), tmp_path / "again.pdf")
    assert (tmp_path / "again.pdf").read_bytes() == table_pdf.read_bytes()


def _files(folder: Path) -> list[str]:
    """Write a piece and a shop to a folder, and return how its sheet is asked for there."""
    folder.mkdir()
    (folder / "piece.yaml").write_text(BLEND, encoding="utf-8")
    (folder / "shop.yaml").write_text(COLD_SHOP, encoding="utf-8")
    return ["sheet", "piece.yaml", "--shop", "shop.yaml", "--from", "2027-02-01", "-o", "sheet.pdf"]


@pytest.mark.skipif(not hasattr(time, "tzset"), reason="the time zone of a process is of POSIX")
def test_another_process_elsewhere_gives_the_same_bytes(
    tmp_path: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever the time zone and the language of the machine, and the order of sets, which here is one of chance."""
    here, there = tmp_path / "here", tmp_path / "there"
    run = _files(here)
    assert _files(there) == run
    machine = {"PYTHONHASHSEED": "2", "TZ": "America/St_Johns", "LC_ALL": "de_DE.UTF-8", "PYTHONUTF8": "1"}
    environment = {**os.environ, **machine, "PYTHONPATH": str(Path(finplan.__file__).parents[1])}
    other = subprocess.Popen(
        [sys.executable, "-m", "finplan", *run], cwd=there, env=environment, stdout=subprocess.PIPE
    )
    try:
        with monkeypatch.context() as patch:
            patch.setenv("TZ", "Asia/Tokyo")
            time.tzset()
            patch.chdir(here)
            assert cli(*run).status == 0
    finally:
        time.tzset()
        other.communicate(timeout=180)
    assert other.returncode == 0
    assert filecmp.cmp(
        here / "sheet.pdf", there / "sheet.pdf", shallow=False
    )  # whose bytes would take minutes to set beside


def test_hostile_names_are_words(hostile_pdf: Path) -> None:
    text = words_of(hostile_pdf)
    assert "<script>alert(1)</script> <img src=http://example.invalid/x.png>" in text
    assert "{{ 7*7 }}" in text
    assert "root:" not in text
    assert not any("/EmbeddedFiles" in str(page) or page.images for page in PdfReader(hostile_pdf).pages)


def test_letters_that_the_fonts_lack_are_no_failure(foreign: Plan, tmp_path: Path) -> None:
    write_pdf(sheet_html(foreign), tmp_path / "sheet.pdf")
    metadata = PdfReader(tmp_path / "sheet.pdf").metadata
    assert metadata is not None
    assert metadata.title == "Finishing schedule: Table for ไทย"


def test_letters_that_the_fonts_lack_are_told(table: Plan, foreign: Plan, tmp_path: Path) -> None:
    output = tmp_path / "sheet.html"
    told = write_sheet(foreign, output)
    assert told == f"{output}: written\nThe sheet's own font lacks ไทย, which may print as boxes."
    assert write_sheet(table, output) == f"{output}: written"


@pytest.mark.parametrize("address", ["file:///etc/hostname", "http://example.invalid/x.png", "relative.png"])
def test_no_address_is_followed(address: str, tmp_path: Path) -> None:
    html = f'<!DOCTYPE html><html lang="en"><title>x</title><img alt="x" src="{address}">'
    with pytest.raises(NotPossibleError, match="complains"):
        write_pdf(html, tmp_path / "sheet.pdf")
    assert list(tmp_path.iterdir()) == []


_watched: list[str] | None = None


def _watch(event: str, arguments: tuple[Any, ...]) -> None:
    """Note what is opened, asked of the network or run, but for the program itself and the data that a page carries."""
    if _watched is None:
        return
    if event == "open" and isinstance(arguments[0], str):
        # The renderer's own scratch folder is opened by its bare name when it is cleared away.
        own = (sys.prefix, sys.base_prefix, tempfile.gettempdir(), str(Path(__file__).parents[2]), "weasyprint-")
        if not arguments[0].startswith(own):
            _watched.append(arguments[0])
    elif event == "urllib.Request" and arguments[0].startswith("data:"):
        return
    elif event.startswith(("socket.", "subprocess.", "os.system", "urllib.", "http.")):
        _watched.append(event)


@contextmanager
def watched() -> Iterator[list[str]]:
    """Give a list that fills with what the process reads meanwhile."""
    global _watched
    found: list[str] = []
    _watched = found
    try:
        yield found
    finally:
        _watched = None


def test_names_that_are_addresses_are_not_followed(hostile: Plan, tmp_path: Path) -> None:
    sys.addaudithook(_watch)  # which stays, and does nothing but here
    with watched() as found:
        write_pdf(sheet_html(hostile), tmp_path / "sheet.pdf")
    assert found == []
    with watched() as found, pytest.raises(OSError, match="nothing"):
        Path("/etc/nothing").read_bytes()
    assert found == ["/etc/nothing"]


def test_without_pango_it_says_what_to_get(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    real = builtins.__import__

    def without_pango(name: str, *arguments: Any, **more: Any) -> Any:
        if name == "weasyprint":
            print("-----\nWeasyPrint could not import some external libraries.")  # noqa: T201
            raise OSError("cannot load library 'libpango-1.0-0'")
        return real(name, *arguments, **more)

    monkeypatch.delitem(sys.modules, "weasyprint", raising=False)
    monkeypatch.setattr(builtins, "__import__", without_pango)
    with pytest.raises(NotPossibleError) as found:
        write_pdf("<p>words</p>", tmp_path / "sheet.pdf")
    for words in (
        "apt install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0",
        "dnf install pango",
        "brew install pango",
        "pacman -S mingw-w64-x86_64-pango",
        "WEASYPRINT_DLL_DIRECTORIES",
        "-o FILE.html",
    ):
        assert words in str(found.value)
    assert capsys.readouterr().out == ""
    assert list(tmp_path.iterdir()) == []


def test_a_file_is_written_whole_or_not_at_all(tmp_path: Path) -> None:
    file = tmp_path / "sheet.html"
    write_whole(b"first", file)
    write_whole(b"second", file)
    assert file.read_text(encoding="utf-8") == "second"
    assert list(tmp_path.iterdir()) == [file]
    (tmp_path / "folder.html").mkdir()
    with pytest.raises(NotPossibleError, match="cannot be written"):
        write_whole(b"third", tmp_path / "folder.html")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["folder.html", "sheet.html"]

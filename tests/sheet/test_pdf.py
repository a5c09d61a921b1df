"""The printed file: what can be read in it, its pages, fonts and bytes, and what happens where it cannot be made."""

from __future__ import annotations

import builtins
import sys
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from finplan.cli.sheet import write_sheet
from finplan.plan import Plan
from finplan.problems import NotPossibleError
from finplan.sheet import sheet_html, write_pdf
from finplan.sheet.words import not_before, show_clock, show_decant, show_long_day, show_moment
from finplan.showing import show_area
from finplan.used import caution_sources
from finplan.whole_file import write_whole


def words_of(file: Path) -> str:
    """All text of a file, white space made single: lines break anywhere."""
    return " ".join(" ".join(page.extract_text() for page in PdfReader(file).pages).split())


def fonts_of(file: Path) -> set[str]:
    pages: list[Any] = list(PdfReader(file).pages)
    fonts = [font.get_object() for page in pages for font in page["/Resources"]["/Font"].values()]
    return {font["/BaseFont"].partition("+")[2] for font in fonts}


def without_breaks(text: str) -> str:
    return text.replace(" ", "")


@pytest.mark.parametrize(
    ("plan", "pdf"), [("table", "table_pdf"), ("hostile", "hostile_pdf"), ("two_pieces", "two_pieces_pdf")]
)
def test_everything_planned_is_printed(plan: str, pdf: str, request: pytest.FixtureRequest) -> None:
    found: Plan = request.getfixturevalue(plan)
    text = without_breaks(words_of(request.getfixturevalue(pdf)))
    wanted: list[str] = [found.digest, *(piece.name for piece in found.pieces)]
    wanted += [piece.source.piece.customer or "" for piece in found.pieces]
    for step in found.timetable.steps:
        if step.deed == "clean-up":
            wanted.append("Clean up with")
        elif step.kind == "attended":
            wanted += [f"{step.item}: {step.step[:1].upper()}{step.step[1:]}", show_long_day(step.start.date())]
            wanted += [f"{show_clock(step.start)}–", show_clock(step.end), step.person or "", step.room]
        elif step.next_from is not None:
            wanted.append(show_moment(not_before(step.end)))
    for need in found.materials.materials:
        finish = found.catalogue.finishes[need.material]
        wanted.append(finish.title)
        for coat in need.coats:
            wanted.append(show_decant(coat.needed_ml.high, found.units))
            if finish.mix is None:
                wanted.append(show_decant(coat.needed_ml.typical, found.units))
    wanted += [one.title.partition(" (")[0] for one in found.materials.consumables]
    wanted += [tick.text for tick in found.safety.ticks]
    for line in found.cautions:
        wanted += [line.title, line.text, line.reason]
        wanted += [found.catalogue.sources[key].title for key in caution_sources(found, line)]
    for piece in found.pieces:
        wanted += [step.grit for group in piece.sanding.groups for step in group.steps]
        for part in piece.surface.parts:
            wanted += [f"{face.face}{face.exposure}{show_area(face.area_m2, found.units)}" for face in part.faces]
    for treatment in found.treatments:
        wanted += found.catalogue.systems[treatment.system].care
    missing = [words for words in wanted if without_breaks(words) not in text]
    assert not missing


def test_pages_are_numbered_and_headed(table_pdf: Path) -> None:
    pages = PdfReader(table_pdf).pages
    second = pages[1].extract_text()
    assert f"Page 2 of {len(pages)}" in second
    assert "Reading table, village library" in second
    assert "Deliver Fri 12 Mar 15:00" in second


@pytest.mark.parametrize(
    ("pdf", "size_mm", "source"),
    [("table_pdf", (210, 297), "ISO 216, A4"), ("hostile_pdf", (215.9, 279.4), "ANSI Y14.1, size A: 8.5 by 11 in")],
)
def test_page_size(pdf: str, size_mm: tuple[float, float], source: str, request: pytest.FixtureRequest) -> None:
    for page in PdfReader(request.getfixturevalue(pdf)).pages:
        found = (float(page.mediabox.width) / 72 * 25.4, float(page.mediabox.height) / 72 * 25.4)
        assert found == pytest.approx(size_mm, abs=0.01), source


def test_only_the_bundled_fonts_are_embedded(table_pdf: Path) -> None:
    assert fonts_of(table_pdf) == {"Sheet", "Sheet-Italic", "Sheet-Semi-Bold"}


def test_it_is_tagged(table_pdf: Path) -> None:
    root: Any = PdfReader(table_pdf).trailer["/Root"]
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"]
    tags, alts = set(), []
    waiting: list[Any] = [root["/StructTreeRoot"]]
    while waiting:
        node = waiting.pop().get_object()
        if isinstance(node, list):
            waiting += node
        elif isinstance(node, dict):
            tags.add(node.get("/S"))
            alts += [str(node["/Alt"])] if "/Alt" in node else []
            waiting += [node["/K"]] if "/K" in node else []
    assert {"/H1", "/H2", "/H3", "/Table", "/TH", "/TD", "/Figure"} <= tags
    assert any(alt.startswith("top: sand bare wood") for alt in alts)


def test_title_and_no_date(table_pdf: Path) -> None:
    metadata = PdfReader(table_pdf).metadata
    assert metadata is not None
    assert metadata.title == "Finishing schedule: Reading table, village library"
    assert metadata.creation_date is None


def test_the_same_plan_gives_the_same_bytes(table: Plan, table_pdf: Path, tmp_path: Path) -> None:
    write_pdf(sheet_html(table), tmp_path / "again.pdf")
    assert (tmp_path / "again.pdf").read_bytes() == table_pdf.read_bytes()


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
def test_no_address_is_followed(address: str, table: Plan, tmp_path: Path) -> None:
    html = sheet_html(table).replace("<h2>", f'<img alt="" src="{address}"><h2>', 1)
    with pytest.raises(NotPossibleError, match="complains"):
        write_pdf(html, tmp_path / "sheet.pdf")
    assert list(tmp_path.iterdir()) == []


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

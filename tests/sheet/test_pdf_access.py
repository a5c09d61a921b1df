"""The printed file as it is read aloud: PDF/UA-1 (ISO 14289-1), as far as a test can see it.

The clauses named are those of ISO 14289-1:2014; how structure is written down is ISO 32000-1, section 14.8.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream

from finplan.planning import Plan
from finplan.sheet import sheet_html
from finplan.typesetting import write_pdf

FILES = ("hostile_pdf", "two_pieces_pdf", "two_systems_pdf")
UA = "{http://www.aiim.org/pdfua/ns/id/}part"
DC_TITLE = ".//{http://purl.org/dc/elements/1.1/}title//{http://www.w3.org/1999/02/22-rdf-syntax-ns#}li"
SHOWN = {
    b"Tj",
    b"TJ",
    b"'",
    b'"',
    b"Do",
    b"BI",
    b"INLINE IMAGE",
    b"sh",
    b"f",
    b"F",
    b"f*",
    b"S",
    b"s",
    b"B",
    b"B*",
    b"b",
}
"""Operators that put something on the paper. ISO 32000-1, annex A."""


@dataclass(frozen=True, slots=True)
class Node:
    """An element of the structure, and those in it."""

    kind: str
    entries: Any
    children: tuple[Node, ...]

    def all(self) -> Iterator[Node]:
        """Yield it and everything in it, in reading order."""
        yield self
        for child in self.children:
            yield from child.all()

    def kinds(self) -> list[str]:
        return [child.kind for child in self.children]


@pytest.fixture(scope="module")
def two_systems_pdf(two_systems: Plan, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The printed sheet of a piece with two systems, whose care card is set closer."""
    file = tmp_path_factory.mktemp("pdf") / "two-systems.pdf"
    write_pdf(sheet_html(two_systems, with_appendix=True), file)
    return file


@pytest.fixture(scope="module", params=FILES)
def reader(request: pytest.FixtureRequest) -> PdfReader:
    """A printed sheet."""
    file: Path = request.getfixturevalue(request.param)
    return PdfReader(file)


@pytest.fixture(scope="module")
def catalog(reader: PdfReader) -> Any:
    """Its document catalogue."""
    return reader.trailer["/Root"]


@pytest.fixture(scope="module")
def structure(catalog: Any) -> Node:
    """The structure that is read aloud."""
    (top,) = _nodes(catalog["/StructTreeRoot"]["/K"])
    return top


def _nodes(found: Any) -> tuple[Node, ...]:
    found = found.get_object()
    if isinstance(found, list):
        return tuple(node for one in found for node in _nodes(one))
    if isinstance(found, dict) and "/S" in found:
        return (Node(str(found["/S"])[1:], found, _nodes(found["/K"]) if "/K" in found else ()),)
    return ()


def test_it_says_what_it_is(catalog: Any) -> None:
    """Clauses 5, 6.2, 7.1 and 7.2."""
    assert catalog["/MarkInfo"]["/Marked"]
    assert not catalog["/MarkInfo"].get("/Suspects", False)
    assert catalog["/Lang"] == "en"
    assert catalog["/ViewerPreferences"]["/DisplayDocTitle"]
    about = ElementTree.fromstring(catalog["/Metadata"].get_object().get_data().decode())  # noqa: S314
    assert [one.attrib[UA] for one in about.iter() if UA in one.attrib] == ["1"]
    title = about.find(DC_TITLE)
    assert title is not None
    assert (title.text or "").startswith("Finishing schedule: ")


def test_headings_go_down_one_level_at_a_time(structure: Node) -> None:
    """Clause 7.4.2."""
    levels = [int(node.kind[1]) for node in structure.all() if node.kind in ("H1", "H2", "H3", "H4", "H5", "H6")]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_tables_are_rows_of_cells_with_heads(structure: Node) -> None:
    """Clause 7.5; ISO 32000-1, table 337."""
    tables = [node for node in structure.all() if node.kind == "Table"]
    assert len(tables) > 8
    for table in tables:
        assert set(table.kinds()) <= {"THead", "TBody", "TFoot", "TR", "Caption"}
        rows = [row for row in table.all() if row.kind == "TR"]
        assert len(rows) > 1 or not any(part.kind == "THead" for part in table.children)
        assert all(set(row.kinds()) <= {"TH", "TD"} and row.children for row in rows)
        heads = [cell for row in rows for cell in row.children if cell.kind == "TH"]
        assert heads
        assert all(_is_read(cell) for cell in heads), "a column without a name"


def test_every_head_says_whether_it_heads_a_column_or_a_row(structure: Node) -> None:
    """Clause 7.5; ISO 32000-1, table 349."""
    for table in (node for node in structure.all() if node.kind == "Table"):
        for part in table.children:
            cells = [cell for cell in part.all() if cell.kind in ("TH", "TD")]
            assert not any("/Headers" in cell.entries["/A"] for cell in cells), "which would come before the scope"
            scopes = {str(cell.entries["/A"]["/Scope"]) for cell in cells if cell.kind == "TH"}
            assert scopes <= ({"/Column"} if part.kind == "THead" else {"/Row"})


def test_every_drawing_has_words(structure: Node) -> None:
    """Clause 7.3."""
    figures = [node for node in structure.all() if node.kind == "Figure"]
    assert len(figures) > 8
    for figure in figures:
        assert str(figure.entries["/Alt"]).strip()


def test_lists_are_items_with_label_and_body(structure: Node) -> None:
    """Clause 7.6; ISO 32000-1, table 336."""
    items = 0
    for node in structure.all():
        if node.kind == "L":
            assert set(node.kinds()) == {"LI"}
            assert all(item.kinds() in (["Lbl", "LBody"], ["LBody"]) for item in node.children)
            items += len(node.children)
        else:
            assert "LI" not in node.kinds()
    assert items


def test_everything_shown_is_tagged_or_an_artifact(reader: PdfReader, catalog: Any) -> None:
    """Clause 7.1; ISO 32000-1, section 14.7.4.4: the parent tree knows the element of every numbered content."""
    of_page = catalog["/StructTreeRoot"]["/ParentTree"]["/Nums"]
    elements = dict(zip(of_page[::2], of_page[1::2], strict=True))
    pages: list[Any] = list(reader.pages)
    for number, page in enumerate(pages):
        assert page["/Tabs"] == "/S"
        assert page["/StructParents"] == number
        open_marks: list[str] = []
        numbers: list[int] = []
        for operands, operator in ContentStream(page["/Contents"].get_object(), reader).operations:
            if operator in (b"BDC", b"BMC"):
                open_marks.append(str(operands[0]))
                if operator == b"BDC" and "/MCID" in operands[1]:
                    numbers.append(int(operands[1]["/MCID"]))
            elif operator == b"EMC":
                open_marks.pop()
            elif operator in SHOWN:
                assert len(open_marks) == 1, (number, operator)
        assert open_marks == []
        assert sorted(numbers) == list(range(len(elements[number].get_object())))


def test_every_font_tells_its_letters(reader: PdfReader) -> None:
    """Clause 7.21: fonts are embedded, and every glyph maps to Unicode."""
    pages: list[Any] = list(reader.pages)
    fonts = [font.get_object() for page in pages for font in page["/Resources"]["/Font"].values()]
    assert fonts
    for font in fonts:
        assert "/ToUnicode" in font
        (descendant,) = font["/DescendantFonts"]
        assert {"/FontFile2", "/FontFile3"} & set(descendant.get_object()["/FontDescriptor"])


def test_it_has_an_outline(reader: PdfReader) -> None:
    """Not of the standard: whoever hears a long file jumps by its headings."""
    outline: list[Any] = reader.outline
    titles = [entry["/Title"] for entry in outline[1] if not isinstance(entry, list)]
    parts = ["Days", "Safety", "Sanding", "Buy and mix", "Appendix"]
    # the card of one piece stands where it fits, behind the days or at the end; those of several customers there
    several = titles.count("Care card") > 1
    card = 4 if several or titles.index("Care card") > titles.index("Safety") else 1
    parts.insert(card, "Care card")
    assert list(dict.fromkeys(title for title in titles if title in parts)) == parts


def _is_read(node: Node) -> bool:
    """Whether anything is said of an element: content of its own, or of one within, or a text instead of a drawing."""
    return any("/Alt" in one.entries or isinstance(kid, int) for one in node.all() for kid in one.entries.get("/K", ()))

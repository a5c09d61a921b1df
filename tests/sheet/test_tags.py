"""Part tags: one for every coat, each inside its label, whatever the names and the sheet of labels."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any, cast

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from finplan.inputs.labels import PAPER_MM, Labels, lengths_in
from finplan.moments import not_before, show_moment
from finplan.planning import Plan
from finplan.reading import validate
from finplan.tags import Tag, TagSheets, on_sheets, sheets_html, tag_sheets, tags
from finplan.typesetting import write_pdf

MM_PER_PT = 25.4 / 72


def labels(**fields: object) -> Labels:
    found, findings = validate(Labels, fields)
    assert found is not None, findings
    return found


SHEET = labels(
    rows=7, columns=3, margins=["15.15 mm", "7.25 mm"], gaps=["0 mm", "2.5 mm"], **{"cut-lines": False}
)  # 63.5 x 38.1 mm, a common size of office labels: (210 - 2 x 7.25 - 2 x 2.5) / 3 and (297 - 2 x 15.15) / 7


def test_every_coat_has_a_tag_in_its_turn(table: Plan) -> None:
    coats = [step for step in table.timetable.steps if step.deed == "coat" and step.kind == "attended"]
    found = tags(table)
    assert [(tag.part, tag.put_on) for tag in found] == [(row.item, show_moment(row.start)) for row in coats]
    for tag, row in zip(found, coats, strict=True):
        fit = row.handle_from if "Coat 2 of 2" in tag.coat else row.next_from
        assert fit is not None
        assert (tag.caution, tag.moment) == ("Wet. Do not touch before", show_moment(not_before(fit)))


def test_the_last_coat_says_when_it_may_be_handed_over_and_the_others_what_comes(table: Plan) -> None:
    ready = show_moment(not_before(table.timetable.pieces[0].ready))
    for tag in tags(table):
        if "Coat 2 of 2" in tag.coat:
            together = next(step for step in table.timetable.steps if step.deed == "put-together")
            assert tag.then == f"Then put together, {show_moment(together.start)}."
            assert tag.hand_over == f"Hand over after {ready}."
        else:
            abrading = next(step for step in table.timetable.steps if step.deed == "abrade" and step.item == tag.part)
            assert (tag.then, tag.hand_over) == (f"Then abrade P320, {show_moment(abrading.start)}.", "")


def test_loose_parts_are_hung_one_by_one(hostile: Plan) -> None:
    rails = [" ".join(tag.number.split()) for tag in tags(hostile) if tag.part.startswith("rail")]
    assert set(rails) == {"1 of 4", "2 of 4", "3 of 4", "4 of 4"}
    assert {tag.number for tag in tags(hostile) if not tag.part.startswith("rail")} == {""}


def test_a_side_is_turned_over(doors: Plan) -> None:
    first = [tag for tag in tags(doors) if "first side" in tag.coat]
    assert first
    for tag in first:
        assert tag.caution == "Wet. Do not turn over before"
        assert tag.then.startswith("Then ")
    assert any("other side" in tag.coat for tag in tags(doors))


def test_several_pieces_are_named_in_full(two_pieces: Plan) -> None:
    assert {tag.piece for tag in tags(two_pieces)} == {"Reading table, village library", "Tray with a rim"}


def test_of_a_face_that_gets_another_system_that_comes_next(two_systems: Plan) -> None:
    rows = two_systems.timetable.steps
    last = {
        item: max(row.start for row in rows if row.item == item and row.deed == "coat" and row.kind == "attended")
        for item in ("top", "base")
    }
    for tag in tags(two_systems):
        is_last = tag.put_on == show_moment(last[tag.part.partition(" ")[0]])
        assert bool(tag.hand_over) == is_last, "what is coated once more is not handed over"


def test_a_begun_sheet_is_gone_on_with() -> None:
    found = TagSheets("x", SHEET, "a4", on_sheets((A_TAG,) * 20, SHEET, "a4", first=20))
    assert [len(page) for page in found.sheets] == [2, 18]
    assert found.sheets[0][0].place == SHEET.places("a4")[19]
    assert found.sheets[1][0].place == SHEET.places("a4")[0]
    assert found.next_free == 19
    assert TagSheets("x", SHEET, "a4", on_sheets((A_TAG,) * 21, SHEET, "a4")).next_free == 1


@pytest.mark.parametrize(
    ("text", "lengths"),
    [
        ("15.15 mm 7.2 mm", ["15.15 mm", "7.2 mm"]),
        ("15.15 mm, 7.2 mm", ["15.15 mm", "7.2 mm"]),
        ("1 1/2 in 5/8 in", ["1 1/2 in", "5/8 in"]),
        ('1-1/2" ½"', ['1-1/2"', '½"']),
        ("8mm 7mm 6mm 5mm", ["8mm", "7mm", "6mm", "5mm"]),
        (" 8 mm ", ["8 mm"]),
    ],
)
def test_lengths_in_one_text(text: str, lengths: list[str]) -> None:
    assert lengths_in(text) == lengths


def test_labels_are_where_the_packet_says() -> None:
    """Worked out by hand from the dimensions of the sheet."""
    places = SHEET.places("a4")
    assert (places[0].width_mm, places[0].height_mm) == pytest.approx((63.5, 38.1))
    assert (places[4].left_mm, places[4].top_mm) == pytest.approx((7.25 + 63.5 + 2.5, 15.15 + 38.1))
    letter = labels(rows=10, columns=2, margins=["1/2 in", "5/32 in"], gaps=["0 in", "3/16 in"])
    # 4 x 1 in, a common size on US Letter: (8.5 - 2 x 5/32 - 3/16) / 2 = 4 in and (11 - 2 x 1/2) / 10 = 1 in
    assert (letter.places("letter")[0].width_mm, letter.places("letter")[0].height_mm) == pytest.approx((101.6, 25.4))


@given(
    rows=st.integers(1, 8),
    columns=st.integers(1, 4),
    margins=st.lists(st.floats(0, 25), min_size=4, max_size=4),
    gaps=st.lists(st.floats(0, 5), min_size=2, max_size=2),
    paper=st.sampled_from(["a4", "letter"]),
)
def test_labels_lie_on_the_paper_and_not_on_each_other(
    rows: int, columns: int, margins: list[float], gaps: list[float], paper: str
) -> None:
    fields: dict[str, Any] = {"margins": [f"{mm} mm" for mm in margins], "gaps": [f"{mm} mm" for mm in gaps]}
    found, _ = validate(Labels, {"rows": rows, "columns": columns, **fields})
    if found is None or found.too_small(paper):
        return
    width_mm, height_mm = PAPER_MM[paper]
    places = found.places(paper)
    assert len(set(places)) == rows * columns
    for one in places:
        assert -1e-6 <= one.left_mm <= one.left_mm + one.width_mm <= width_mm + 1e-6
        assert -1e-6 <= one.top_mm <= one.top_mm + one.height_mm <= height_mm + 1e-6
    right, below = (places[-1].left_mm + places[-1].width_mm, places[-1].top_mm + places[-1].height_mm)
    assert (width_mm - right, height_mm - below) == pytest.approx((margins[1], margins[2]), abs=1e-6)


def boxes(box: Any) -> Iterator[Any]:
    """Give all boxes of a page as it was laid out; one that is placed absolutely stands behind a placeholder."""
    box = getattr(box, "_box", box)
    yield box
    for child in getattr(box, "children", ()):
        yield from boxes(child)


def of_class(box: Any, name: str) -> Iterator[Any]:
    for one in boxes(box):
        if type(one).__name__ in ("BlockBox", "InlineBlockBox") and name in one.element.get("class", "").split():
            yield one


LONG = (
    "Ausziehbare Festtafel für den Łódźer Gesangverein „Čapek“ mit zwanzig verschiedenen Teilen und einem sehr langen "
    "Namen, der nirgends abgeschnitten werden darf, auch nicht auf einem Schildchen am Tischbein"
)[:200]
A_TAG = Tag(
    piece="Hall bench",
    part="leg",
    number="12\u00a0of\u00a0100",
    coat="Coat 1 of 3: Hardwax oil",
    put_on="Wed 17 Mar 11:25",
    caution="Wet. Do not touch before",
    moment="Wed 17 Mar 11:25",
    then="Then abrade P320, Thu 18 Mar 09:00.",
)
NAMES = (
    "Einlegeboden Nummer 12 aus Čapeks Werkstatt, links unten",
    "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunte",
    "東京の引き出し、左から二番目、上から三番目、ブナ材、オイル仕上げ、扉つき、真鍮の取っ手、二千二十七年製",
    "M" * 60,
    "leaf-of-the-table/left-hand—with—dashes-and-no-space-at-all",
    "<b>lid</b> & “rim” {{ 7 * 7 }} 가나다 Ελένη Дверь",
    "top",
)
PIECES = (LONG, "W" * 200, "東京" * 100, "Bench")
LONGEST = tuple(
    replace(
        A_TAG,
        piece=PIECES[number % 4],
        part=part,
        coat="Coat 1 of 3, other side: Waterborne polyurethane or acrylic varnish",
        then="Then coat 2, underside and edges, Thu 18 Mar 09:00."
        if number % 3
        else "Then put together, Thu 18 Mar 09:00.",
        hand_over="" if number % 3 else "Hand over after Wed 24 Mar 09:00.",
    )
    for number, part in enumerate(NAMES * 2)
)
SHEETS = {
    "3 x 7, 63.5 x 38.1 mm": (SHEET, "a4"),
    "2 x 7, 99.1 x 38.1 mm": (labels(rows=7, columns=2, margins="15.15 mm 4.65 mm", gaps="0 mm 2.5 mm"), "a4"),
    "plain paper": (Labels(), "a4"),
    "the least": (labels(rows=11, columns=4, margins="11 mm 9 mm"), "a4"),
    "2 x 10, 4 x 1 in": (labels(rows=10, columns=2, margins=["1/2 in", "5/32 in"], gaps=["0 in", "3/16 in"]), "letter"),
    "tall": (labels(rows=2, columns=4), "letter"),
}
PX_PER_MM = 96 / 25.4


def laid_out(found: Sequence[Tag], sheet: Labels, paper: Any) -> tuple[TagSheets, list[Any]]:
    """Return tags on their labels, and the pages as the renderer lays them out."""
    import weasyprint

    placed = TagSheets("x", sheet, paper, on_sheets(found, sheet, paper))
    document = weasyprint.HTML(string=sheets_html(placed)).render()
    return placed, [page._page_box for page in document.pages]


@pytest.mark.parametrize(("sheet", "paper"), SHEETS.values(), ids=SHEETS)
def test_the_longest_words_stay_on_their_label(sheet: Labels, paper: str) -> None:
    """Laid out by the page renderer: no box of words leaves its label, or runs into what is filled in at its foot."""
    placed, pages = laid_out(LONGEST, sheet, paper)
    printed = [tag for page in pages for tag in of_class(page, "tag")]
    assert len(pages) == len(placed.sheets)
    assert len(printed) == len(LONGEST)
    for one, box in zip(placed.tags, printed, strict=True):
        left, top = one.place.left_mm * PX_PER_MM, one.place.top_mm * PX_PER_MM
        right, bottom = left + one.place.width_mm * PX_PER_MM, top + one.place.height_mm * PX_PER_MM
        (row,) = of_class(box, "row")
        in_row = {id(inner) for inner in boxes(row)}
        words = [inner for inner in boxes(box) if type(inner).__name__ == "TextBox"]
        for word in words:
            assert left < word.position_x, word.text
            assert word.position_x + word.width <= right, word.text
            assert top < word.position_y, word.text
            assert word.position_y + word.height <= bottom, word.text
            if id(word) not in in_row:
                assert word.position_y + word.height <= row.position_y + 0.5 * PX_PER_MM, word.text
        (blank,) = of_class(row, "blank")
        assert blank.position_x + blank.width <= right - 1.9 * PX_PER_MM
        assert blank.width >= 7.9 * PX_PER_MM, "a pencil needs room"
        shown = "".join("".join(word.text for word in words).split())
        tag = one.tag if one.shortened else LONGEST[placed.tags.index(one)]
        for text in (tag.thing, tag.piece, tag.coat, tag.moment, tag.then, tag.hand_over, tag.put_on):
            assert "".join(text.split()) in shown


def test_names_are_shortened_only_where_they_cannot_be_smaller() -> None:
    for sheet, paper in ((SHEET, "a4"), (Labels(), "a4")):
        short = [replace(tag, piece="A piece of furniture with a name of sixty letters or so, oak") for tag in LONGEST]
        assert not [one for page in on_sheets(short, sheet, cast("Any", paper)) for one in page if one.shortened]
    (least,) = on_sheets(LONGEST, *cast("Any", SHEETS["the least"]))
    for one, tag in zip(least, LONGEST, strict=True):
        assert one.tag.thing.endswith(" 12\u00a0of\u00a0100"), "which of them it is never goes"
        assert (one.tag.moment, one.tag.then, one.tag.put_on) == (tag.moment, tag.then, tag.put_on)


@pytest.mark.parametrize(("sheet", "paper"), SHEETS.values(), ids=SHEETS)
def test_an_ordinary_tag_is_whole_on_every_sheet(sheet: Labels, paper: Any) -> None:
    ((one,),) = on_sheets([A_TAG], sheet, paper)
    assert not one.shortened
    # At arm's length, 0.6 m, the 5 minutes of arc that a normal eye just reads (Snellen) are 0.87 mm; capitals of the
    # font are 0.73 em high.
    assert 0.73 * one.sizes.moment_pt * MM_PER_PT > 2 * 0.87


@pytest.mark.parametrize(("sheet", "paper"), SHEETS.values(), ids=SHEETS)
def test_tags_are_laid_out_where_the_labels_are(sheet: Labels, paper: str) -> None:
    on_a_sheet = sheet.rows * sheet.columns
    _, (page, *_) = laid_out([A_TAG] * on_a_sheet, sheet, paper)
    for place, box in zip(sheet.places(paper), of_class(page, "tag"), strict=True):
        found = [
            value / PX_PER_MM for value in (box.position_x, box.position_y, box.border_width(), box.border_height())
        ]
        assert found == pytest.approx([place.left_mm, place.top_mm, place.width_mm, place.height_mm], abs=0.2)


def positions_mm(page: Any, words: str) -> list[tuple[float, float]]:
    """Return where words begin on a page of a PDF, from its upper left corner, in the order of the page."""
    found: list[tuple[float, float]] = []

    def visit(text: str, user: list[float], matrix: list[float], *_: object) -> None:
        if words in text:
            x = matrix[4] * user[0] + matrix[5] * user[2] + user[4]
            y = matrix[4] * user[1] + matrix[5] * user[3] + user[5]
            found.append((x * MM_PER_PT, (float(page.mediabox.height) - y) * MM_PER_PT))

    page.extract_text(visitor_text=visit)
    return found


@pytest.mark.parametrize("name", ["3 x 7, 63.5 x 38.1 mm", "2 x 10, 4 x 1 in"])
def test_tags_are_printed_where_the_labels_are(name: str, tmp_path: Path) -> None:
    """Read back from the PDF: 7 mm from the left of its label, and the rows as far from each other as the labels."""
    sheet, paper = SHEETS[name]
    on_a_sheet = sheet.rows * sheet.columns
    tag = replace(A_TAG, coat="HERE")
    sheets = on_sheets([tag] * on_a_sheet, sheet, cast("Any", paper))
    write_pdf(sheets_html(TagSheets("x", sheet, cast("Any", paper), sheets)), tmp_path / "tags.pdf")
    (page,) = PdfReader(tmp_path / "tags.pdf").pages
    found = positions_mm(page, "HERE")
    places = sheet.places(paper)
    assert [x for x, _ in found] == pytest.approx([place.left_mm + 7 for place in places], abs=0.2)
    down = found[0][1] - places[0].top_mm
    assert 3 < down < places[0].height_mm
    assert [y for _, y in found] == pytest.approx([place.top_mm + down for place in places], abs=0.2)


def test_lines_to_cut_along_are_on_plain_paper_only() -> None:
    """Eight labels on A4 with 8 mm around: 194 / 2 = 97 mm wide, 281 / 4 = 70.25 mm high, by hand."""
    _, (page,) = laid_out([A_TAG], Labels(), "a4")
    down = [box.position_x / PX_PER_MM for box in of_class(page, "down")]
    across = [box.position_y / PX_PER_MM for box in of_class(page, "across")]
    assert down == pytest.approx([8, 105, 202], abs=0.2)
    assert across == pytest.approx([8, 78.25, 148.5, 218.75, 289], abs=0.2)
    assert labels(rows=4, columns=2).cut is False
    assert labels(rows=4, columns=2, **{"cut-lines": True}).cut is True
    assert labels(**{"cut-lines": False}).cut is False


def test_the_pdf_is_as_large_as_the_paper_and_holds_every_tag(hostile: Plan, tmp_path: Path) -> None:
    found = tags(hostile)
    file = tmp_path / "tags.pdf"
    write_pdf(sheets_html(tag_sheets(hostile, labels(rows=6, columns=2), first=3)), file)
    reader = PdfReader(file)
    assert len(reader.pages) == math.ceil((len(found) + 2) / 12)
    size = (float(reader.pages[0].mediabox.width), float(reader.pages[0].mediabox.height))
    assert size == pytest.approx((612, 792), abs=0.1), "US Letter in points"
    text = "".join("".join(page.extract_text().split()) for page in reader.pages)
    for tag in found:
        for words in (tag.thing, tag.piece, tag.coat, tag.moment, tag.then, tag.hand_over, tag.put_on):
            assert "".join(words.split()) in text
    root: Any = reader.trailer["/Root"]
    assert (root["/Lang"], bool(root["/MarkInfo"]["/Marked"])) == ("en", True)
    assert reader.metadata is not None
    assert str(reader.metadata.title).startswith("Part tags: <script>")
    first = tmp_path / "again.pdf"
    write_pdf(sheets_html(tag_sheets(hostile, labels(rows=6, columns=2), first=3)), first)
    assert first.read_bytes() == file.read_bytes()


def test_names_are_words(hostile: Plan) -> None:
    html = sheets_html(tag_sheets(hostile, Labels()))
    assert "<script>" not in html
    assert "<b>lid" not in html
    assert "&lt;b&gt;lid&lt;/b&gt;" in html


@settings(max_examples=60)
@given(
    part=st.text(min_size=1, max_size=60),
    piece=st.text(min_size=1, max_size=200),
    sheet=st.sampled_from([SHEET, Labels()]),
)
def test_words_are_never_larger_than_fits_nor_smaller_than_can_be_read(part: str, piece: str, sheet: Labels) -> None:
    tag = replace(A_TAG, part=part, piece=piece)
    ((one,),) = on_sheets((tag,), sheet, "a4")
    ((shorter,),) = on_sheets((replace(tag, part="x", piece="y"),), sheet, "a4")
    assert 5.5 <= one.sizes.small_pt <= one.sizes.part_pt <= one.sizes.moment_pt <= shorter.sizes.moment_pt

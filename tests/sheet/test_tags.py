"""Part tags: one for every coat, each inside its label, whatever the names and the sheet of labels."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from finplan.inputs.labels import PAPER_MM, Labels
from finplan.plan import Plan
from finplan.reading import validate
from finplan.sheet import tags_html, write_pdf
from finplan.sheet.tags import PlacedTag, Tag, pages, tags
from finplan.sheet.words import not_before, show_moment

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
        assert row.next_from is not None
        assert (tag.caution, tag.moment) == ("Do not touch before", show_moment(not_before(row.next_from)))


def test_the_last_coat_says_when_it_may_be_handed_over_and_the_others_what_comes(table: Plan) -> None:
    ready = show_moment(not_before(table.timetable.pieces[0].ready))
    for tag in tags(table):
        if tag.coat.startswith("Coat 2 of 2"):
            assert tag.then == f"Hand over after {ready}."
        else:
            abrading = next(step for step in table.timetable.steps if step.deed == "abrade" and step.item == tag.part)
            assert tag.then == f"Then abrade P320, {show_moment(abrading.start)}."


def test_loose_parts_are_hung_one_by_one(hostile: Plan) -> None:
    rails = [tag.part for tag in tags(hostile) if tag.part.startswith("rail")]
    assert {re.sub(r".* (\d of \d)$", r"\1", part) for part in rails} == {"1 of 4", "2 of 4", "3 of 4", "4 of 4"}


def test_a_side_is_turned_over(doors: Plan) -> None:
    first = [tag for tag in tags(doors) if "first side" in tag.coat]
    assert first
    for tag in first:
        assert tag.caution == "Do not turn over before"
        assert tag.then.startswith("Then ")
    assert any("other side" in tag.coat for tag in tags(doors))


def test_several_pieces_are_named_in_full(two_pieces: Plan) -> None:
    assert {tag.piece for tag in tags(two_pieces)} == {"Reading table, village library", "Tray with a rim"}


def test_a_begun_sheet_is_gone_on_with() -> None:
    tag = Tag("", "", "", "", "", "Mon 1 Mar 08:00", "")
    found = pages((tag,) * 20, SHEET, "a4", first=20)
    assert [len(page) for page in found] == [2, 18]
    assert found[0][0].place == SHEET.places("a4")[19]
    assert found[1][0].place == SHEET.places("a4")[0]


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


LONG = (
    "Ausziehbare Festtafel für den Łódźer Gesangverein „Čapek“ mit zwanzig verschiedenen Teilen und einem sehr langen "
    "Namen, der nirgends abgeschnitten werden darf, auch nicht auf einem Schildchen am Tischbein"
)[:200]


@pytest.mark.parametrize(
    ("sheet", "paper"),
    [
        (SHEET, "a4"),
        (Labels(), "a4"),
        (labels(rows=11, columns=4, margins="8 mm"), "a4"),
        (labels(rows=10, columns=2, margins=["1/2 in", "5/32 in"], gaps=["0 in", "3/16 in"]), "letter"),
    ],
)
def test_long_words_stay_on_their_label(sheet: Labels, paper: str) -> None:
    """Laid out by the page renderer: no box of words leaves its label."""
    import weasyprint

    from finplan.sheet.html import filled

    tag = Tag(
        LONG,
        "Einlegeboden Nummer 12 aus Čapeks Werkstatt, links unten",
        "Coat 1 of 3: Oil and varnish blend",
        "Wed 17 Mar 11:25",
        "Do not turn over before",
        "Wed 17 Mar 11:25",
        "Then abrade P320, Thu 18 Mar 09:00.",
    )
    placed = pages((tag,), sheet, paper, 1)
    html = filled(
        "tags",
        name="x",
        version="",
        page_size=paper,
        paper_mm=PAPER_MM[paper],
        cut_lines=True,
        pages=placed,
        places=[placed[0][0].place],
        sizes=[placed[0][0].sizes],
    )
    document = weasyprint.HTML(string=html).render()
    (page,) = document.pages
    words = [box for box in boxes(page._page_box) if type(box).__name__ == "TextBox"]
    assert "".join(box.text for box in words).replace(" ", "").startswith("EinlegebodenNummer12")
    place, px_per_mm = placed[0][0].place, 96 / 25.4
    for box in words:
        assert box.position_x >= place.left_mm * px_per_mm
        assert box.position_x + box.width <= (place.left_mm + place.width_mm) * px_per_mm + 0.5, box.text
        assert box.position_y + box.height <= (place.top_mm + place.height_mm) * px_per_mm + 0.5, box.text


def test_the_pdf_is_as_large_as_the_paper_and_holds_every_tag(hostile: Plan, tmp_path: Path) -> None:
    found = tags(hostile)
    file = tmp_path / "tags.pdf"
    write_pdf(tags_html(hostile, labels(rows=6, columns=2), first=3), file)
    reader = PdfReader(file)
    assert len(reader.pages) == math.ceil((len(found) + 2) / 12)
    size = (float(reader.pages[0].mediabox.width), float(reader.pages[0].mediabox.height))
    assert size == pytest.approx((612, 792), abs=0.1), "US Letter in points"
    text = "".join("".join(page.extract_text().split()) for page in reader.pages)
    for tag in found:
        for words in (tag.part, tag.moment, tag.then):
            assert words.replace(" ", "") in text
    first = tmp_path / "again.pdf"
    write_pdf(tags_html(hostile, labels(rows=6, columns=2), first=3), first)
    assert first.read_bytes() == file.read_bytes()


def test_names_are_words(hostile: Plan) -> None:
    html = tags_html(hostile, Labels())
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
    tag = Tag(
        piece, part, "Coat 1 of 2: Hardwax oil", "Fri 26 Feb 08:40", "Do not touch before", "Sat 27 Feb 04:40", ""
    )
    one: PlacedTag = pages((tag,), sheet, "a4", 1)[0][0]
    shorter = pages((replace(tag, part="x", piece="y"),), sheet, "a4", 1)[0][0]
    assert 5.5 <= one.sizes.small_pt <= one.sizes.part_pt <= one.sizes.moment_pt <= shorter.sizes.moment_pt

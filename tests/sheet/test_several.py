"""Several pieces on one sheet: each has its mark, its dates and its care card; the days and the order are common."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from finplan.moments import show_clock, show_moment
from finplan.planning import Plan, read_source
from finplan.sheet.appendix import appendix
from finplan.sheet.buying import buying
from finplan.sheet.care import care_cards
from finplan.sheet.day_room import care_mm
from finplan.sheet.days import working_days
from finplan.sheet.first_page import first_page
from finplan.sheet.placing import Below, below_days
from finplan.sheet.safety_page import safety_page
from finplan.sheet.sanding_cards import sanding_pages
from finplan.sheet.view import sheet_of
from tests.plans import make_plan
from tests.safety.pieces import NOW

PIECES = Path(__file__).parents[1] / "pieces"


def plainly(words: str) -> str:
    return words.replace("\u00a0", " ")


def test_every_piece_has_a_mark_and_its_dates(two_pieces: Plan, table: Plan) -> None:
    rows = first_page(two_pieces).pieces
    assert [(row.mark, row.name) for row in rows] == [("A", "Reading table, village library"), ("B", "Tray with a rim")]
    for row, times in zip(rows, two_pieces.timetable.pieces, strict=True):
        assert times.deliver is not None
        assert row.deliver == show_moment(times.deliver)
    assert first_page(table).pieces == ()
    assert sheet_of(two_pieces).name == "Reading table, village library and Tray with a rim"


def test_a_part_of_the_same_name_is_told_apart_everywhere(two_pieces: Plan) -> None:
    tops = {"A top", "B top"}
    picture = first_page(two_pieces).picture
    assert picture is not None
    assert tops <= {plainly(row.item) for row in picture.rows}
    assert tops <= {
        plainly(one.item) for table in buying(two_pieces).coats for strip in table.strips for one in strip.pours
    }
    rows = [row for day in working_days(two_pieces) for row in day.rows]
    named = {plainly(name) for row in rows for name in (row.item, *(item.item for item in row.items))}
    assert tops <= named
    assert "top" not in named
    said = " ".join(plainly(row.what) for row in safety_page(two_pieces).sessions)
    assert "A top: coat 1" in said
    assert "B top: coat 1" in said


def test_every_stretch_of_work_of_both_stands_in_the_days(two_pieces: Plan) -> None:
    attended = [step for step in two_pieces.timetable.steps if step.kind == "attended"]
    printed = []
    for day in working_days(two_pieces):
        for row in day.rows:
            printed += [row.start] if not row.items else [item.time.partition("–")[0] for item in row.items]
    assert sorted(printed) == sorted(show_clock(step.start) for step in attended)
    assert {step.piece for step in attended} == {"Reading table, village library", "Tray with a rim"}


def test_lines_of_the_picture_end_with_their_own_piece(two_pieces: Plan) -> None:
    picture = first_page(two_pieces).picture
    assert picture is not None
    by_mark: dict[str, set[float | None]] = {}
    for row in picture.rows:
        by_mark.setdefault(row.item[0], set()).add(row.deliver_x)
    assert [len(ends) for ends in by_mark.values()] == [1, 1]
    assert max(by_mark["B"], key=lambda x: x or 0.0) != max(by_mark["A"], key=lambda x: x or 0.0)
    marks = [row.item[0] for row in picture.rows]
    assert marks == sorted(marks), "the lines of a piece stand together"


def test_each_customer_gets_a_card_and_no_letter_on_it(two_pieces: Plan) -> None:
    cards = care_cards(two_pieces)
    assert [card.piece for card in cards] == ["Reading table, village library", "Tray with a rim"]
    assert not any("\u00a0top" in str(card) for card in cards)


def test_the_place_of_the_one_card_of_a_piece_and_its_sample_is_looked_for(
    two_pieces: Plan, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It stood last, and on a page of its own, as several do."""
    asked: list[float | None] = []

    def spied(filled_mm: Sequence[float], safety_mm: float, card_mm: float | None, *rest: Any) -> Below:
        asked.append(card_mm)
        return below_days(filled_mm, safety_mm, card_mm, *rest)

    monkeypatch.setattr("finplan.sheet.view.below_days", spied)
    sampled = make_plan([read_source(PIECES / "sampled-bench.yaml", None)], now=NOW)
    assert [piece.sample for piece in sampled.pieces] == [False, True]
    sheet = sheet_of(sampled)
    assert set(asked) == {care_mm(sheet.care[0], sheet.page_size)}
    asked.clear()
    sheet_of(two_pieces)
    assert set(asked) == {None}


def test_sanding_and_areas_are_told_by_piece(two_pieces: Plan) -> None:
    assert [plainly(pages.piece) for pages in sanding_pages(two_pieces)] == [
        "A Reading table, village library",
        "B Tray with a rim",
    ]
    assert [len(piece.parts) for piece in appendix(two_pieces).pieces] == [3, 2]


def test_one_order_buys_for_both(two_pieces: Plan) -> None:
    (oil, *_) = buying(two_pieces).materials
    assert oil.material == "Hardwax oil"
    need = two_pieces.materials.materials[0]
    assert {coat.piece for coat in need.coats} == {"Reading table, village library", "Tray with a rim", ""}


def test_the_shop_says_its_own_words_in_three_places(two_pieces: Plan, table: Plan) -> None:
    assert first_page(two_pieces).notes == ("The key to the store hangs behind the stove.",)
    assert all(day.evening[-1] == "Sign the board by the door." for day in working_days(two_pieces))
    assert sheet_of(two_pieces).shop == "Copper Beech joinery"
    assert sheet_of(table).shop == "", "the default shop is nobody's"

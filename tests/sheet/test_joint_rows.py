"""Lines of the picture drawn as one: none of few, of many those that are alike, and nothing is lost of them."""

from __future__ import annotations

import pytest

from finplan.sheet.joint_rows import drawn_lines
from finplan.sheet.picture_row import Bar, PictureRow
from finplan.telling import OfItem


def line(
    item: str, at: float, *, number: int = 0, piece: str = "stool", days: int = 1
) -> tuple[OfItem[None], PictureRow]:
    """A coat on each of some days, hatched behind it, and dry for the next one after that."""
    xs = [at + 200.0 * day for day in range(days)]
    row = PictureRow(
        item=item,
        piece=piece,
        words=f"{item}: coat at {at}",
        work=(),
        coats=tuple(Bar(x, 10.0) for x in xs),
        drying=tuple(Bar(x + 10.0, 60.0) for x in xs),
        hatching="",
        windows=tuple(Bar(x + 70.0, 50.0) for x in xs),
        ready_x=900.0,
        deliver_x=1000.0,
    )
    return OfItem(item, item, number, None), row


def seats(count: int, apart: float) -> list[tuple[OfItem[None], PictureRow]]:
    return [line(f"seat {number}", 50.0 + apart * number, number=number) for number in range(1, count + 1)]


def test_of_few_each_has_its_line() -> None:
    rows = seats(6, 1.0)
    assert drawn_lines(rows) == tuple(row for _, row in rows)


def test_of_many_those_that_are_alike_share_one() -> None:
    others = [line("rail", 400.0), line("shelf", 51.0, piece="shelf")]
    found = drawn_lines([*seats(8, 1.0), *others])
    assert [row.item for row in found] == ["seat 1–8", "rail", "shelf"]
    (seat, rail, shelf) = found
    assert (rail, shelf) == tuple(row for _, row in others)
    assert [(bar.x, bar.end) for bar in seat.coats] == [(51.0, 68.0)]
    assert [(bar.x, bar.end) for bar in seat.drying] == [(61.0, 128.0)], "from the first to the last"
    assert seat.hatching
    assert [(bar.x, bar.end) for bar in seat.windows] == [(128.0, 171.0)], "while all are dry for the next coat"
    assert all(f"seat {number}: coat" in seat.words for number in range(1, 9))


@pytest.mark.parametrize("apart", [30.0, 100.0])
def test_a_set_shares_one_whenever_it_is_done(apart: float) -> None:
    """And nothing is hatched while none of them is wet."""
    rows = seats(8, apart)
    (found,) = drawn_lines(rows)
    assert found.item == "seat 1–8"
    for kind in ("coats", "drying"):
        of_all = [bar for _, row in rows for bar in getattr(row, kind)]
        drawn = getattr(found, kind)
        for x in range(0, 1360, 3):
            assert any(bar.x <= x <= bar.end for bar in drawn) == any(bar.x <= x <= bar.end for bar in of_all)
    assert not any(window.x < bar.end and bar.x < window.end for window in found.windows for bar in found.drying)


def test_what_is_no_set_and_not_alike_stays_apart() -> None:
    rows = [line(f"board {letter}", 40.0 * at) for at, letter in enumerate("abcdefgh")]
    assert len(drawn_lines(rows)) == 8
    other_days = [*seats(6, 1.0), line("seat 7", 51.0, days=2)]
    assert [row.item for row in drawn_lines(other_days)] == ["seat 1–6", "seat 7"]

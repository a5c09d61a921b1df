"""What is done to several of a set in one go is told in one line: the same work, by one person, without a break."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

import finplan
from finplan.inputs import item_in_set
from finplan.telling import Names, OfItem, each_words, for_each, in_one_go, names_together, set_name
from finplan.telling.sets import numbers_words
from finplan.timetable import TimetableStep
from tests.planned_once import made_at_once

AT = datetime(2027, 3, 2, 8, tzinfo=UTC)


def row(
    number: int, begins_min: int, *, person: str = "Ines", item: str = "chair", kin: str = "coat 1"
) -> TimetableStep:
    """A stretch of a quarter of an hour."""
    start = AT + timedelta(minutes=begins_min)
    end = start + timedelta(minutes=15)
    name = f"{item} {number}" if number else item
    return TimetableStep(
        *(f"{name}/{kin}", "Chairs", name, kin, "attended", "coat", start, end, person, "shop"),
        set_number=number,
        kin=f"{item}/{kin}" if number else "",
    )


def legs(number: int, begins_min: int) -> TimetableStep:
    """The same for the four legs of a piece of the set."""
    return replace(row(number, begins_min, item="leg"), item=item_in_set("leg", number, 4))


def told(*rows: TimetableStep) -> list[str]:
    return [set_name(go, several=" × " in go[0].item) for go in in_one_go(rows)]


def test_the_same_on_one_after_another_is_one_line() -> None:
    assert told(*(row(number, 15 * number) for number in range(1, 7))) == ["chair 1–6"]


def test_a_number_is_never_taken_for_one_of_several_alike_parts() -> None:
    """The legs of a set of chairs: how many, of which chair; a leg by itself would be "leg 1 of 4"."""
    assert told(legs(2, 0)) == ["leg × 4 of piece 2"]
    assert told(*(legs(number, 15 * number) for number in range(1, 7))) == ["leg × 4 each of pieces 1–6"]
    assert [each_words(several=several) for several in (True, False)] == ["per piece", "each"]
    entries = [OfItem(f"A {item}", item, n, ("35 ml",), True) for n in (1, 2) for item in [item_in_set("leg", n, 4)]]
    assert for_each(entries) == [("A leg × 4, for each of pieces 1 and 2", ("35 ml",))]
    assert for_each(entries[:1]) == [("A leg × 4 of piece 1", ("35 ml",))]


def test_names_of_a_set_are_one_name() -> None:
    seats = [OfItem(f"seat {n}", f"seat {n}", n, None) for n in range(1, 13)]
    frames = [OfItem(f"frame {n} (leg × 2)", f"frame {n}", n, None) for n in (1, 2, 4)]
    tops = [OfItem("top", "top", 0, None), OfItem("top", "top", 0, None)]
    assert names_together([*seats, *frames]) == ["seat 1–12", "frame 1, 2 and 4 (leg × 2)"]
    assert names_together([*frames[:1], *tops]) == ["frame 1 (leg × 2)", "top", "top"]


def test_one_end_of_each_piece_is_not_several_whatever_it_is_called() -> None:
    """A part may be called as that which stands before the number of a piece."""
    ends = [OfItem(f"end of piece {n}", f"end of piece {n}", n, ("35 ml",)) for n in (1, 2, 3)]
    assert for_each(ends) == [("end of piece 1–3, each", ("35 ml",))]
    assert names_together([OfItem(end.name, end.item, end.number, None) for end in ends]) == ["end of piece 1–3"]
    rows = [row(n, 15 * n, item="end of piece") for n in (1, 2, 3)]
    assert set_name(rows, several=False) == "end of piece 1–3"


@pytest.mark.parametrize(("count", "told_of"), [(1, "each"), (4, "per piece")])
def test_what_several_are_is_taken_from_the_piece(count: int, told_of: str) -> None:
    piece = "piece: Stools\nlengths: mm\ntimber: ash\nsystem: hardwax-oil\nset: 3\nparts:\n"
    leg = f"  end of piece: {{shape: board, length: 400, width: 40, thickness: 40, count: {count}}}\n"
    with made_at_once():
        plan = finplan.plan(piece + leg, start="2027-06-01 08:00")
    names = Names(plan)
    coats = [step for step in plan.timetable.steps if step.deed == "coat" and step.kind == "attended"]
    assert coats
    assert {each_words(several=names.of_several(step)) for step in coats} == {told_of}
    assert {coat.several for coat in plan.materials.coats if coat.board_of is None} == {count > 1}
    assert names_together([names.of_item(step) for step in coats[:3]]) == [
        "end of piece 1–3" if count == 1 else "end of piece × 4 each of pieces 1–3"
    ]


def test_two_people_have_a_line_each() -> None:
    rows = [row(n, 15 * (n // 2), person="Ines" if n % 2 else "Tam") for n in range(2, 8)]
    assert told(*rows) == ["chair 2, 4 and 6", "chair 3, 5 and 7"]


@pytest.mark.parametrize(
    "other",
    [row(2, 20), row(2, 15, item="seat"), row(2, 15, kin="coat 2"), row(2, 15, person="Tam"), row(0, 15)],
    ids=["a pause", "another item", "another step", "another person", "no set"],
)
def test_what_differs_has_a_line_of_its_own(other: TimetableStep) -> None:
    assert len(told(row(1, 0), other)) == 2


def test_something_else_between_parts_them() -> None:
    assert told(row(1, 0), row(1, 15, kin="abrade"), row(2, 30)) == ["chair 1", "chair 1", "chair 2"]


def test_numbers_are_told_shortly() -> None:
    assert numbers_words([1, 2, 3, 4, 6]) == "1–4 and 6"
    assert numbers_words([1, 2]) == "1 and 2"
    assert numbers_words([1, 3, 5, 6, 7]) == "1, 3 and 5–7"


def test_what_is_told_alike_of_a_set_is_told_once_for_each() -> None:
    entries = [OfItem(f"A {item} {n}", f"{item} {n}", n, ("35 ml",)) for n in (1, 2, 3) for item in ("seat", "frame")]
    entries += [OfItem("A seat 4", "seat 4", 4, ("40 ml",)), OfItem("A shelf 5", "shelf 5", 0, ("35 ml",))]
    assert for_each(entries) == [
        ("A seat 1–3, each", ("35 ml",)),
        ("A frame 1–3, each", ("35 ml",)),
        ("A seat 4", ("40 ml",)),
        ("A shelf 5", ("35 ml",)),
    ]

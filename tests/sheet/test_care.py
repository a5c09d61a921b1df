"""The care card: what it is, from when it may be used how, how it is kept and mended, in words of the catalogue."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.plan import Plan
from finplan.sheet.care import care_cards
from finplan.sheet.words import show_year_day

SYSTEMS = bundled_catalogue().systems


@pytest.mark.parametrize("name", SYSTEMS)
def test_every_system_says_what_it_is_and_how_it_is_mended(name: str) -> None:
    system = SYSTEMS[name]
    assert system.about
    assert system.about.endswith(".")
    assert system.repair
    assert all(line.endswith(".") for line in (*system.care, *system.repair))


def test_light_use_comes_before_heat_and_water(table: Plan) -> None:
    (card,) = care_cards(table)
    (row,) = card.rows
    light, wait, hard = row.times
    ready = table.timetable.pieces[0].ready
    cured = max(moment for _, moment in table.timetable.cured) + timedelta(days=1)
    assert light.day == f"From {show_year_day(ready.date())}"
    assert (wait.day, hard.day) == (f"Until {show_year_day(cured.date())}", f"From {show_year_day(cured.date())}")
    assert "dry cloth" in light.what
    assert "damp cloth" in hard.what


def test_what_is_hard_before_it_is_ready_has_no_waiting(table: Plan) -> None:
    ready = table.timetable.pieces[0].ready
    early = tuple((item, ready - timedelta(days=3)) for item, _ in table.timetable.cured)
    (row,) = care_cards(replace(table, timetable=replace(table.timetable, cured=early)))[0].rows
    assert [when.day for when in row.times] == [f"From {show_year_day(ready.date())}"]


def test_a_finish_that_water_marks_is_not_wiped_damp(rubbed: Plan) -> None:
    """Shellac: water 2, heat 1."""
    (row,) = care_cards(rubbed)[0].rows
    assert not any("damp" in when.what for when in row.times)
    assert row.stands == ("No heat, ever: a warm cup marks it. Always a mat.", "Water marks it: wipe it up at once.")


def test_who_oils_again_is_told_of_the_cloths(table: Plan, rubbed: Plan) -> None:
    (row,) = care_cards(table)[0].rows
    caution = next(line for line in table.cautions if line.title == "Oily cloths")
    assert row.cloths.lower().endswith(caution.text.lower())
    assert care_cards(rubbed)[0].rows[0].cloths == "", "shellac and paste wax do not heat themselves"


def test_the_card_is_signed_by_the_shop(two_pieces: Plan) -> None:
    for card in care_cards(two_pieces):
        assert card.notes == ("Questions are answered at the workshop on weekdays.",)


def test_finishes_of_one_piece_are_told_one_by_one(two_systems: Plan) -> None:
    (card,) = care_cards(two_systems)
    assert len(card.rows) == 3
    assert len({row.about for row in card.rows}) == 3

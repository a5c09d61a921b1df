"""What the pages say, section by section."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from finplan.plan import Plan
from finplan.sheet.appendix import appendix
from finplan.sheet.buying import buying
from finplan.sheet.care import care_card
from finplan.sheet.cautions import caution_groups
from finplan.sheet.conditions import conditions
from finplan.sheet.days import working_days
from finplan.sheet.first_page import first_page
from finplan.sheet.sanding_cards import sanding_cards
from finplan.sheet.view import sheet_of
from finplan.sheet.words import show_moment


def test_worst_dangers_are_of_different_sorts(table: Plan, hostile: Plan) -> None:
    """Of an oil: its cloths, its vapour, the dust; of a two-component spray finish never without its isocyanate."""
    assert [danger.title for danger in first_page(table).dangers] == [
        "Oily cloths",
        "Vapour that burns",
        "Hardwood dust",
    ]
    assert "Isocyanate hardener" in [danger.title for danger in first_page(hostile).dangers]


def test_items_that_get_the_same_share_a_sentence(table: Plan) -> None:
    lines = first_page(table).systems
    together = ", ".join(line.items for line in lines).replace("\u00a0", " ")
    assert "top" in together
    assert "base (leg × 4 and apron × 4)" in together
    assert all("2 coats of hardwax oil, abraded with P320 between coats" in line.sentence for line in lines)


def test_a_short_buffer_is_said(table: Plan) -> None:
    short = replace(table, timetable=replace(table.timetable, buffer_h=2.0, buffer_wanted_h=12.0))
    assert any(line.startswith("Only 2 h") and "12 h wanted" in line for line in first_page(short).critical)


def test_a_window_that_is_nearly_missed_is_said(table: Plan) -> None:
    assert not any("abraded first" in line for line in first_page(table).critical)
    coat = next(step for step in table.timetable.steps if step.step == "coat 1" and step.kind == "attended")
    after = next(step for step in table.timetable.steps if step.step == "coat 2" and step.item == coat.item)
    steps = tuple(
        replace(step, next_until=after.start + timedelta(hours=1)) if step is coat else step
        for step in table.timetable.steps
    )
    tight = replace(table, timetable=replace(table.timetable, steps=steps))
    assert any("abraded first" in line for line in first_page(tight).critical)


def test_two_components_are_poured_in_their_ratio(hostile: Plan) -> None:
    """4 to 1 by volume, and what is poured out is the sum of both: 3-1/2 + 7/8 = 4-3/8."""
    rows = [row for table in buying(hostile).coats for row in table.rows if row.mix]
    assert rows
    for row in rows:
        lacquer, hardener = (_eighths(part) for part in row.mix[0].split(" + "))
        assert lacquer == 4 * hardener
        assert _eighths(row.decant) == lacquer + hardener


def _eighths(text: str) -> int:
    amount = text.split(" fl oz")[0]
    whole, _, fraction = amount.partition("-") if "-" in amount else ("0", "", amount)
    top, _, bottom = fraction.partition("/")
    return 8 * int(whole) + (int(top) * 8 // int(bottom) if bottom else 8 * int(top))


def test_a_price_that_is_not_given_is_not_guessed(table: Plan) -> None:
    assert buying(table).total == ""
    assert [row.price for row in buying(table).materials] == ["price not given"]


def test_every_part_has_its_card_and_every_grit_its_box(table: Plan) -> None:
    cards = sanding_cards(table)
    assert [card.part.split("\u00a0")[0] for card in cards] == ["top", "leg", "apron"]
    boxes = [box.grit for card in cards for row in card.rows for box in row.grits]
    assert boxes == [step.grit for group in table.sanding.groups for step in group.steps]
    assert [card.drawing_svg for card in cards] == list(table.drawings.values())


def test_every_stretch_of_work_is_a_row_of_its_day(table: Plan) -> None:
    attended = [step for step in table.timetable.steps if step.kind == "attended"]
    rows = [row for day in working_days(table) for row in day.rows]
    assert len(rows) == len(attended)
    assert {row.who for row in rows} == {"Maker"}


def test_recoat_window_is_in_clock_times(table: Plan) -> None:
    windows = [row.window for day in working_days(table) for row in day.rows if row.label == "Coat 1"]
    assert windows
    for window in windows:
        assert window.startswith("Next coat not before ")
        assert window.endswith("; after that abrade with P320 first.")
    last = [row.window for day in working_days(table) for row in day.rows if row.label == "Coat 2"]
    assert all(window.startswith("Last coat. Leave it alone until ") for window in last)


def test_a_step_that_is_interrupted_goes_on_as_itself(table: Plan) -> None:
    first = table.timetable.steps[0]
    later = replace(first, start=first.end, end=first.end + timedelta(minutes=30))
    split = replace(table, timetable=replace(table.timetable, steps=(first, later)))
    assert [row.label for row in working_days(split)[0].rows] == ["Sand bare wood", "Sand bare wood, continued"]


def test_evening_looks_to_what_was_used(table: Plan) -> None:
    days = working_days(table)
    coated = [day for day in days if any(row.label.startswith("Coat") for row in day.rows)]
    assert all(len(day.evening) == 2 for day in coated)
    sand_only = replace(table, timetable=replace(table.timetable, steps=table.timetable.steps[:1]))
    assert working_days(sand_only)[0].evening == ()


def test_drying_that_stands_still_is_marked(hostile: Plan) -> None:
    noted = [step for step in hostile.timetable.steps if step.still_below_c is not None]
    rows = [row for day in working_days(hostile) for row in day.rows if row.warnings]
    assert len(rows) == len(noted)


def test_cautions_are_all_there_in_the_order_of_the_work(table: Plan) -> None:
    groups = caution_groups(table)
    assert sum(len(group.rows) for group in groups) == len(table.cautions)
    assert (groups[0].heading, groups[-1].heading) == ("Before you begin", "Always")


def test_the_customer_is_told_a_day_that_is_over_when_it_has_cured(table: Plan) -> None:
    last = max(moment for _, moment in table.timetable.cured)
    day = (last + timedelta(days=1)).date()
    assert f"{day.day} " in care_card(table).rows[0].cured


def test_what_the_shop_file_does_not_say_is_named_as_assumed(table: Plan, hostile: Plan) -> None:
    assert not any(row.given for row in conditions(table))
    given = {row.name for row in conditions(hostile) if row.given}
    assert given == {"time zone", "climate"}
    climate = next(row.value for row in conditions(hostile) if row.name == "climate")
    assert climate == "day 08:00–18:00 66 °F, 50 % humidity; night 45 °F, 65 % humidity"


def test_temperature_is_written_in_the_units_of_the_sheet(table: Plan, hostile: Plan) -> None:
    assert (sheet_of(table).degree, sheet_of(hostile).degree) == ("°C", "°F")


def test_no_day_is_promised_where_one_item_cures_later_than_is_looked_at(table: Plan) -> None:
    unknown = replace(table, timetable=replace(table.timetable, cured=table.timetable.cured[:1]))
    assert care_card(unknown).rows[0].cured == ""


def test_drying_in_this_plan_is_told_beside_that_of_the_label(table: Plan) -> None:
    row = appendix(table).drying[0]
    assert row.label == "next coat after 12 h (8–24 h); within 7 days; cured 14 days (7–28 days)"
    hours = [(step.end - step.start).total_seconds() / 3600 for step in table.timetable.steps if step.kind == "drying"]
    assert row.here == f"next coat after {min(hours):.0f}–{max(hours):.0f} h"


def test_sources_are_those_of_what_was_used(table: Plan) -> None:
    titles = [row.title for row in appendix(table).sources]
    assert len(titles) == len(set(titles))
    assert any(title.startswith("NFPA") for title in titles)
    assert not any("reach" in title.lower() or "diisocyanate" in title.lower() for title in titles)


def test_rubbing_out_waits_for_the_cure(rubbed: Plan) -> None:
    """Shellac is dry to recoat in hours and rubbed out in days: the coat before says the day, not the hours."""
    rows = [row for day in working_days(rubbed) for row in day.rows]
    coat = next(row for row in rows if row.label == "Coat 4")
    rubbing = next(step for step in rubbed.timetable.steps if step.step == "rub out P600")
    assert coat.window == f"Rub out P600 from {show_moment(rubbing.start)}, when it has cured."


def test_a_long_name_does_not_make_a_row_tall(table: Plan) -> None:
    name = "Ines Featherstonehaugh"
    steps = tuple(replace(step, person=name) for step in table.timetable.steps)
    row = working_days(replace(table, timetable=replace(table.timetable, steps=steps)))[0].rows[0]
    assert (row.who, row.lines[0]) == ("", f"For {name}.")

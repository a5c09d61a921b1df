"""Day by day: every stretch of work, what to know at it, and what stands wet afterwards."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from finplan.inputs import Room
from finplan.moments import not_before, show_moment
from finplan.planning import Plan, with_stages
from finplan.sheet.days import working_days
from finplan.sheet.step_row import StepRow
from finplan.telling import how_lines
from tests.sheet.changed import with_steps


def rows_of(plan: Plan) -> list[StepRow]:
    return [row for day in working_days(plan) for row in day.rows]


def test_every_stretch_of_work_is_a_row_of_its_day(table: Plan) -> None:
    attended = [step for step in table.timetable.steps if step.kind == "attended"]
    rows = [row for day in working_days(table) for row in day.rows]
    assert len(rows) == len(attended)
    assert {day.who for day in working_days(table)} == {"Maker"}
    assert {row.who for row in rows} == {""}, "one person all day: the day says it"


def test_recoat_window_is_in_clock_times(table: Plan) -> None:
    windows = [row.window for day in working_days(table) for row in day.rows if row.label == "Coat 1"]
    assert windows
    for window in windows:
        assert re.fullmatch(r"Next coat not before \w{3} \d+ \w{3} \d\d:\d\d\.", window), "it is abraded anyway"
    last = [row.window for day in working_days(table) for row in day.rows if row.label == "Coat 2"]
    assert all(window.startswith("Last coat. Leave it alone until ") for window in last)


def test_a_step_that_is_interrupted_goes_on_as_itself(table: Plan) -> None:
    first = table.timetable.steps[0]
    later = replace(first, start=first.end, end=first.end + timedelta(minutes=30))
    split = with_stages(table, timetable=replace(table.timetable, steps=(first, later)))
    assert [row.label for row in working_days(split)[0].rows] == ["Sand bare wood", "Sand bare wood, continued"]


def test_evening_looks_to_what_was_used(table: Plan) -> None:
    days = working_days(table)
    coated = [day for day in days if any(row.label.startswith("Coat") for row in day.rows)]
    for day in coated:
        cloths, lids, air = day.evening
        assert cloths.endswith("stands outdoors with its lid on.")
        assert lids == "Lids are on. Air keeps moving for as long as anything dries."
        assert air.startswith("How fast the air of shop clears nobody knows"), "the default shop's air is nobody's"
    sand_only = with_steps(table, table.timetable.steps[:1])
    assert working_days(sand_only)[0].evening == ()


def test_slow_drying_is_marked(hostile: Plan) -> None:
    noted = [step for step in hostile.timetable.steps if step.slow_below_c is not None]
    rows = [row for day in working_days(hostile) for row in day.rows if row.warnings]
    assert len(rows) == len(noted)


def test_rubbing_out_waits_for_the_cure(rubbed: Plan) -> None:
    """Shellac is dry to recoat in hours and rubbed out in days: the coat before says the day, not the hours."""
    rows = [row for day in working_days(rubbed) for row in day.rows]
    coat = next(row for row in rows if row.label.startswith("Coat 4") and not row.window.startswith("Turn"))
    cured = max(step.end for step in rubbed.timetable.steps if step.kind == "drying" and step.step.startswith("coat 4"))
    assert coat.window == f"Rub out P600 not before {show_moment(not_before(cured))}, when it has cured."


def test_a_long_name_does_not_make_a_row_tall(table: Plan) -> None:
    name = "Ines Featherstonehaugh"
    first, *others = table.timetable.steps
    steps = (replace(first, person=name), *others)
    day = working_days(with_stages(table, timetable=replace(table.timetable, steps=steps)))[0]
    assert (day.who, day.rows[0].who) == ("", "")
    assert f"For {name}." in day.rows[0].lines
    assert {row.who for row in day.rows[1:]} == {"Maker"}


def test_the_room_is_told(table: Plan) -> None:
    assert {row.room for row in rows_of(table) if not row.short} == {step.room for step in table.timetable.steps}
    far = "polishing-and-spraying shed"
    steps = tuple(replace(step, room=far) for step in table.timetable.steps)
    row = rows_of(with_stages(table, timetable=replace(table.timetable, steps=steps)))[0]
    assert row.room == ""
    assert f"Where: {far}." in row.lines


@pytest.mark.parametrize(
    ("plan", "label", "air", "unit", "source"),
    [
        ("table", "Coat 1", "Only at 12–30 °C and 30–75 % humidity.", "ml", "finishes.yaml, hardwax-oil"),
        (
            "hostile",
            "Coat 1",
            "Only at 59–86 °F and 30–75 % humidity.",
            "fl oz",
            "polyurethane-2k: 15 to 30 °C, by hand",
        ),
        ("two_systems", "Coat 2", "Only at 10–30 °C.", "g", "finishes.yaml, paste-wax: any humidity, sold by mass"),
    ],
)
def test_a_coat_has_its_air_and_a_blank_for_what_it_took(
    plan: str, label: str, air: str, unit: str, source: str, request: pytest.FixtureRequest
) -> None:
    coats = [row for row in rows_of(request.getfixturevalue(plan)) if row.label.startswith("Coat")]
    assert label in {row.label for row in coats}
    told = [row for row in coats if air in row.how]
    assert told, source
    assert all("Stir; dust off and wipe the surface." in row.how for row in told)
    assert {row.used for row in told} == {unit}


def test_a_coat_waits_for_dust_where_wood_is_sanded_beside_it(table: Plan) -> None:
    # In the default shop all is done in one room; common trade practice (work.yaml, let-dust-settle).
    words = "Begin when nobody has sanded for 30 min and the dust has settled."
    for day in working_days(table):
        told = [row for row in day.rows if row.used]
        assert not told or words in told[0].how
        assert not any(words in row.how for row in day.rows if not row.used)
    rooms = {"bench": Room.model_construct(for_=("sanding",)), **table.shop.rooms}
    apart = table.shop.model_copy(update={"rooms": rooms})
    coats = [step for one in table.treatments for step in one.steps if step.finish is not None]
    assert all(words in how_lines(step, table) for step in coats)
    assert not any(
        words in how_lines(step, with_stages(table, shop_file=replace(table.shop_file, shop=apart))) for step in coats
    )


def test_how_a_finish_is_put_on_is_told_once_a_day_and_then_recalled(table: Plan) -> None:
    for day in working_days(table):
        coats = [row for row in day.rows if row.used]
        for row in coats[1:]:
            assert row.how == (f"{coats[0].how[0]} Air and care as at {coats[0].start}.",)
    assert any(len([row for row in day.rows if row.used]) > 1 for day in working_days(table))


def test_sanding_has_no_blank_for_an_amount(table: Plan) -> None:
    assert {row.used for row in rows_of(table) if row.label.startswith(("Sand", "Abrade"))} == {""}


def test_where_the_end_of_the_window_matters_it_is_told(blend: Plan) -> None:
    """The second coat goes on the first as it is, the third after abrading."""
    windows = {row.label: row.window for row in rows_of(blend) if row.window}
    assert windows["Coat 1"].endswith("; after that abrade with P320 first.")
    assert windows["Coat 2"].startswith("Next coat not before ")
    assert "not after" not in windows["Coat 2"]


def test_cautions_stand_where_they_fall_due(two_systems: Plan) -> None:
    """Isocyanate in the lacquer alone, vapour in lacquer and oil, cloths and dust of the oil alone."""
    rows = rows_of(two_systems)
    lacquered = [row for row in rows if row.label.startswith("Coat") and row.item == "top (top and edge)"]
    oiled = [row for row in rows if row.label.startswith("Coat") and row.item == "base (leg; apron: back)"]
    abraded = [row for row in rows if row.label.startswith("Abrade")]
    assert lacquered
    assert oiled
    for row in lacquered:
        assert "The hardener is isocyanate" in " ".join(row.cautions)
        assert any("breathing protection as the safety data sheet demands" in line for line in (*row.before, row.wear))
        assert row.ticks == ()
    for row in oiled:
        assert row.cautions[0] == "No flame, no spark; air moving."
        # Beside wet lacquer the air is the lacquer's; alone it is that of a shop that says nothing of it.
        shared = "Air alone does not do for isocyanate." in row.cautions
        assert shared or row.cautions[1].startswith("Air not known: ")
        assert shared is any("breathing protection" in line for line in (*row.before, row.wear))
        assert row.ticks == (), "at the clean-up"
    for row in abraded:
        said = " ".join((*row.cautions, *row.before, row.wear))
        assert ("heats by itself" in said) is (row.item == "base (leg; apron: back)"), row.item
        assert ("P100 or P3 filters" in said) is (row.item != "base (leg; apron: back)"), (
            "the lacquer is still reacting"
        )
    for row in (row for row in rows if row.label == "Sand bare wood"):
        assert "dust mask" in " ".join((*row.before, row.wear))


@pytest.mark.parametrize("name", ["table", "hostile", "rubbed", "two_systems"])
def test_only_what_is_wet_when_the_work_ends_is_left_alone(name: str, request: pytest.FixtureRequest) -> None:
    plan: Plan = request.getfixturevalue(name)
    ends: dict[object, datetime] = {}
    for step in plan.timetable.steps:
        if step.kind == "attended":
            day = step.start.date()
            ends[day] = max(step.end, ends.get(day, step.end))
    drying = [step for step in plan.timetable.steps if step.kind == "drying"]
    wet = [sum(step.start <= end < step.end for step in drying) for end in ends.values()]
    assert [len(day.drying) for day in working_days(plan)] == wet
    assert sum(wet) > 0


def test_loose_parts_that_get_the_same_share_a_row(panels: Plan) -> None:
    """Every stretch of work is there once, with a box of its own, and no row is taller than a page."""
    attended = [step for step in panels.timetable.steps if step.kind == "attended"]
    rows = rows_of(panels)
    told = [f"{item.item} {row.label}" for row in rows for item in row.items]
    told += [f"{row.item} {row.label}" for row in rows if not row.items and not row.short]
    work = [step for step in attended if step.deed != "clean-up"]
    assert sorted(told) == sorted(f"{step.item} {step.step[0].upper()}{step.step[1:]}" for step in work)
    assert len([row for row in rows if row.short]) == len(attended) - len(work) == 2
    assert len(rows) < len(attended) / 2
    assert max(len(row.items) for row in rows) <= 12


def test_what_is_shared_holds_for_every_item(panels: Plan) -> None:
    """Of a shared coat each item has its amount, and the window is that of the last that opens."""
    coats = [row for row in rows_of(panels) if row.items and row.used]
    assert coats
    for row in coats:
        assert all(item.key for item in row.items)
        label = row.label[0].lower() + row.label[1:]
        names = {item.item for item in row.items}
        opens = [step.next_from for step in panels.timetable.steps if step.item in names and step.step == label]
        latest = max(moment for moment in opens if moment is not None)
        assert show_moment(latest) in row.window


def test_abrading_for_a_window_that_has_closed(table: Plan) -> None:
    """The row that is put in before a late coat is abrading by hand of fresh oil, and no coat itself."""
    coat = next(step for step in table.timetable.steps if step.step == "coat 2" and step.kind == "attended")
    again = f"{coat.id}/abrade"
    abrading = replace(coat, id=again, deed="abrade-again", step="abrade again P320 before coat 2", next_from=None)
    late = with_steps(table, (abrading,))
    (row,) = rows_of(late)
    assert row.label == "Abrade again P320 before coat 2"
    assert row.lines[-1].startswith("The coat below has stood too long")
    (dust,) = row.cautions
    assert dust.startswith("Dust of fresh finish heats by itself.")
    assert (row.used, row.key, row.window, row.ticks) == ("", "", "", ())
    assert working_days(late)[0].evening == ()

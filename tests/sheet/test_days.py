"""Day by day: every stretch of work, what to know at it, and what stands wet afterwards."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

import pytest

import finplan
from finplan.inputs import Room
from finplan.moments import not_before, show_clock, show_moment
from finplan.planning import Plan, with_stages
from finplan.safety import CartridgesSpent, Duty
from finplan.sheet import sheet_html
from finplan.sheet.day_room import SETTINGS, DaySizes, day_mm, days_placed
from finplan.sheet.days import OnlyDays, WorkingDay, only_days, working_days
from finplan.sheet.room import PAGE_MM, PageSize
from finplan.sheet.sessions import WorkSession
from finplan.sheet.step_row import StepRow
from finplan.telling import Names, NextWork, before_coat_lines, duty_words
from tests.sheet.changed import with_steps


def rows_of(plan: Plan) -> list[StepRow]:
    return [row for day in working_days(plan) for row in day.rows]


def sessions_of(day: WorkingDay) -> list[WorkSession]:
    return [session for of_one in day.people for session in of_one.sessions]


def test_every_stretch_of_work_is_a_row_of_its_day(table: Plan) -> None:
    attended = [step for step in table.timetable.steps if step.kind == "attended"]
    rows = [row for day in working_days(table) for row in day.rows]
    assert len(rows) == len(attended)
    for day in working_days(table):
        (person,) = day.people
        assert person.person == "Maker"
        assert day.who == f"Maker {person.hours}"


def test_days_are_kept_whole_and_set_as_wide_as_their_pages_allow(table: Plan) -> None:
    """Set closer only where that saves a page, and split only where that saves a quarter of them."""
    day, page = working_days(table)[0], PAGE_MM["A4"]
    wide, close = (day_mm(day, "A4", sizes) for sizes in SETTINGS)
    assert 0.2 * page < close < wide < page
    (alone, room) = (days_placed([day], begun, "A4") for begun in (0.0, page - 1.07 * wide))
    assert (alone.setting, alone.pages, alone.filled_mm) == ("", 1, wide)
    assert (room.setting, room.pages) == ("", 1)
    closer = days_placed([day], page - 1.07 * close, "A4")
    assert (closer.setting, closer.pages, closer.going_on) == ("close", 1, frozenset())
    assert not days_placed([day] * math.floor(page / wide), 0.0, "A4").going_on
    longer = days_placed([day] * math.floor(2.9 * page / close), 0.0, "A4")
    assert (longer.setting, longer.pages, longer.going_on) == ("close", 3, frozenset({day.anchor})), (
        "whole they take four"
    )
    as_many_in_all = days_placed([day, day], page - 1.07 * close, "A4", lambda _: 6)
    assert not as_many_in_all.going_on, "set closer they take as few whole, whatever comes behind them"


def test_of_two_settings_the_one_that_parts_fewer_days_is_better(table: Plan, monkeypatch: pytest.MonkeyPatch) -> None:
    """Set wide a second day went on over the page, or took one more than reckoned: rows stand on theirs as a whole."""
    heights_mm = {"": (54.0, 338.0, 151.0, 126.0, 33.0), "close": (47.0, 285.0, 130.0, 105.0, 28.0)}

    def as_given(day: WorkingDay, _: PageSize, sizes: DaySizes) -> float:
        return heights_mm[sizes.name][int(day.anchor)]

    monkeypatch.setattr("finplan.sheet.day_room.day_mm", as_given)
    days = [replace(working_days(table)[0], anchor=str(number)) for number in range(5)]
    placed = days_placed(days, 0.0, "A4", lambda placed: placed.pages + 4.0)
    assert (placed.setting, placed.pages, placed.going_on) == ("close", 3, frozenset("1"))


def test_recoat_window_is_in_clock_times(table: Plan) -> None:
    windows = [row.window for day in working_days(table) for row in day.rows if row.label == "Coat 1"]
    assert windows
    for window in windows:
        moment = r"\w{3} \d+ \w{3} \d\d:\d\d"
        assert re.fullmatch(rf"Dry {moment}(, then|; next: {moment}) abrade P320 \(step \d+\)\.", window), (
            "it is abraded anyway"
        )
    last = [one for day in working_days(table) for one in day.rows_in_sessions if one[1].label == "Coat 2"]
    assert last
    for session, row in last:
        assert "The coat below sets no limit." in (row.below, *session.way)
        assert re.match("Last coat. (Leave|Dry)", row.window)


def test_a_step_that_is_interrupted_goes_on_as_itself(table: Plan) -> None:
    first = table.timetable.steps[0]
    later = replace(first, start=first.end, end=first.end + timedelta(minutes=30))
    split = with_stages(table, timetable=replace(table.timetable, steps=(first, later)))
    assert [row.label for row in working_days(split)[0].rows] == ["Sand bare wood", "Sand bare wood, continued"]


def test_evening_looks_to_what_was_used(table: Plan) -> None:
    days = working_days(table)
    coated = [day for day in days if any(row.label.startswith("Coat") for row in day.rows)]
    for day in coated:
        cloths, *dust, lids, air = day.evening
        assert cloths.endswith("stands outdoors with its lid on.")
        fresh = any(row.label.startswith("Abrade") for row in day.rows)
        assert [line.startswith("Cloth and used paper with dust of fresh finish") for line in dust] == [True] * fresh
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
    coat = next(row for row in rows if row.label.startswith("Coat 4") and "turn it over" not in row.window)
    cured = max(step.end for step in rubbed.timetable.steps if step.kind == "drying" and step.step.startswith("coat 4"))
    assert f"Cured {show_moment(not_before(cured))}" in coat.window
    assert coat.window.endswith(" rub out P600 (step 20).")


def test_the_work_of_each_of_several_people_stands_together(table: Plan) -> None:
    name = "Ines Featherstonehaugh"
    first, *others = table.timetable.steps
    steps = (replace(first, person=name), *others)
    day = working_days(with_stages(table, timetable=replace(table.timetable, steps=steps)))[0]
    assert [one.person for one in day.people] == [name, "Maker"]
    assert day.people[0].hours == f"{show_clock(first.start)}–{show_clock(first.end)}"
    assert all(f"{one.person} {one.hours}" in day.who for one in day.people)
    assert [len(session.rows) for session in day.people[0].sessions] == [1]


def test_what_is_printed_for_one_person_says_when_that_one_works_again(table: Plan) -> None:
    first, *others = table.timetable.steps
    shared = with_stages(table, timetable=replace(table.timetable, steps=(replace(first, person="Ines"), *others)))
    days = working_days(shared)
    (alone,) = only_days(days, OnlyDays(person="Ines"))
    assert alone.next_work == "Last day of work of Ines."
    later = only_days(days, OnlyDays(person="Maker"))
    assert [day.day for day in later] == [day.day for day in days]
    begins = {day.day: min(row.start for row in others if row.person and row.start.date() == day.day) for day in days}
    for day, after in pairwise(later):
        assert day.next_work.startswith(f"Next work of Maker: {show_moment(begins[after.day])}")
    assert later[-1].next_work == days[-1].next_work
    assert only_days(days, OnlyDays(day=days[0].day))[0].next_work == days[0].next_work, "that of the shop"


def test_cartridges_that_are_spent_in_the_midst_part_no_row(panels: Plan) -> None:
    """They are told with the panel after which they are changed, and of the last one as what is ticked at the end."""
    joint = next(row for row in rows_of(panels) if row.items and row.used)
    coats = [row for row in panels.timetable.steps if row.kind == "attended" and row.deed == "coat"]
    for at, before in ((2, "After panel 2: "), (len(joint.items) - 1, "")):
        spent = Duty(coats[at].end, coats[at].id, CartridgesSpent("Maker", 2.0))
        ticks = (*panels.precautions.ticks, spent)
        changed = with_stages(panels, precautions=replace(panels.precautions, ticks=ticks), timetable=panels.timetable)
        rows = [row for row in rows_of(changed) if row.items and row.used]
        assert [item.item for item in rows[0].items] == [item.item for item in joint.items]
        assert f"{before}{duty_words(spent, changed)}" in rows[0].ticks


def test_the_room_is_told_where_it_changes(table: Plan) -> None:
    rooms = {step.room for step in table.timetable.steps}
    assert {session.room for day in working_days(table) for session in sessions_of(day)} <= {*rooms, ""}
    assert all(sessions_of(day)[0].room for day in working_days(table))
    coats = [row for row in table.timetable.steps if row.deed in ("coat", "clean-up")]
    steps = tuple(replace(row, room="far shed") if row in coats else row for row in table.timetable.steps)
    days = working_days(with_stages(table, timetable=replace(table.timetable, steps=steps)))
    told = [session.room for day in days for session in sessions_of(day) if session.room]
    assert set(told) == {*rooms, "far shed"}


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
    """The air is read once for all that is put on without a pause, before the tin is opened."""
    days = working_days(request.getfixturevalue(plan))
    coats = [one for day in days for one in day.rows_in_sessions if one[1].label.startswith("Coat")]
    assert label in {row.label for _, row in coats}
    told = [(session, row) for session, row in coats if air in {one.told for one in session.air}]
    assert told, source
    assert all("Stir; dust off and wipe the surface." in session.ticks for session, _ in told)
    assert all(session.title == "Before you open the tin" for session, _ in coats)
    assert unit in {row.used for _, row in told}


def test_a_coat_waits_for_dust_where_wood_is_sanded_beside_it(table: Plan) -> None:
    # In the default shop all is done in one room; common trade practice (work.yaml, let-dust-settle).
    words = "Begin when nobody has sanded for 30 min and the dust has settled."
    for session in (one for day in working_days(table) for one in sessions_of(day)):
        assert (words in session.ticks) is any(row.used for row in session.rows)
    rooms = {"bench": Room.model_construct(for_=("sanding",)), **table.shop.rooms}
    apart = table.shop.model_copy(update={"rooms": rooms})
    coats = [step for one in table.treatments for step in one.steps if step.finish is not None]
    assert all(words in before_coat_lines(step, table) for step in coats)
    elsewhere = with_stages(table, shop_file=replace(table.shop_file, shop=apart))
    assert not any(words in before_coat_lines(step, elsewhere) for step in coats)


def test_what_holds_for_a_session_is_told_before_it_and_not_at_its_rows(table: Plan) -> None:
    for session in (one for day in working_days(table) for one in sessions_of(day)):
        assert len(set(session.ticks)) == len(session.ticks)
        for row in session.rows:
            assert not set(row.cautions) & set(session.cautions)
            assert not set(row.lines) & set(session.lines)
            assert not row.wear or row.wear.removeprefix("Wear: ") not in " ".join(session.ticks)


def test_until_when_a_step_may_begin_stands_beside_it(table: Plan) -> None:
    begun = {row.id: row for row in reversed(table.timetable.steps) if row.kind == "attended"}
    wanted = {
        f"Latest start {show_moment(latest)}."
        for name, latest in table.slips.latest.items()
        if latest > begun[name].start
    }
    assert wanted
    assert {row.latest for row in rows_of(table) if row.latest.startswith("Latest")} == wanted
    assert not any(row.latest for row in rows_of(table) if row.short)


def test_nobody_is_sent_to_a_coat_at_night(table: Plan, blend: Plan, rubbed: Plan) -> None:
    """What is dry at night is told as dry, and beside it when somebody works."""
    nights = 0
    for plan in (table, blend, rubbed):
        next_work = NextWork(plan)
        for step in plan.timetable.steps:
            if step.kind != "attended" or step.deed != "coat" or step.alone_until is None:
                continue
            opens = not_before(step.alone_until)
            at_work = next_work.working(opens)
            shifts = [
                (at_work.replace(hour=0, minute=0) + timedelta(minutes=one.start_min), one.end_min - one.start_min)
                for person in plan.shop.people
                for one in plan.shop.shifts(person, at_work.date())
            ]
            assert any(start <= at_work < start + timedelta(minutes=long) for start, long in shifts)
            (row,) = (
                row
                for row in rows_of(plan)
                if row.number == (str(step.number) if step.number else "")
                and row.start == show_clock(step.start)
                and row.label.lower() == step.step
                and row.item == step.item
            )
            if at_work > opens and "Last coat." in row.window:
                nights += 1
                assert f"Dry {show_moment(opens)}; leave it alone until {show_moment(at_work)}" in row.window
    assert nights


def test_sanding_has_no_blank_for_an_amount(table: Plan) -> None:
    assert {row.used for row in rows_of(table) if row.label.startswith(("Sand", "Abrade"))} == {""}


def test_where_the_end_of_the_window_matters_it_is_told(blend: Plan) -> None:
    """The second coat goes on the first as it is, the third after abrading."""
    windows = {row.label: f"{row.below} {row.window}".strip() for row in rows_of(blend) if row.window}
    assert windows["Coat 1"].endswith("; after that abrade with P320 first.")
    assert "The next coat goes on not after " in windows["Coat 1"]
    assert windows["Coat 2"].startswith("It may go on until ")
    assert "not after" not in windows["Coat 2"]
    assert windows["Coat 3"].startswith("The coat below sets no limit.")


def test_cautions_stand_where_they_fall_due(two_systems: Plan) -> None:
    """Isocyanate in the lacquer alone, vapour in lacquer and oil, cloths and dust of the oil alone."""
    rows = [one for day in working_days(two_systems) for one in day.rows_in_sessions]
    coated = [one for one in rows if one[1].label.startswith("Coat")]
    lacquered = [one for one in coated if one[1].item == "top (top and edge)"]
    oiled = [one for one in coated if one[1].item == "base (leg; apron: back)"]
    abraded = [one for one in rows if one[1].label.startswith("Abrade")]
    assert lacquered
    assert oiled
    for session, row in lacquered:
        assert "The hardener is isocyanate" in minded(session, row)
        assert "breathing protection as the safety data sheet demands" in minded(session, row)
        assert row.ticks == ()
    for session, row in oiled:
        assert "No flame, no spark; air moving." in minded(session, row)
        # Beside wet lacquer the air is the lacquer's; alone it is that of a shop that says nothing of it.
        shared = "Air alone does not do for isocyanate." in minded(session, row)
        assert shared or "Air not known: " in minded(session, row)
        assert row.ticks == (), "at the clean-up"
    for session, row in abraded:
        said = minded(session, row)
        if row.item == "base (leg; apron: back)":
            assert "heats by itself" in said
        elif row.label == "Abrade P240":
            assert "P100 or P3 filters" not in said, "of filler there is no lacquer yet"
        else:
            assert "P100 or P3 filters" in said, "the lacquer is still reacting"
    for session, row in (one for one in rows if one[1].label == "Sand bare wood"):
        assert "dust mask" in minded(session, row)


def minded(session: WorkSession, row: StepRow) -> str:
    """All that is said of safety at a row and before its session."""
    return " ".join((*session.ticks, *session.cautions, *session.lines, row.wear, *row.cautions, *row.lines))


@pytest.mark.parametrize("name", ["table", "hostile", "rubbed", "two_systems"])
def test_only_what_is_wet_when_the_work_ends_is_left_alone(name: str, request: pytest.FixtureRequest) -> None:
    plan: Plan = request.getfixturevalue(name)
    ends: dict[object, datetime] = {}
    for step in plan.timetable.steps:
        if step.kind == "attended":
            day = step.start.date()
            ends[day] = max(step.end, ends.get(day, step.end))
    drying = [step for step in plan.timetable.steps if step.kind == "drying"]
    names = Names(plan)
    wet = [[step for step in drying if step.start <= end < step.end] for end in ends.values()]
    for printed, left in zip(working_days(plan), wet, strict=True):
        told = "; ".join(printed.drying)
        assert bool(told) is bool(left)
        assert all(names.of_row(step) in told and step.step.removesuffix(" dries") in told for step in left)
    assert any(wet)


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
    assert any(line.startswith("The coat below has stood too long") for line in row.lines)
    (session,) = sessions_of(working_days(late)[0])
    (dust,) = session.cautions
    assert dust.startswith("Dust of fresh finish heats by itself.")
    assert (row.used, row.key, row.window, row.ticks) == ("", "", "", ())
    (evening,) = working_days(late)[0].evening
    assert evening.startswith("Cloth and used paper with dust of fresh finish are under water")


def test_days_without_work_are_counted(table: Plan, hostile: Plan, rubbed: Plan) -> None:
    counted = []
    for days in map(working_days, (table, hostile, rubbed)):
        idle = [(after.day - one.day).days - 1 for one, after in pairwise(days)]
        told = [re.search(r"no work for (?:a day|(\d+) days)", one.next_work) for one in days[:-1]]
        assert [0 if one is None else int(one[1] or 1) for one in told] == idle
        counted += idle
    assert any(counted)


def test_what_each_of_several_finishes_wants_of_the_air_is_said_of_it() -> None:
    """Shellac wants 15 °C and oil 12 °C: without their names two readings of one thermometer contradict each other."""
    text = (
        "piece: Box and lid\nlengths: mm\ntimber: beech\ndeliver: 2027-06-18\nparts:\n"
        "  box: {shape: board, length: 400, width: 300, thickness: 12, system: hardwax-oil}\n"
        "  lid: {shape: board, length: 300, width: 60, thickness: 20, system: shellac}\n"
    )
    cold = (
        "shop: Cold at night\nclimate:\n  day: {from: 7:00, to: 18:00, temperature: 20 degC, humidity: 50 %}\n"
        "  night: {temperature: 10 degC, humidity: 55 %}\n"
    )
    plan = finplan.plan(text, shop=cold, start="2027-06-01 08:00")
    sessions = [one for day in working_days(plan) for person in day.people for one in person.sessions]
    several, single = ([one for one in sessions if (len(one.air) > 1) is many] for many in (True, False))
    assert several
    for session in several:
        warm = [line for line in (*session.ticks, *(air.told for air in session.air)) if "°C" in line]
        assert sorted(line.partition(":")[0] for line in warm) == ["Hardwax oil", "Hardwax oil", "Shellac", "Shellac"]
    assert any(air.told.startswith("Only at") for session in single for air in session.air)
    assert "Shellac: only at" in sheet_html(plan)


def test_what_is_said_of_several_items_alike_is_told_once_with_their_names(panels: Plan) -> None:
    """Each has its line with a box all the same, and what is its own alone stands there."""
    together = 0
    for row in (row for row in rows_of(panels) if row.items):
        own = [item.lines for item in row.items if item.lines]
        assert len(set(own)) == len(own), "what two have is said of both at once"
        bare = [item.item for item in row.items if not item.lines]
        told = [line for line in row.lines if line.partition(":")[0].lower().startswith(tuple(bare))] if bare else []
        names = {name for line in told for name in re.split(", | and ", line.partition(":")[0].lower())}
        assert names in (set(), set(bare))
        together += len(told)
    assert together

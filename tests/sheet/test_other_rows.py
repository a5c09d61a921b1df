"""Rows beside sanding and coating, coats on one side at a time, and coats that share a clean-up."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from finplan.moments import not_before, show_clock, show_long_day, show_moment
from finplan.planning import Plan, with_stages
from finplan.sheet.days import working_days
from finplan.sheet.first_page import first_page
from finplan.sheet.picture import picture
from finplan.sheet.sessions import WorkSession
from finplan.sheet.step_row import StepRow
from finplan.showing import show_measured
from finplan.telling import Mixing, not_to_plan, runs_of_coats, sequence_words
from finplan.timetable import RackShort, TimetableStep
from tests.sheet.changed import with_steps
from tests.sheet.left_alone import moment

CLOTHS = re.compile(
    r"(Up to \d+ cloths|One cloth), pads and gloves: flat outdoors in one layer, or under water in .*can "
)


def rows_of(plan: Plan) -> list[StepRow]:
    return [row for day in working_days(plan) for row in day.rows]


def in_sessions(plan: Plan) -> list[tuple[WorkSession, StepRow]]:
    """Every row with the session before which some of it may be told."""
    return [one for day in working_days(plan) for one in day.rows_in_sessions]


def coats_of(plan: Plan) -> list[TimetableStep]:
    return [step for step in plan.timetable.steps if step.kind == "attended" and step.deed == "coat"]


def test_a_step_of_sanding_says_which_faces_get_other_grits_as_the_card_does(table: Plan) -> None:
    """Whoever works from the step alone does not take the coarsest grit of the foot's end to all of a leg."""
    (piece,) = table.pieces
    told = " ".join(line.replace("\u00a0", " ") for row in rows_of(table) for line in row.lines)
    parts = {sanded.group.part for sanded in piece.sanding.groups if sanded.steps}
    for part in parts:
        groups = [sanded for sanded in piece.sanding.groups if sanded.group.part == part and sanded.steps]
        assert sequence_words(groups).replace("\u00a0", " ") in told
    assert "Otherwise: " in told
    assert len(parts) > 2


# --- cleaning up ----------------------------------------------------------------------------------------------------


def test_a_clean_up_is_one_line_with_the_cloths_to_tick(table: Plan) -> None:
    """With what the catalogue cleans a hardwax oil; its cloths heat themselves, so that they are seen to there."""
    found = [row for row in rows_of(table) if row.short]
    planned = [step for step in table.timetable.steps if step.deed == "clean-up"]
    assert len(found) == len(planned) > 0
    for row in found:
        assert row.label == "Clean up with white spirit"
        assert (row.item, row.lines, row.cautions, row.window, row.used) == ("", (), (), "", "")
        assert (row.wear, row.latest) == ("", ""), "what is worn is told before the tin is opened"
        (tick,) = row.ticks
        assert CLOTHS.match(tick)
    others = [tick for row in rows_of(table) if not row.short for tick in row.ticks]
    assert not any(CLOTHS.match(tick) for tick in others)


def test_a_lacquer_leaves_no_cloths_to_tick(doors: Plan) -> None:
    assert {(row.label, row.ticks) for row in rows_of(doors) if row.short} == {
        ("Clean up with its own thinner, at once", ())
    }


def test_without_a_clean_up_the_cloths_are_ticked_at_the_coat(table: Plan) -> None:
    left = with_steps(table, [step for step in table.timetable.steps if step.deed != "clean-up"])
    for day in working_days(left):
        coats = [row for row in day.rows if row.label.startswith("Coat")]
        ticked = [any(CLOTHS.match(tick) for tick in row.ticks) for row in coats]
        assert ticked == [False] * (len(coats) - 1) + [True] * bool(coats), "once the last in one go is done"


def test_a_clean_up_says_who_only_where_there_are_several(table: Plan) -> None:
    """It stands among the work of whoever does it."""
    steps = [replace(step, person="Ines") if step.item == "top" else step for step in table.timetable.steps]
    for day in working_days(with_steps(table, steps)):
        for of_one in day.people:
            own = [step for step in steps if (step.person or "") == of_one.person and step.deed == "clean-up"]
            starts = {show_clock(step.start) for step in own if show_long_day(step.start.date()) == day.heading}
            assert {row.start for session in of_one.sessions for row in session.rows if row.short} == starts


# --- coats in one go ------------------------------------------------------------------------------------------------


def test_coats_between_two_clean_ups_are_a_run(panels: Plan, doors: Plan) -> None:
    for plan, coats_of_run in ((panels, 14), (doors, 2)):
        found = runs_of_coats(plan)
        assert set(found) == {step.id for step in coats_of(plan)}
        assert {len(run.coats) for run in found.values()} == {coats_of_run}
        for coat_id, run in found.items():
            assert run.after(run.coats[-1].id) is None
            after = run.after(coat_id)
            assert after is None or after.start >= next(one.end for one in run.coats if one.id == coat_id)


def test_a_coat_that_goes_on_with_the_same_tool_says_so(doors: Plan) -> None:
    rows = [row for row in rows_of(doors) if not row.short]
    told = [any(line.endswith("same tool; clean up after the last.") for line in row.lines) for row in rows]
    run = runs_of_coats(doors)
    first = [bool(step.id in run and run[step.id].after(step.id)) for step in _work(doors)]
    assert told == first
    assert sum(told) == 4, "two coats, two sides each"


def _work(plan: Plan) -> list[TimetableStep]:
    return [step for step in plan.timetable.steps if step.kind == "attended" and step.deed != "clean-up"]


def test_items_that_share_a_row_say_it_once(panels: Plan) -> None:
    coats = [row for row in rows_of(panels) if row.items and row.used]
    assert all(row.lines[-1] == "One after the other with the same tool; clean up after the last." for row in coats)
    assert all(row.lines[0].startswith("For each: Back first") for row in coats)
    assert not any("Back first" in line for row in coats for item in row.items for line in item.lines)


def test_a_mix_lasts_from_the_first_coat_of_its_run(doors: Plan) -> None:
    """Two hours by the catalogue, at 20 °C 2 h 27 min, from the moment at which it is mixed for both."""
    for run in set(runs_of_coats(doors).values()):
        until = show_clock(run.start + timedelta(hours=2, minutes=25))
        mixes = [
            one.mix
            for row in run.coats
            for one in [doors.materials.measured_at(row.of_step or "", row.side)]
            if one is not None
        ]
        taken_ml = sum(one.of_batch.volume_ml or 0 for one in mixes)
        hardener = math.ceil(taken_ml / 5)
        lacquer = 4 * hardener
        begins = (
            f"Use the mix within 2 h 25 min; mix one batch for 2 coats at {show_clock(run.start)}: {lacquer:.0f} ml"
        )
        rows = [row for row in told_of(doors) if row.startswith(begins) and row.endswith(f"; it lasts until {until}.")]
        assert len(rows) >= 2
        assert all(f" + {hardener:.0f} ml" in row for row in rows)
        most = show_measured(sum(one.up_to_ml for one in mixes), "metric")
        assert all(f", more at hand for up to {most} in all; it lasts" in row for row in rows), "of both, for the batch"


def test_a_mix_that_lasts_into_another_day_names_it(doors: Plan) -> None:
    """The same work put off into the night."""
    first = min(run.start for run in runs_of_coats(doors).values())
    later = first.replace(hour=23, minute=0) - first
    moved = [replace(step, start=step.start + later, end=step.end + later) for step in doors.timetable.steps]
    night = with_steps(doors, moved)
    run = min(runs_of_coats(night).values(), key=lambda run: run.start)
    assert run.start.hour == 23
    until = show_moment(run.start + timedelta(hours=2, minutes=25))
    assert any(line.endswith(f"; it lasts until {until}.") for line in told_of(night))


def told_of(plan: Plan) -> list[str]:
    """What is told before sessions and at rows, with spaces at which lines break."""
    return [line.replace("\u00a0", " ") for session, row in in_sessions(plan) for line in (*session.way, *row.lines)]


def test_a_mix_that_a_run_outlasts_is_mixed_anew(doors: Plan) -> None:
    late = {step.id for step in coats_of(doors) if runs_of_coats(doors)[step.id].after(step.id) is None}
    steps = [
        replace(step, end=step.end + timedelta(hours=2)) if step.id in late else step for step in doors.timetable.steps
    ]
    coats = [(session, row) for session, row in in_sessions(with_steps(doors, steps)) if row.used]
    assert coats
    words = "Use the mix within 2 h 25 min: mix anew for each coat."
    assert all(words in (*session.way, *row.lines) for session, row in coats)


@pytest.mark.parametrize(("pause", "anew"), [(timedelta(minutes=30), False), (timedelta(hours=14), True)])
def test_a_mix_that_does_not_last_over_a_break_is_mixed_anew_after_it(
    doors: Plan, pause: timedelta, anew: bool
) -> None:
    """A coat for which no stretch is long enough: over a night its mix sets, over a short break it does not."""
    coat, work = coats_of(doors)[0], timedelta(minutes=10)
    torn = [replace(coat, start=at, end=at + work) for at in (coat.start, coat.start + work + pause)]
    plan = with_steps(doors, torn)
    words = (
        "Use the mix within 2 h 25 min: none of it lasts over the break, so use it up before, and mix anew after it."
    )
    assert (words in told_of(plan)) == anew
    mixed = [
        line.replace("\u00a0", " ")
        for _, row in in_sessions(plan)
        for line in (*row.lines, *(one for item in row.items for one in item.lines))
        if line.startswith(("Mix once", "In all"))
    ]
    assert mixed
    assert {line.startswith("In all") for line in mixed} == {anew}
    assert all(line.endswith("in this ratio what goes on before the next break.") == anew for line in mixed)


def test_of_two_people_each_ones_work_is_gathered(panels: Plan) -> None:
    """Where two sand in turn, the rows are still those of several items."""
    sanding = [step for step in panels.timetable.steps if step.deed == "sand"]
    steps = [replace(step, person=("Ines", "Tam")[number % 2]) for number, step in enumerate(sanding)]
    days = working_days(with_steps(panels, steps))
    people = [
        (of_one.person, row) for day in days for of_one in day.people for one in of_one.sessions for row in one.rows
    ]
    assert [(name, len(row.items)) for name, row in people] == [("Ines", 7), ("Tam", 7)]


# --- one side at a time ---------------------------------------------------------------------------------------------


def turned_over(window: str, fit: datetime, plan: Plan) -> bool:
    """Whether it is told to be turned over when it is fit, and somebody is there who is at nothing else then."""
    found = re.search(r"turn it over (then|\w{3} \d+ \w{3} \d\d:\d\d)", window)
    assert found is not None
    when = fit if found[1] == "then" else moment(found[1], fit)
    (person,) = plan.shop.people
    midnight = when.replace(hour=0, minute=0)
    there = any(
        midnight + timedelta(minutes=one.start_min) <= when < midnight + timedelta(minutes=one.end_min)
        for one in plan.shop.shifts(person, when.date())
    )
    at_work = [row for row in plan.timetable.steps if row.person and row.start <= when < row.end]
    return when >= fit and there and all(row.start == when for row in at_work)


def test_the_back_is_first_and_is_turned_when_fit_to_handle(doors: Plan) -> None:
    begun = {step.id: step for step in coats_of(doors)}
    first = [step for step in begun.values() if step.id.endswith("/first-side")]
    rows = {(row.item, row.label): row for row in rows_of(doors)}
    assert len(first) == 4
    dry = {row.id: row.end for row in doors.timetable.steps if row.kind == "drying"}
    for step in first:
        fit = not_before(dry[f"{step.id}/dry"])
        other = begun[f"{step.id.removesuffix('/first-side')}/second-side"]
        row = rows[step.item, step.step[0].upper() + step.step[1:]]
        assert "First the back alone." in row.lines[:2], "behind what is put on and how, or that is told before"
        assert row.window.startswith(f"Fit to handle {show_moment(fit)}")
        assert turned_over(row.window, fit, doors)
        assert other.step in row.window
        turned = rows[other.item, other.step[0].upper() + other.step[1:]]
        assert (
            "Turned over: the front, top-edge, bottom-edge and ends. It lies on the back: soft, clean rests."
            in (turned.lines[:2])
        )
        assert "Dry " in turned.window or "Last coat. Leave it alone until" in turned.window


def test_the_next_coat_waits_for_both_sides(doors: Plan) -> None:
    """Where the side that was coated first is the later one to be fit for the next coat, its time is told."""
    first = next(step for step in coats_of(doors) if step.id.endswith("/first-side"))
    second = next(step for step in coats_of(doors) if step.id == first.id.replace("/first-", "/second-"))
    assert second.next_from is not None
    slow = second.next_from + timedelta(days=1)
    steps = [replace(step, next_from=slow) if step.id == first.id else step for step in doors.timetable.steps]
    windows = [row.window for row in rows_of(with_steps(doors, steps)) if row.item == first.item]
    assert any(f"Dry {show_moment(slow)}" in window for window in windows)


def test_the_sides_of_a_coat_are_all_of_it(doors: Plan) -> None:
    """What both sides need is what the coat needs; the back has about as much as the front without the edges."""
    for treatment in doors.treatments:
        for step in treatment.steps:
            coat = doors.materials.coat_of(step.id)
            if coat is None or step.do != "coat":
                continue
            back, front = (one.coat for one in doors.materials.measured_of(coat))
            both = back.needed_ml.plus(front.needed_ml)
            assert (both.low, both.typical, both.high) == pytest.approx(
                (coat.needed_ml.low, coat.needed_ml.typical, coat.needed_ml.high)
            )
            assert back.area_m2 + front.area_m2 == pytest.approx(coat.area_m2)
            assert back.area_m2 == pytest.approx(0.7 * 0.45), "by hand"
            assert 1.0 < front.needed_ml.typical / back.needed_ml.typical < 1.4


def test_what_is_mixed_for_a_side_is_in_its_ratio(doors: Plan) -> None:
    """Four to one by volume, by the catalogue; what is poured out is both together."""
    mixing = Mixing(doors.catalogue, "metric")
    coats = [
        one for need in doors.materials.materials for coat in need.coats for one in doors.materials.measured_of(coat)
    ]
    assert coats
    for one in coats:
        mixed = mixing.lines(one)[0].replace("\u00a0", " ")
        lacquer, hardener = (float(part.split(" ml")[0]) for part in mixed.removeprefix("mix once: ").split(" + "))
        assert lacquer == 4 * hardener
        assert mixing.poured(one).replace("\u00a0", " ") == f"{lacquer + hardener:.0f} ml"
    assert not any("Mix once" in line for row in rows_of(doors) for line in row.lines), "one batch is told for both"


@pytest.mark.parametrize(
    ("item", "first", "source"),
    [
        ("top", "Underside first, then lay it on points and do the rest.", "an oil, both faces show or not: one go"),
        ("base", None, "an assembly has no two wide faces"),
    ],
)
def test_what_is_coated_in_one_go_begins_with_the_face_below(
    item: str, first: str | None, source: str, table: Plan
) -> None:
    for session, row in in_sessions(table):
        if row.item == item and row.used:
            told = ["Hardwax oil. Wipe on, wipe off."] if not session.way else []
            assert row.lines[: len(told)] == tuple(told)
            assert (row.lines[len(told)] == first) == (first is not None), source


# --- gluing up and putting together ---------------------------------------------------------------------------------


def test_gluing_up_names_the_parts_the_clamps_and_the_glue(table: Plan) -> None:
    (row,) = (row for row in rows_of(table) if row.label == "Glue up")
    assert row.item == "base"
    assert row.lines[0].replace("\u00a0", " ") == "leg × 4 and apron × 4."
    assert row.lines[1] == "It stays in the clamps for 4 h (2–24 h)."
    assert row.lines[2] == table.catalogue.work["glue-up"].notes[0]
    assert "squeezed-out glue" in row.lines[2]
    assert (row.key, row.used, row.window) == ("", "", "")


def test_putting_together_names_the_items(table: Plan, panels: Plan) -> None:
    (row,) = (row for row in rows_of(table) if row.item == "whole piece")
    assert row.lines == ("Put together and look over: top and base.",)
    assert not any(row.item == "whole piece" for row in rows_of(panels)), "nothing was glued up that loose panels join"


# --- what is critical -----------------------------------------------------------------------------------------------


def test_rows_that_are_critical_are_marked(table: Plan) -> None:
    marked = [row.critical for row in rows_of(table)]
    assert marked == [step.critical for step in table.timetable.steps if step.kind == "attended"]
    assert any(marked)
    assert not all(marked)


def test_of_several_items_one_is_enough_to_mark_their_row(panels: Plan) -> None:
    steps = [replace(step, critical=step.id == "panel 3/hardwax-oil/1") for step in panels.timetable.steps]
    assert [row.critical for row in rows_of(with_steps(panels, steps))][:2] == [True, False]


def test_a_shared_row_fits_a_page(panels: Plan) -> None:
    """Fourteen panels are sanded in two rows of seven; no row of coats has more lines than some 35 of 45 of a page."""
    rows = [row for row in rows_of(panels) if row.items]
    assert [len(row.items) for row in rows if row.label.startswith("Sand")] == [7, 7]
    for row in rows:
        texts = [row.label, *row.lines, *row.cautions, row.window]
        texts += [text for item in row.items for text in (item.item, *item.lines, row.used)]
        assert sum(math.ceil(len(text) / 68) for text in texts) <= 35


def test_notes_of_the_timetable_are_told(table: Plan) -> None:
    note = "top takes 14 flat places and the rack has 12: find it others."
    noted = with_stages(table, timetable=replace(table.timetable, notes=(RackShort("top", 14, 12, "flat place"),)))
    assert note in first_page(noted).mind
    assert note not in first_page(table).mind


def test_the_latest_starts_are_told(doors: Plan, panels: Plan) -> None:
    """That with which all is as sure as the shop wants, and that of the first step, with which it is still typical."""
    latest = doors.timetable.latest_safe_start
    assert latest is not None
    fact = next(fact for fact in first_page(doors).facts if fact.name == "At the very latest")
    first = next(row for row in doors.timetable.steps if row.kind == "attended")
    assert fact.value == show_moment(doors.slips.latest[first.id])
    assert doors.slips.latest[first.id] >= latest
    assert not any(fact.name == "At the very latest" for fact in first_page(panels).facts)
    assert late_words(doors).startswith("Begun as planned it is on time in ")
    assert latest == first.start
    later = with_stages(doors, timetable=replace(doors.timetable, latest_safe_start=latest + timedelta(hours=1)))
    until = show_moment(latest + timedelta(hours=1))
    assert late_words(later).startswith(f"Until {until} nothing is lost: on time in ")


def late_words(plan: Plan) -> str:
    return dict(not_to_plan(plan))["Begun late"]


# --- the picture ----------------------------------------------------------------------------------------------------


def test_the_picture_has_no_clean_ups_and_no_window_before_turning(doors: Plan) -> None:
    found = picture(doors)
    assert found is not None
    by_item = {row.item: row for row in found.rows}
    assert list(by_item) == ["left door", "right door"]
    for item in ("left door", "right door"):
        row = by_item[item]
        assert (len(row.coats), len(row.work)) == (4, 2), "two coats on two sides; sanded and abraded"
        assert "clean up" not in row.words
        assert len(row.windows) <= 1, "from the second side to abrading; none from side to side"


def test_gluing_up_an_item_of_two_systems_is_drawn_once(two_systems: Plan) -> None:
    found = picture(two_systems)
    assert found is not None
    assert sum("glue up" in row.words for row in found.rows) == 1
    assert [row.item for row in found.rows][-1] == "whole piece"

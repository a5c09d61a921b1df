"""At the bench: what is shown, ticked, corrected and taken back, and planned again."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta

from finplan.bench import job_now
from finplan.page.at_bench import bench_shown
from finplan.page.opened import Opened
from finplan.sheet import working_days
from tests.conftest import Cli
from tests.page.at_the_bench import BENCH, FIRST_DAY, Bench, Page, bench, held

__all__ = ["bench", "held"]


def test_today_is_shown_step_by_step_in_the_words_of_the_sheet(bench: Bench, cli: Cli) -> None:
    told = bench.page().told
    assert "Today: Wednesday 10 February 2027" in told
    for words in ("09:45–11:10", "base: Sand bare wood", "Before you sand", "Wet when you leave", "Latest start"):
        assert words in told
    sheet = bench.folder / "sheet.html"
    assert cli("sheet", bench.folder / "round-table.yaml", "-o", sheet).status == 0
    printed = Page(sheet.read_text()).told
    for line in (
        "leg × 4: P120, P150. Otherwise: shoulders P120, P180; top-end and foot-end P80, P120, P150.",
        "apron × 4: P120, P150. Otherwise: back P120 only. Tick each grit on the sanding card.",
        "It stays in the clamps for 4 h (2–24 h).",
        "No flame, pilot light or heater within 6 m (20 ft); lights and fan are switched, and stay so.",
        "Only at 12–30 °C and 30–75 % humidity",
        *re.findall(r"Latest start [^.]*\.", told),
    ):
        assert line in told
        assert line in printed


def test_each_step_is_ticked_at_one_place_alone(bench: Bench) -> None:
    days = re.findall(r"bench\?day=([0-9-]+)", bench.client.get(BENCH).text)
    for day in dict.fromkeys(days):
        text = bench.client.get(f"{BENCH}?day={day}").text
        for found in (re.findall(r' id="([^"]+)"', text), re.findall(r'data-part="([^"]+)"', text)):
            assert len(found) == len(set(found))


def test_what_is_interrupted_is_ticked_where_it_ends(bench: Bench) -> None:
    with Opened(bench.folder, bench.clock).jobs._open("round-table.yaml", to_read=True) as (ledger, held, pieces):
        job = job_now(ledger, held, pieces, bench.clock())
    day = working_days(job.plan)[0]
    (of_one, *_), row = day.people, day.people[0].sessions[0].rows[0]
    twice = replace(of_one.sessions[0], rows=(row, replace(row, start="13:00", end="13:40")))
    shown = bench_shown(job, [replace(day, people=(replace(of_one, sessions=(twice,)),))], bench.clock())
    rows = shown.days[0].sessions[0].rows
    assert [[step.goes_on for step in one.steps] for one in rows] == [[True], [False]]
    assert shown.links[0].left == "1 of 1 to do"


def test_without_work_today_the_next_day_with_work_is_shown(bench: Bench) -> None:
    bench.clock.moment = FIRST_DAY - timedelta(days=3)
    told = bench.page().told
    assert "Today:" not in told
    assert "Next: Wednesday 10 February 2027" in told
    other = bench.page(f"{BENCH}?day=2027-02-11").told
    assert "Thursday 11 February 2027" in other
    assert "Back to today" in other
    assert bench.client.get(f"{BENCH}?day=soon").status_code == 422


def test_a_tick_is_written_down_with_all_that_is_told(bench: Bench) -> None:
    bench.clock.moment = FIRST_DAY.replace(hour=13, minute=40)
    bench.tick("1", at="11:05", took="75", by="Maren")
    bench.tick("3", at="13:05")
    page = bench.tick("4", at="13:35", used="118", temperature="19", humidity="48", by="Osric", note="warm tin")
    assert "118 ml used, 4 % less than reckoned (123 ml)." in page.told
    assert "4 ✓ done Wed 10 Feb 13:35 by Osric, 118 ml used, air 19 °C 48 %, warm tin" in page.told
    assert "Wet now, do not touch" in page.told
    first, second, coat = bench.ticks()
    assert (first.person, first.took_min) == ("Maren", 75)
    assert second.at == FIRST_DAY.replace(hour=13, minute=5)
    assert (coat.used_ml, coat.air_c, coat.humidity_pct, coat.person) == (118, 19, 48, "Osric")


def test_the_can_before_and_after_may_stand_in_the_place_of_the_amount(bench: Bench) -> None:
    bench.clock.moment = FIRST_DAY.replace(hour=14)
    page = bench.tick("4", at="13:35", before="812", after="700,5", believe="yes")
    assert "112 g used" in page.told
    (coat,) = bench.ticks()
    assert (coat.can_before_g, coat.can_after_g) == (812, 700.5)


def test_what_cannot_be_taken_is_told_at_its_step_and_stays_typed(bench: Bench) -> None:
    cases: list[tuple[dict[str, str], str]] = [
        ({"at": "23:50"}, "when it was done: '23:50' is still to come"),
        ({"at": "noon"}, "expected 2027-03-12"),
        ({"took": "long"}, "how long it took: 'long'"),
        ({"used": "85"}, "what was used is told of a step that puts nothing on"),
        (
            {"before": "700", "after": "812"},
            "the can before and after: '700 g -> 812 g': the can weighs more afterwards",
        ),
        ({"before": "700"}, "the can before and after:"),
        ({"temperature": "19", "humidity": "x"}, "the air:"),
        ({"note": "x" * 301}, "is longer than 300 letters"),
    ]
    form = bench.page().form("1")
    for typed, told in cases:
        page = bench.send("tick", {**form, **typed}, status=422)
        assert told in page.told
        assert bench.ticks() == (), told
        for name in typed.keys() & {"at", "took"}:
            assert page.form("1")[name] == typed[name]
    assert bench.page().form("1") == form  # what was typed wrong is nowhere but in its answer


def test_what_comes_before_is_asked_for_and_believed(bench: Bench) -> None:
    page = bench.tick("4", status=422)
    assert "3 comes before and is not ticked." in page.told
    assert "Were they done too?" in page.told
    assert bench.ticks() == ()
    told = bench.send("tick", {**page.form("4"), "believe": "yes"}).told
    assert "Counts as done, since something after it is ticked." in told


def test_a_form_of_before_another_plan_is_refused_with_what_is_there_now(bench: Bench) -> None:
    bench.clock.moment += timedelta(days=1)
    old = bench.page().form("1")
    bench.replan()
    page = bench.send("tick", old, status=409)
    assert "Plan 2 was made meanwhile; this is what is there now. Nothing was written down." in page.told
    assert "Plan 2." in page.told
    assert bench.ticks() == ()


def test_a_step_that_was_ticked_meanwhile_is_not_ticked_twice(bench: Bench) -> None:
    form = bench.page().form("1")
    bench.send("tick", {**form, "at": "09:55"})
    page = bench.send("tick", form, status=409)
    assert "1 was changed meanwhile: done Wed 10 Feb 09:55. Nothing was written down." in page.told
    assert len(bench.ticks()) == 1
    back = page.form("1", "undo")
    bench.send("undo", back)
    assert "1 was changed meanwhile: is not ticked any more." in bench.send("undo", back, status=409).told


def test_a_tick_is_corrected_and_taken_back(bench: Bench) -> None:
    bench.tick("1", at="09:50")
    page = bench.tick("1", at="09:58", by="Maren")
    assert "1 ✓ done Wed 10 Feb 09:58 by Maren" in page.told
    told = bench.tick("1", "undo").told
    assert "Taken back: 1." in told
    told = bench.tick("1", "undo").told
    assert bench.ticks() == ()
    assert "1 Done" in bench.page().told


def test_what_stands_in_the_way_of_taking_back_is_told_as_on_the_command_line(bench: Bench, cli: Cli) -> None:
    bench.clock.moment = FIRST_DAY.replace(hour=14)
    bench.tick("4", at="13:35", believe="yes")
    bench.tick("5", at="13:40")
    page = bench.tick("4", "undo", status=422)
    said = cli("done", bench.folder / "round-table.yaml", "4", "--undo").err.strip()
    assert said.startswith("5: was ticked after that coat")
    assert said in page.told


def test_a_coat_is_found_dry(bench: Bench) -> None:
    bench.clock.moment = FIRST_DAY.replace(hour=14)
    bench.tick("4", at="13:35", believe="yes")
    bench.clock.moment += timedelta(hours=23)
    form = next(one for one in bench.page(f"{BENCH}?day=2027-02-10").forms if one.get("dry"))
    page = bench.send("tick", {name: form[name] for name in ("step", "plan", "seen", "day", "dry")})
    assert "): found dry Thu 11 Feb 13:00." in page.told
    assert "found dry Thu 11 Feb 13:00" in page.told
    assert [one.kind for one in bench.ticks()] == ["done", "dry"]


def test_the_rest_is_planned_again_when_it_is_late(bench: Bench) -> None:
    bench.tick("1", at="09:50")
    bench.clock.moment = FIRST_DAY + timedelta(days=1, hours=6)
    page = bench.page()
    assert "Late by plan 1: steps 2, 3, 4" in page.told
    assert "Before today: Wednesday 10 February 2027" in page.told
    told = bench.replan().told
    assert "The rest is planned again. Plan 2, in the place of plan 1: what moved" in told
    assert "Nothing of Thu 11 Feb is done by 16:00: its work is planned anew." in told
    assert "the delivery, Fri 19 Feb 15:00, is kept." in told
    assert "Late by" not in told

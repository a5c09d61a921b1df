"""Safety on the sheet: where it falls due in the days, and reckoned on its page."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from finplan.planning import Plan, Wishes, read_source
from finplan.safety import DrawMore, SessionReport
from finplan.sheet import appendix_html, sheet_html
from finplan.sheet.days import working_days
from finplan.sheet.first_page import first_page
from finplan.sheet.safety_page import safety_page
from finplan.telling import PURPOSES, air_remedy_words, aired_until, aired_words
from finplan.telling.sets import numbers_words
from tests.planned_once import made_at_once
from tests.plans import make_plan
from tests.safety.pieces import NOW, plan_with

FEW_HOURS = """\
shop: Test shop
people: [{name: Mette, hours: {mon-fri: 9:00-12:00}}]
rooms:
  shop:
    {for: [sanding, coating, spraying, drying], volume: 55 m3, air-changes: 1,
     booth: {face: 8 x 7 ft, velocity: 100 ft/min}}
"""
BOARDS = """\
piece: Chopping boards
lengths: mm
timber: sugar-maple
system: tung-oil
set: 6
parts:
  board: {shape: rectangle, length: 420, width: 260, thickness: 28}
"""


@pytest.fixture(scope="module")
def oiled(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """An oiled table in a shop that knows its air."""
    return plan_with(
        tmp_path_factory.mktemp("oiled"), "hardwax-oil", room="volume: 60 m3, air-changes: 6, fan: 900 m3/h"
    )


@pytest.fixture(scope="module")
def polished(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """A shellacked table in a small room with little air."""
    return plan_with(tmp_path_factory.mktemp("polished"), "shellac", room="volume: 40 m3, air-changes: 2")


def test_each_coat_has_the_verdict_of_its_session(oiled: Plan, polished: Plan) -> None:
    for plan, all_enough in ((oiled, True), (polished, False)):
        rows = [one for day in working_days(plan) for one in day.rows_in_sessions]
        coats = [(session, row) for session, row in rows if row.label.startswith("Coat")]
        assert coats
        said = [_of_air((*session.lines, *row.lines)) for session, row in coats]
        warned = [_of_air((*session.cautions, *row.cautions)) for session, row in coats]
        assert all(len(first) + len(second) == 1 for first, second in zip(said, warned, strict=True))
        assert not any(warned) if all_enough else any(warned)
        assert all("Vapour mask" in line for lines in warned for line in lines)


def _of_air(lines: Sequence[str]) -> list[str]:
    return [line for line in lines if "(air " in line or line.startswith("The air does")]


def test_sanding_rows_say_nothing_of_air(oiled: Plan) -> None:
    rows = [one for day in working_days(oiled) for one in day.rows_in_sessions]
    sanded = [(session, row) for session, row in rows if row.label.startswith("Sand")]
    assert sanded
    for session, row in sanded:
        assert not any("Air" in line for line in (*session.lines, *session.cautions, *row.lines, *row.cautions))


def test_the_evening_says_until_when_to_air(oiled: Plan) -> None:
    for report in oiled.safety.sessions:
        assert report.start is not None
        last = max(fit.at for fit in report.fit_again if fit.at is not None)
        (line,) = aired_until(oiled, report.start.date(), report.start)
        assert "nobody sleeps above until" in line
        assert aired_until(oiled, report.start.date(), last) == ()
        assert aired_until(oiled, report.start.date() - timedelta(days=1), report.start) == ()


def test_the_page_tells_every_session(polished: Plan) -> None:
    page = safety_page(polished)
    assert len(page.sessions) == len(polished.safety.sessions) > 1
    assert {row.gives for row in page.sessions} == {"80 m³/h"}
    short = [row for row in page.sessions if row.verdict.startswith("Too little air to breathe")]
    assert short
    (pool,) = (pool for pool in page.pools if pool.verdict.startswith("Too little air to breathe"))
    assert pool.sessions == numbers_words([row.number for row in short])
    assert pool.remedies
    assert pool.conditions
    assert page.cartridges.startswith("A mask against vapour is worn by Maker for")
    assert "80 m³" in " ".join(page.dust)
    assert "licensed practice" in page.comes_first


def test_every_remedy_of_a_session_is_told_of_it_or_of_a_worse_one(polished: Plan) -> None:
    """What is alike is said once: word for word, but for figures, of which those of the worst session stand."""
    (pool,) = (pool for pool in safety_page(polished).pools if pool.verdict.startswith("Too little air to breathe"))
    told = {re.sub(r"[\d.]+", "#", one.words.removeprefix("At the worst: ")) for one in pool.remedies}
    reports = [one for one in polished.safety.sessions if one.remedies]
    for report in reports:
        for remedy in report.remedies:
            words = " ".join(air_remedy_words([remedy], polished.catalogue, "metric"))
            assert re.sub(r"[\d.]+", "#", words) in told
    drawn = [one for report in reports for one in report.remedies if isinstance(one, DrawMore)]
    worst = max(drawn, key=lambda one: one.whole_m3_h)
    said = " ".join(one.words for one in pool.remedies)
    assert " ".join(air_remedy_words([worst], polished.catalogue, "metric")) in said


def test_it_is_all_on_paper(polished: Plan) -> None:
    html, appendix = sheet_html(polished), appendix_html(polished)
    for words in ("The air of each coating session", "change the vapour cartridges", "Half mask with organic vapour"):
        assert words in html, words
    for words in ("Vapour and fresh air", "Limits of organic vapour, for information", "well-mixed box"):
        assert words in appendix, words
        assert words not in html, words
        assert words in sheet_html(polished, with_appendix=True), words


def test_a_session_is_told_in_a_row(oiled: Plan, polished: Plan) -> None:
    """What it needs is more than it gets where the air does not do, and less where it does."""
    for row, report in zip(safety_page(polished).sessions, polished.safety.sessions, strict=True):
        short = row.verdict.startswith("Too little air to breathe")
        assert short == (row.cells.mask == "Half mask with organic vapour cartridges")
        assert row.cells.gets.startswith("80 m³/h: ")
        assert row.cells.without_fan == ""
        assert short == ((report.session.needs_m3_h.health or 0) > 80)
    for row in safety_page(oiled).sessions:
        assert row.cells.mask == "none against vapour"
        assert row.cells.gets != row.cells.without_fan != ""


@pytest.mark.parametrize(
    ("system", "contact"), [("tung-oil", "contact with food"), ("acrylic-enamel", "contact with children")]
)
def test_what_touches_food_or_children(system: str, contact: str, tmp_path: Path) -> None:
    lines = safety_page(plan_with(tmp_path, system)).contact
    assert lines
    assert contact in lines[0]
    assert "Cured fully by " in lines[0]


def test_of_other_finishes_nothing_is_promised(oiled: Plan) -> None:
    assert safety_page(oiled).contact == ()


def _boards(folder: Path, system: str) -> Plan:
    (folder / "shop.yaml").write_text(FEW_HOURS, encoding="utf-8")
    (folder / "boards.yaml").write_text(BOARDS.replace("tung-oil", system), encoding="utf-8")
    source = read_source(folder / "boards.yaml", folder / "shop.yaml")
    with made_at_once():
        return make_plan([source], now=NOW, wishes=Wishes(answers=False))


def _work_days(plan: Plan, report: SessionReport) -> dict[date, datetime]:
    """By day on which something of a session is put on, when the work of that day ends."""
    days = {row.start.date() for row in plan.timetable.steps if row.kind == "attended" and row.id in report.steps}
    return {
        day: max(row.end for row in plan.timetable.steps if row.kind == "attended" and row.start.date() == day)
        for day in days
    }


def test_every_evening_of_vapour_that_stands_for_days_says_until_when_to_air(tmp_path: Path) -> None:
    """Tung oil that is put on again while the coat before it still gives off its solvent: who leaves on the day of the
    last coat reads that day alone."""
    plan = _boards(tmp_path, "tung-oil")
    over_days = [report for report in plan.safety.sessions if len(_work_days(plan, report)) > 1]
    assert over_days
    evenings = {day.day: " ".join(day.evening) for day in working_days(plan)}
    for report in over_days:
        for fit in report.fit_again:
            for day, end in _work_days(plan, report).items():
                if fit.at is not None and fit.at > end:
                    assert f"{PURPOSES[fit.purpose]}" in evenings[day], (day, fit)


def test_who_locks_up_is_told_until_when_nobody_comes_into_a_room_with_isocyanate(tmp_path: Path) -> None:
    plan = plan_with(tmp_path, "hardwax-oil-2k")
    for report in plan.safety.sessions:
        assert report.start is not None
        (line,) = aired_until(plan, report.start.date(), report.start)
        assert "nobody comes in without breathing protection until" in line
        assert aired_words(report)[0].startswith("nobody comes in without breathing protection until ")


def test_the_front_says_no_time_of_one_day_of_several_with_isocyanate(tmp_path: Path) -> None:
    """Each of them has its own, which stands at its rows."""
    plan = _boards(tmp_path, "polyurethane-2k")
    days = {report.start.date() for report in plan.safety.sessions if report.start is not None}
    assert len(days) > 1
    (line,) = first_page(plan).air
    assert line.endswith("Nobody but who puts it on comes in before the time that each day says.")
    coats = [one for day in working_days(plan) for one in day.rows_in_sessions if one[1].label.startswith("Coat")]
    said = [" ".join((*session.cautions, *row.cautions)) for session, row in coats]
    assert all(re.search(r"Nobody but who puts it on comes in until \w{3} \d", words) for words in said), said


def test_each_session_says_that_it_is_not_begun(tmp_path: Path) -> None:
    """Shellac in a room that is far too small for it, several coats a day: all is as before but that is said again."""
    plan = plan_with(tmp_path, "shellac", room="volume: 12 m3, air-changes: 0.2")
    warned = 0
    for day in working_days(plan):
        for person in day.people:
            for session in person.sessions:
                if any(row.label.startswith("Coat") for row in session.rows):
                    told = [line for line in session.cautions if line not in session.said_before]
                    told += [line for row in session.rows for line in row.cautions]
                    assert any(line.startswith("DO NOT BEGIN") for line in told), (day.day, session.rows[0].label)
                    warned += bool(session.as_before)
    assert warned

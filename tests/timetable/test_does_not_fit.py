"""What does not fit: by how much, why, and what would help; each answer is tried again by hand."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from finplan.planning import PlannedPiece, Wishes
from finplan.telling import remedy_words, requirement_words
from finplan.timetable import Timetable
from tests.timetable.shops import NIGHT_SHIFT, NOW, ONE_PERSON, TWO_PEOPLE, plan, read, shelf
from tests.timetable.verifier import broken_rules

STEP = timedelta(minutes=5)
ASAP = Wishes(answers=False, asap=True)
COLD = ONE_PERSON.replace("16 degC", "11 degC")
CASES = [
    ("hardwax-oil", COLD, "2027-03-04 12:00"),
    ("wax", ONE_PERSON, "2027-03-03 12:00"),
    ("oil-varnish-blend", ONE_PERSON, "2027-03-06"),
    ("wax", TWO_PEOPLE, "2027-03-02"),
]


def by_the_wall(moment: datetime) -> str:
    return f"{moment:%Y-%m-%d %H:%M}"


def when_somebody_works(moment: datetime) -> datetime:
    """Return the first moment at which Wynn is there to hand a piece over."""
    while not (
        any(begin <= f"{moment:%H:%M}" <= end for begin, end in (("08:00", "12:00"), ("12:30", "17:00")))
        and (moment.weekday() < 4 or (moment.weekday() == 4 and f"{moment:%H:%M}" <= "13:00"))
    ):
        moment += STEP
    return moment


def refused(pieces: tuple[PlannedPiece, ...], deliver: str, now: datetime = NOW) -> Timetable:
    """Return the answer for a date that cannot be kept."""
    timetable = plan(pieces, deliver, now=now, wishes=Wishes()).timetable
    assert timetable.status == "impossible"
    assert timetable.steps == ()
    assert timetable.clashes
    return timetable


def fits(pieces: tuple[PlannedPiece, ...], deliver: str, now: datetime = NOW) -> bool:
    planned = plan(pieces, deliver, now=now, wishes=ASAP)
    if not planned.timetable.has_plan:
        return False
    assert broken_rules(planned) == []
    return True


@pytest.mark.parametrize(("system", "shop", "deliver"), CASES, ids=[case[0] for case in CASES])
def test_it_is_short_by_as_little_as_can_be(system: str, shop: str, deliver: str, tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf(system)], shop)
    timetable = refused(pieces, deliver)
    (clash,) = timetable.clashes
    assert timetable.deliver is not None
    assert clash.short_by_h is not None
    assert requirement_words(clash.requirement).startswith(f"deliver by {by_the_wall(timetable.deliver)}")
    soonest = timetable.deliver + timedelta(hours=clash.short_by_h)
    assert fits(pieces, by_the_wall(soonest))
    assert not fits(pieces, by_the_wall(soonest - STEP))
    later = next(one for one in clash.would_fit if one.kind == "date")
    assert remedy_words(later.change) == f"deliver on {by_the_wall(when_somebody_works(soonest))} or later"
    assert later.ready == soonest


def test_several_pieces_are_short_by_the_least_of_the_latest(tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("hardwax-oil"), shelf("wax")], ONE_PERSON)
    timetable = refused(pieces, "2027-03-03 12:00")
    short_h = max(clash.short_by_h or 0.0 for clash in timetable.clashes)
    soonest = datetime(2027, 3, 3, 12) + timedelta(hours=short_h)
    assert fits(pieces, by_the_wall(soonest))
    assert not fits(pieces, by_the_wall(soonest - STEP))


def test_the_warmer_night_is_the_least_that_helps(tmp_path: Path) -> None:
    deliver = "2027-03-05 12:00"
    timetable = refused(read(tmp_path, [shelf("hardwax-oil")], COLD), deliver)
    offered = [
        remedy_words(one.change)
        for clash in timetable.clashes
        for one in clash.would_fit
        if remedy_words(one.change).startswith("keep")
    ]
    (change,) = offered
    degrees = int(change.split()[1])
    colder = COLD.replace("11 degC", f"{degrees - 1} degC")
    assert not fits(read(tmp_path, [shelf("hardwax-oil")], colder), deliver)


def test_starting_now_is_offered_where_it_helps(tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("hardwax-oil")], ONE_PERSON)
    later = datetime(2027, 3, 11, tzinfo=UTC)
    told = plan(pieces, "2027-03-12", now=later, wishes=Wishes(soonest=NOW)).timetable
    assert told.status == "impossible"
    ready = next(
        one.ready for clash in told.clashes for one in clash.would_fit if remedy_words(one.change) == "start now"
    )
    assert ready == plan(pieces, "2027-03-12", wishes=ASAP).timetable.ready


def test_impossible_is_only_said_where_it_is_proven(tmp_path: Path) -> None:
    """Each of many pieces could be in time by itself: then no search has shown that they cannot all be."""
    shelves = read(tmp_path, [shelf("hardwax-oil", count=3)] * 7, ONE_PERSON)
    alone = plan(shelves[:1], None, wishes=ASAP).timetable.ready
    assert alone is not None
    crowded = plan(shelves, by_the_wall(alone + timedelta(days=1)), wishes=Wishes(answers=False)).timetable
    assert crowded.status == "not-found"
    assert not crowded.has_plan
    assert all(
        requirement_words(clash.requirement).endswith("; that no plan can is not proven") for clash in crowded.clashes
    )
    hurried = plan(shelves, by_the_wall(NOW + timedelta(days=1)), wishes=Wishes(answers=False)).timetable
    assert hurried.status == "impossible"


def test_a_delivery_before_work_may_begin(tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("hardwax-oil")], ONE_PERSON)
    (clash,) = refused(pieces, "2026-01-05 12:00").clashes
    assert requirement_words(clash.requirement).startswith(
        "deliver by 2026-01-05 12:00, which is before work may begin (2027-03-01 00:00)"
    )
    ready = plan(pieces, None).timetable.ready
    assert ready is not None
    assert next(one.ready for one in clash.would_fit if one.kind == "date") == ready
    assert clash.short_by_h == (ready - datetime(2026, 1, 5, 12, tzinfo=UTC)) / timedelta(hours=1)


# --- what never fits ------------------------------------------------------------------------------------------------


def test_nobody_can_spray(tmp_path: Path) -> None:
    shop = ONE_PERSON.replace("name: Wynn,", "name: Wynn, skills: [sanding, coating],")
    clashes = refused(read(tmp_path, [shelf("lacquer")], shop), "2027-04-30").clashes
    assert requirement_words(clashes[0].requirement).startswith("shelf 1: coat 1")
    assert "nobody with hours in the shop does spraying" in requirement_words(clashes[0].requirement)


def test_nobody_is_ever_there(tmp_path: Path) -> None:
    shop = ONE_PERSON + "closed: [2027-01-01 to 2028-12-31]\n"
    (clash,) = refused(read(tmp_path, [shelf("hardwax-oil")], shop), "2027-04-30").clashes
    assert requirement_words(clash.requirement).startswith("nobody works in the shop from 2027-03-01 to ")


DRIED = ": dry the air, and write into the shop file's climate what that comes to"


@pytest.mark.parametrize(
    ("shop", "reason", "helps"),
    [
        (
            ONE_PERSON.replace("20 degC", "9 degC").replace("16 degC", "7 degC"),
            "9 °C is outside 12 to 30 °C",
            "keep at least 12 °C day and night",
        ),
        (
            ONE_PERSON.replace("humidity: 50 %", "humidity: 79 %"),
            f"79 % humidity is outside 30 to 75 %{DRIED}",
            "system 'soap'",
        ),
        (
            ONE_PERSON.replace("humidity: 50 %", "humidity: 22 %").replace("humidity: 55 %", "humidity: 24 %"),
            f"22 % humidity is outside 30 to 75 %{DRIED.replace('dry', 'moisten')}",
            "system 'soap'",
        ),
    ],
    ids=["cold", "humid", "dry"],
)
def test_air_in_which_a_finish_never_goes_on(shop: str, reason: str, helps: str, tmp_path: Path) -> None:
    (clash,) = refused(read(tmp_path, [shelf("hardwax-oil")], shop), "2027-04-30").clashes
    assert requirement_words(clash.requirement) == f"shelf 1: coat 1, coat 2 find no time: {reason}"
    assert any(remedy_words(one.change).startswith(helps) for one in clash.would_fit)


def test_air_that_is_right_only_while_nobody_is_there_who_coats(tmp_path: Path) -> None:
    # A helper who only sands is there by day; who coats comes when the nights are too damp.
    shop = NIGHT_SHIFT.replace("humidity: 45 %", "humidity: 79 %").replace(
        "rack:", "  - {name: Uwe, hours: {mon-fri: 8:00-16:00}, skills: [sanding]}\nrack:"
    )
    (clash,) = refused(read(tmp_path, [shelf("hardwax-oil")], shop), "2027-04-30").clashes
    reason = f"79 % humidity is outside 30 to 75 %{DRIED}"
    assert requirement_words(clash.requirement) == f"shelf 1: coat 1, coat 2 find no time: {reason}"


def test_dew_before_the_coat_is_dust_free(tmp_path: Path) -> None:
    # Wax may go on in any humidity, but air of 92 % comes within 1.3 °C of its dew point.
    shop = ONE_PERSON.replace("humidity: 50 %", "humidity: 92 %").replace("humidity: 55 %", "humidity: 92 %")
    clashes = refused(read(tmp_path, [shelf("wax")], shop), "2027-04-30").clashes
    assert "of its dew point before the coat is dust-free" in requirement_words(clashes[0].requirement)


def test_a_finish_that_stands_still_once_it_is_on(tmp_path: Path) -> None:
    # It may go on for two hours on the first of March; the log's last day, which repeats, is too cold for it to dry.
    rows = [
        f"2027-03-{day:02} {hour:02}:00,{20 if (day, hour) < (1, 12) else -5},50"
        for day in (1, 2, 3)
        for hour in range(24)
    ]
    shop = ONE_PERSON[: ONE_PERSON.index("climate")] + "climate: {log: cold.csv}\n"
    (tmp_path / "cold.csv").write_text("time,temperature,humidity\n" + "\n".join(rows) + "\n", encoding="utf-8")
    clashes = refused(read(tmp_path, [shelf("hardwax-oil-2k")], shop), "2027-04-30").clashes
    assert clashes


# --- how early it may be ready ----------------------------------------------------------------------------------------


def test_the_earliest_ready_is_that_of_beginning_at_once(tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("hardwax-oil")], TWO_PEOPLE)
    timetable = plan(pieces, "2027-04-30", wishes=Wishes()).timetable
    assert timetable.earliest_ready == plan(pieces, None).timetable.ready
    assert fits(pieces, by_the_wall(timetable.earliest_ready or NOW))
    assert not fits(pieces, by_the_wall((timetable.earliest_ready or NOW) - STEP))


def test_what_starting_now_gains_is_counted_from_now(tmp_path: Path) -> None:
    """Days before the one from which it was asked count too: by the calendar, Wynn works 4 × 8.5 + 5 h a week."""
    pieces = read(tmp_path, [shelf("tung-oil")], ONE_PERSON)
    timetable = plan(pieces, "2027-03-05", now=NOW, wishes=Wishes(soonest=NOW - timedelta(weeks=8))).timetable
    (clash,) = timetable.clashes
    sooner = next(one for one in clash.would_fit if one.kind == "start")
    assert sooner.gain_h is not None
    assert sooner.gain_working_h is not None
    assert sooner.gain_h > 6 * 7 * 24
    assert sooner.gain_working_h == pytest.approx(sooner.gain_h / (7 * 24) * (4 * 8.5 + 5), abs=2 * 8.5)


@pytest.mark.parametrize("deliver", ["2027-03-26 15:00", None])
def test_hours_that_come_to_an_end_are_told_and_going_on_helps(deliver: str | None, tmp_path: Path) -> None:
    """All hours of the shop are those of one day: two coats that dry overnight between cannot be put on."""
    one_day = "shop: X\npeople:\n  - {name: Wynn, days: {2027-03-08: 8:00-16:00}}\n"
    pieces = read(tmp_path, [shelf("hardwax-oil")], one_day)
    timetable = plan(pieces, deliver, wishes=Wishes()).timetable
    (clash,) = timetable.clashes
    assert "nobody works after 2027-03-08 16:00, 8 h from 2027-03-01 on, and there is" in requirement_words(
        clash.requirement
    )
    (more,) = (remedy_words(one.change) for one in clash.would_fit if one.kind == "hours")
    told = re.fullmatch(r"Wynn works on \w+ (\d+) Mar, 08:00–16:00", more)
    assert told is not None
    days = f"days: {{2027-03-08: 8:00-16:00, 2027-03-{int(told[1]):02}: 8:00-16:00}}"
    pieces = read(tmp_path, [shelf("hardwax-oil")], one_day.replace("days: {2027-03-08: 8:00-16:00}", days))
    planned = plan(pieces, deliver, wishes=ASAP)
    assert planned.timetable.has_plan
    assert broken_rules(planned) == []

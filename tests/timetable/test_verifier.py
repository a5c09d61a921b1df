"""The verifier itself: it sees every rule that a tampered timetable breaks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from finplan.timetable import TimetableStep
from tests.conftest import EXAMPLE
from tests.timetable.read_back import Planned
from tests.timetable.shops import ONE_PERSON, plan, read, shelf
from tests.timetable.verifier import broken_rules

HOUR = timedelta(hours=1)
DAY = timedelta(days=1)
TIGHT = ONE_PERSON + "rack: {places: 2, hooks: 0}\n"
Tamper = Callable[[TimetableStep], TimetableStep]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("verifier")


@pytest.fixture(scope="module")
def oiled(folder: Path) -> Planned:
    """Two shelves with three coats each, the second without abrading, delivered on a Friday."""
    return plan(read(folder, [shelf("oil-varnish-blend", 2)], TIGHT), "2027-04-30")


def tampered(planned: Planned, which: str, change: Tamper) -> Planned:
    """Return a plan with the rows whose id ends so changed."""
    steps = tuple(change(row) if row.id.endswith(which) else row for row in planned.timetable.steps)
    assert steps != planned.timetable.steps
    return replace(planned, timetable=replace(planned.timetable, steps=steps))


def without(planned: Planned, which: str) -> Planned:
    steps = tuple(row for row in planned.timetable.steps if not row.id.endswith(which))
    return replace(planned, timetable=replace(planned.timetable, steps=steps))


def moved(by: timedelta) -> Tamper:
    return lambda row: replace(row, start=row.start + by, end=row.end + by)


def start_of(planned: Planned, which: str) -> TimetableStep:
    return next(row for row in planned.timetable.steps if row.id.endswith(which))


def told(planned: Planned) -> str:
    return "\n".join(broken_rules(planned))


def test_it_has_nothing_to_say_of_a_good_plan(oiled: Planned) -> None:
    assert broken_rules(oiled) == []


ROWS: list[tuple[str, Tamper, str]] = [
    ("1/oil-varnish-blend/1", lambda row: replace(row, end=row.end - timedelta(minutes=5)), "min instead of"),
    ("1/oil-varnish-blend/1", lambda row: replace(row, id="polish"), "polish is in the timetable and was not asked"),
    ("1/oil-varnish-blend/4", moved(timedelta(hours=9)), "does not work from"),
    ("1/oil-varnish-blend/4", moved(timedelta(minutes=-2)), "is a stretch from"),
    ("2/oil-varnish-blend/2", lambda row: replace(row, person="Nemo"), "Nemo does not work"),
    ("2/oil-varnish-blend/3", moved(-DAY), "too soon after shelf 2/oil-varnish-blend/2"),
    ("2/oil-varnish-blend/5", moved(-DAY), "shelf 2/oil-varnish-blend/5 starts before shelf 2/oil-varnish-blend/4"),
    ("1/oil-varnish-blend/1", moved(2 * DAY), "is done after the first coat"),
    ("1/oil-varnish-blend/1", moved(DAY + HOUR), "makes dust at"),
    ("1/oil-varnish-blend/2", moved(timedelta(minutes=-10)), "in the dust of shelf 2/oil-varnish-blend/1"),
    ("1/oil-varnish-blend/3", moved(14 * DAY), "which is too hard by then"),
    ("1/oil-varnish-blend/4", lambda row: replace(row, room="attic"), "is done in attic"),
    ("5/clean-up", moved(HOUR), "does not follow at once"),
    ("5/dry", moved(HOUR), "is not in the timetable"),
    ("5/dry", lambda row: replace(row, next_from=row.end + HOUR), "can be recoated from"),
    ("5/dry", lambda row: replace(row, next_until=row.end), "can be recoated until"),
    ("5/dry", lambda row: replace(row, handle_from=row.start), "can be handled from"),
    ("5/dry", lambda row: replace(row, end=row.start), "dries until"),
]


@pytest.mark.parametrize(("which", "change", "words"), ROWS, ids=[words for _, _, words in ROWS])
def test_a_row_that_breaks_a_rule(oiled: Planned, which: str, change: Tamper, words: str) -> None:
    assert words in told(tampered(oiled, which, change))


def test_what_is_missing(oiled: Planned) -> None:
    assert "shelf 1/oil-varnish-blend/4 is not in the timetable" in told(without(oiled, "1/oil-varnish-blend/4"))
    assert "nothing is cleaned after" in told(without(oiled, "/clean-up"))


def test_put_together_too_soon(folder: Path) -> None:
    table = plan(read(folder, [EXAMPLE], ONE_PERSON), "2027-03-26")
    assert broken_rules(table) == []
    assert "is fit to handle" in told(tampered(table, "put-together", moved(-2 * DAY)))


def test_two_things_at_once(oiled: Planned) -> None:
    first, second = (start_of(oiled, f"{n}/oil-varnish-blend/2") for n in (1, 2))
    assert "Wynn does two things at" in told(
        tampered(oiled, "1/oil-varnish-blend/2", moved(second.start - first.start))
    )


def test_a_coat_in_two_goes(oiled: Planned) -> None:
    row = start_of(oiled, "1/oil-varnish-blend/2")
    middle = row.start + timedelta(minutes=10)
    parts = (replace(row, end=middle), replace(row, start=middle))
    steps = tuple(one for one in oiled.timetable.steps if one is not row)
    assert "cannot pause and does" in told(replace(oiled, timetable=replace(oiled.timetable, steps=(*steps, *parts))))


@pytest.mark.parametrize(
    ("shop", "words"),
    [
        (TIGHT.replace("places: 2", "places: 1"), "2 of 1 places are taken"),
        (TIGHT.replace("temperature: 20 degC", "temperature: 12 degC"), "is put on at 12.0 °C"),
        (TIGHT.replace("humidity: 50 %", "humidity: 80 %"), "is put on at 80.0 % humidity"),
        (TIGHT.replace("humidity: 55 %", "humidity: 88 %"), "dew may fall on"),
        (TIGHT.replace("temperature: 16 degC", "temperature: 10 degC"), "too soon after"),
        (TIGHT.replace("mon-thu: [8:00-12:00, 12:30-17:00]", "mon: 8:00-17:00"), "Wynn does not work"),
        (TIGHT.replace("name: Wynn,", "name: Wynn, skills: [coating, assembly],"), "Wynn does no sanding"),
        (TIGHT + "closed: [2027-04-05 to 2027-04-30]\n", "Wynn does not work"),
        (
            TIGHT + "overrides: {finishes: {oil-varnish-blend: {recoat: 8 h, recoat-limit: 12 h}}}\n",
            "which is too hard by then",
        ),
        (TIGHT + "overrides: {finishes: {oil-varnish-blend: {light-use: 9 d}}}\n", "is not fit for the customer by"),
        (TIGHT + "overrides: {finishes: {oil-varnish-blend: {light-use: 1 d}}}\n", "is ready before"),
    ],
    ids=["rack", "cold", "humid", "dew", "slow", "absent", "unskilled", "closed", "window", "soft", "hard"],
)
def test_a_good_plan_in_another_shop(oiled: Planned, folder: Path, shop: str, words: str) -> None:
    assert words in told(replace(oiled, pieces=read(folder, [shelf("oil-varnish-blend", 2)], shop)))


def test_what_is_told_of_the_pieces(oiled: Planned) -> None:
    timetable = oiled.timetable
    (times,) = timetable.pieces
    for change, words in (
        (replace(times, ready=times.ready - HOUR), "is not fit for the customer by"),
        (replace(times, ready=times.ready + HOUR), "is ready before"),
        (replace(times, start=times.start - HOUR), "does not start at"),
        (replace(times, buffer_h=1.0), "has a buffer of 1.0 h"),
        (replace(times, buffer_working_h=1.0), "has a buffer of 1.0 working hours"),
        (replace(times, deliver=times.ready), "is delivered at"),
    ):
        assert words in told(replace(oiled, timetable=replace(timetable, pieces=(change,))))
    assert "the plan does not start" in told(replace(oiled, timetable=replace(timetable, start=times.ready)))
    assert "not that of the tightest piece" in told(replace(oiled, timetable=replace(timetable, buffer_h=0.0)))
    assert "starts before now" in told(replace(oiled, now=times.start + HOUR))


def test_two_sprayed_at_once_and_a_mix_that_is_used_too_long(folder: Path) -> None:
    shop = ONE_PERSON.replace("temperature: 16 degC", "temperature: 19 degC")
    sprayed = plan(read(folder, [shelf("polyurethane-2k", 2)], shop), "2027-04-30")
    assert broken_rules(sprayed) == []
    one, other = (start_of(sprayed, f"{n}/polyurethane-2k/4/first-side") for n in (1, 2))
    later = one.start - other.start + timedelta(minutes=5)
    assert "are sprayed at once" in told(tampered(sprayed, other.id, moved(later)))
    short = shop + "overrides: {finishes: {polyurethane-2k: {mix: {pot-life: 0.1 h}}}}\n"
    assert "the mix of" in told(replace(sprayed, pieces=read(folder, [shelf("polyurethane-2k", 2)], short)))

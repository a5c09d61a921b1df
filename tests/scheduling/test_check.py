"""The checker names every rule that is broken; each case by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from finplan.scheduling import Activity, Hold, Lag, Mode, NotAfter, NotBefore, Problem, Scheduled, SerialBatch, Slots
from finplan.scheduling.check import broken_rules

WEEK = {"day": (Slots(2, 5), Slots(8, 12))}
SAND = Activity.of("sand", 2, {"ann": 1}, calendar="day")
COAT = Activity.of("coat", 4, {"ann": 1}, calendar="day", pausable=True)
DRY = Activity("dry", (Mode(lambda start: start + 3),), optional=True)
SHOP = Problem((SAND, COAT, DRY), 14, capacities={"ann": 1}, calendars=WEEK)
GOOD = {"sand": Scheduled(2, 4, 0), "coat": Scheduled(4, 11, 0), "dry": Scheduled(11, 14, 0)}


def test_a_good_schedule_breaks_nothing() -> None:
    assert broken_rules(SHOP, GOOD) == []
    assert broken_rules(SHOP, {name: one for name, one in GOOD.items() if name != "dry"}) == []


@pytest.mark.parametrize(
    ("name", "place", "told"),
    [
        ("sand", Scheduled(1, 3, 0), "'sand' cannot start at 1 in mode 0"),
        ("sand", Scheduled(4, 6, 0), "'sand' cannot start at 4 in mode 0"),
        ("sand", Scheduled(2, 5, 0), "'sand' starts at 2 and ends at 5 instead of 4"),
        ("sand", Scheduled(2, 4, 1), "'sand' has no mode 1"),
        ("coat", Scheduled(4, 8, 0), "'coat' starts at 4 and ends at 8 instead of 11"),
        ("coat", Scheduled(10, 14, 0), "'coat' cannot start at 10 in mode 0"),
        ("dry", Scheduled(12, 15, 0), "'dry' runs from 12 to 15, outside 0 to 14"),
        ("glue", Scheduled(0, 1, 0), "'glue' is no activity"),
    ],
)
def test_a_wrong_place_is_named(name: str, place: Scheduled, told: str) -> None:
    assert broken_rules(SHOP, {**GOOD, name: place}) == [told]


@pytest.mark.parametrize(
    ("activity", "told"),
    [
        (replace(SAND, earliest=3), "'sand' starts at 2, before 3"),
        (replace(SAND, latest=1), "'sand' starts at 2, after 1"),
        (replace(SAND, starts=(Slots(0, 2), Slots(3, 4))), "'sand' starts at 2, where it may not"),
    ],
)
def test_a_start_outside_its_window_is_named(activity: Activity, told: str) -> None:
    assert broken_rules(replace(SHOP, activities=(activity, COAT, DRY)), GOOD) == [told]


def test_a_start_before_all_time_is_named() -> None:
    told = ["'dry' runs from -1 to 2, outside 0 to 14", "'dry' starts at -1, before 0"]
    assert broken_rules(SHOP, {**GOOD, "dry": Scheduled(-1, 2, 0)}) == told


def test_what_is_left_out_is_named() -> None:
    assert broken_rules(SHOP, {"sand": GOOD["sand"]}) == ["'coat' is not done"]


def test_a_resource_taken_twice_is_named() -> None:
    both = {**GOOD, "sand": Scheduled(8, 10, 0)}
    assert broken_rules(SHOP, both) == ["2 of 1 'ann' are taken at 8"]


@pytest.mark.parametrize(
    ("relation", "told"),
    [
        (Lag("sand", "coat", 3), "'coat' starts at 4, less than 3 after 'sand' at 2"),
        (Lag("coat", "sand", -1), "'sand' starts at 2, less than -1 after 'coat' at 4"),
        (
            NotBefore("coat", "dry", lambda end: end + 1),
            "'dry' starts at 11, before 12, which the end of 'coat' at 11 asks",
        ),
        (
            NotBefore("coat", "dry", lambda _: None),
            "'dry' starts at 11, before None, which the end of 'coat' at 11 asks",
        ),
        (
            NotAfter("sand", "dry", lambda start: start + 8, "start"),
            "'dry' starts at 11, after 10, which the start of 'sand' at 2 allows",
        ),
    ],
)
def test_a_broken_relation_is_named_and_lifted_by_what_lifts_it(
    relation: Lag | NotBefore | NotAfter, told: str
) -> None:
    assert broken_rules(replace(SHOP, relations=(relation,)), GOOD) == [told]
    extra = Activity.of("scuff", 1, calendar="day")
    lifted = replace(SHOP, activities=(SAND, COAT, DRY, replace(extra, optional=True)), relations=(relation,))
    lifted = replace(lifted, relations=(replace(relation, unless="scuff"),))
    assert broken_rules(lifted, GOOD) == [told]
    assert broken_rules(lifted, {**GOOD, "scuff": Scheduled(2, 3, 0)}) == []


@pytest.mark.parametrize(
    ("hold", "until"),
    [
        (Hold("rack", 1, "sand"), 14),
        (Hold("rack", 1, "sand", until="dry"), 11),
        (Hold("rack", 1, "sand", rule=lambda end: end + 5), 9),
        (Hold("rack", 1, "sand", rule=lambda end: end + 5, until="dry"), 9),
        (Hold("rack", 1, "sand", rule=lambda end: end + 9, until="dry"), 11),
        (Hold("rack", 1, "sand", rule=lambda _: None), 14),
    ],
)
def test_a_hold_lasts_until_it_is_let_go(hold: Hold, until: int) -> None:
    rack = replace(SHOP, activities=(SAND, COAT, replace(DRY, optional=False)), capacities={"ann": 1, "rack": 1})
    for start in range(14):
        other = Activity.of("other", 1, {"rack": 1})
        problem = replace(rack, activities=(*rack.activities, other), holds=(hold,))
        free = not 2 <= start < until
        told = [] if free else [f"2 of 1 'rack' are taken at {start}"]
        assert broken_rules(problem, {**GOOD, "other": Scheduled(start, start + 1, 0)}) == told


def test_members_of_a_batch_and_their_tails() -> None:
    modes = (Mode(2, name="ann"), Mode(2, name="bob"))
    tail = (Mode(1, name="ann"), Mode(1, name="bob"))
    activities = (*(Activity(name, modes) for name in "ab"), *(Activity(name, tail, optional=True) for name in "xy"))
    problem = Problem(activities, 10, batches=(SerialBatch(("a", "b"), ("x", "y"), longest=4),))
    a, b = Scheduled(0, 2, 0), Scheduled(2, 4, 0)
    assert broken_rules(problem, {"a": a, "b": b, "y": Scheduled(4, 5, 0)}) == []
    assert broken_rules(problem, {"a": a, "b": b}) == ["'y' is not done though nothing follows 'b'"]
    assert broken_rules(problem, {"a": a, "b": b, "y": Scheduled(4, 5, 1)}) == [
        "'y' does not follow 'b' at 4 in the same way"
    ]
    by_another = {"a": a, "b": Scheduled(2, 4, 1), "y": Scheduled(4, 5, 1)}
    assert broken_rules(problem, by_another) == ["'x' is not done though nothing follows 'a'"]
    short = replace(problem, batches=(SerialBatch(("a", "b"), ("x", "y"), longest=3),))
    assert broken_rules(short, {"a": a, "b": b, "y": Scheduled(4, 5, 0)}) == [
        "the run from 'a' to 'b' lasts 4, longer than 3"
    ]

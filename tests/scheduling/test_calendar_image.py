"""Where everything pauses on one common calendar, the optimum is the calendar's image of that without a calendar.

Nothing but open slots counts then: leaving the closed ones out, and putting them back in, changes no order.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from finplan.scheduling import Activity, Lag, Mode, NotBefore, Problem, Slots, solve
from finplan.scheduling.check import broken_rules


def project(seed: int, *, milestones: float = 0.0) -> Problem:
    """Activities on two resources, each after some of those before it; a share of them *milestones* of no length."""
    chance = random.Random(seed)
    count = chance.randint(6, 18)
    activities = tuple(
        Activity.of(str(index), chance.randint(1, 5), {chance.choice("rs"): chance.randint(1, 2)})
        for index in range(count)
    )
    relations = tuple(
        NotBefore(str(first), str(second))
        for second in range(1, count)
        for first in sorted({chance.randrange(max(0, second - 5), second) for _ in range(chance.randint(0, 2))})
    )
    short = Mode(0)
    activities = tuple(replace(one, modes=(short,)) if chance.random() < milestones else one for one in activities)
    return Problem(activities, 5 * count, relations, {"r": 2, "s": 3})


def calendar_of(seed: int, slots: int) -> tuple[Slots, ...]:
    """Open stretches of one to nine slots, as many slots as wanted in all."""
    chance = random.Random(seed)
    spans, start = [], chance.randint(0, 6)
    while slots > 0:
        length = min(slots, chance.randint(1, 9))
        spans.append(Slots(start, start + length))
        slots -= length
        start += length + chance.randint(1, 7)
    return tuple(spans)


def on_a_calendar(problem: Problem, spans: tuple[Slots, ...]) -> Problem:
    activities = tuple(
        replace(activity, modes=tuple(replace(mode, calendar="day", pausable=True) for mode in activity.modes))
        if activity.modes[0].duration
        else activity
        for activity in problem.activities
    )
    return replace(problem, activities=activities, horizon=spans[-1].end, calendars={"day": spans})


@pytest.mark.parametrize("seed", range(40))
def test_the_optimum_on_a_calendar_is_the_image_of_the_one_without(seed: int) -> None:
    problem = project(seed)
    spans = calendar_of(seed, problem.horizon)
    mapped = on_a_calendar(problem, spans)
    free, paused = solve(problem), solve(mapped)
    assert (free.status, paused.status) == ("optimal", "optimal")
    opened = [slot for span in spans for slot in range(span.start, span.end)]
    assert free.makespan is not None
    assert paused.makespan == opened[free.makespan - 1] + 1
    assert broken_rules(mapped, paused.schedule) == []


@pytest.mark.parametrize("seed", range(40))
def test_milestones_that_follow_no_calendar_change_nothing_of_that(seed: int) -> None:
    """They may lie in closed time, and have the latest end only where what they come after has it too."""
    problem = project(seed, milestones=0.4)
    spans = calendar_of(seed, max(1, problem.horizon))
    mapped = on_a_calendar(problem, spans)
    free, paused = solve(problem), solve(mapped)
    assert (free.status, paused.status) == ("optimal", "optimal")
    assert set(paused.schedule) == set(free.schedule)
    opened = [slot for span in spans for slot in range(span.start, span.end)]
    assert free.makespan is not None
    assert paused.makespan == (opened[free.makespan - 1] + 1 if free.makespan else 0)
    assert broken_rules(mapped, paused.schedule) == []


def test_what_is_said_of_a_milestone_beside_what_it_comes_after_is_kept() -> None:
    """It may begin no sooner than told, so long after the start of another, or by a rule after its end."""
    saw, glue = (Activity.of(name, 2, calendar="day", pausable=True) for name in ("saw", "glue"))
    told = Activity.of("told", 0)
    order = NotBefore("saw", "told"), NotBefore("told", "glue")
    problem = Problem((saw, told, glue), 40, order, {}, {"day": (Slots(0, 4), Slots(10, 14), Slots(20, 24))})
    assert solve(problem).makespan == 4
    for other in (
        replace(problem, activities=(saw, replace(told, earliest=3), glue)),
        replace(problem, relations=(*order, Lag("saw", "told", 3))),
        replace(problem, relations=(NotBefore("saw", "told", lambda end: end + 1), order[1])),
    ):
        found = solve(other)
        assert (found.status, found.makespan) == ("optimal", 11)
        assert found.starts["told"] >= 3
        assert broken_rules(other, found.schedule) == []

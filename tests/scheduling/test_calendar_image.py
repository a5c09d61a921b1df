"""Where everything pauses on one common calendar, the optimum is the calendar's image of that without a calendar.

Nothing but open slots counts then: leaving the closed ones out, and putting them back in, changes no order.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from finplan.scheduling import Activity, NotBefore, Problem, Slots, solve
from finplan.scheduling.check import broken_rules


def project(seed: int) -> Problem:
    """Activities on two resources, each after some of those before it."""
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

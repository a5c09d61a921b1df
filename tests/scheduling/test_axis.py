"""When activities can start, stretch by stretch, against every slot asked by itself."""

from __future__ import annotations

from itertools import accumulate, pairwise

from hypothesis import given
from hypothesis import strategies as st

from finplan.scheduling import Activity, Mode, Problem, Slots
from finplan.scheduling.axis import Clock, axis_of, ends_by_start

HORIZON = 40

spans = st.lists(st.integers(1, 7), max_size=10).map(
    lambda gaps: tuple(Slots(begin, end) for begin, end in list(pairwise(accumulate(gaps)))[::2])
)
durations = st.integers(0, 12) | st.just(lambda start: start + 2 + start % 3)
modes = st.builds(Mode, durations, calendar=st.sampled_from(["day", "night", None]), pausable=st.booleans())
activities = st.builds(
    Activity,
    st.just("saw"),
    st.tuples(modes),
    earliest=st.integers(-2, HORIZON + 2),
    latest=st.none() | st.integers(0, HORIZON + 2),
    starts=st.none() | spans,
)


def one_by_one(activity: Activity, problem: Problem) -> dict[int, int]:
    """Ask the clock of every point by itself."""
    (mode,) = activity.modes
    clock, found = Clock(problem, mode.calendar), {}
    for index, slot in enumerate(axis_of(problem).points):
        latest = HORIZON if activity.latest is None else activity.latest
        may = activity.starts is None or any(span.start <= slot < span.end for span in activity.starts)
        end = clock.end(slot, mode) if may and activity.earliest <= slot <= latest else None
        if end is not None and end <= HORIZON:
            found[index] = end
    return found


@given(activity=activities, day=spans, night=spans)
def test_stretch_by_stretch_is_slot_by_slot(
    activity: Activity, day: tuple[Slots, ...], night: tuple[Slots, ...]
) -> None:
    other = Activity("glue", (Mode(1, calendar="night"),))
    problem = Problem((activity, other), HORIZON, calendars={"day": day, "night": night})
    (mode,) = activity.modes
    found = ends_by_start(activity, mode, Clock(problem, mode.calendar), axis_of(problem))
    assert list(found.pairs()) == list(one_by_one(activity, problem).items())

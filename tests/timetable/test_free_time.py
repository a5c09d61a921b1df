"""Where work fits a person's free time, against a count slot by slot; and drying of a day at once against each slot."""

from __future__ import annotations

import random
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from finplan.scheduling import Slots
from finplan.timetable import Planner
from finplan.timetable.construct.free_time import FreeTime
from finplan.timetable.hours import Hours
from finplan.timetable.setting import latest_end
from finplan.timetable.stages import stage_time
from tests.timetable.test_construct import made_up_job

stretches = st.lists(st.tuples(st.integers(1, 4), st.integers(1, 12)), min_size=1, max_size=6)
taken = st.lists(st.tuples(st.integers(0, 60), st.integers(1, 5)), max_size=6)


@given(stretches, taken, st.integers(1, 9), st.integers(0, 4), st.booleans(), st.booleans(), st.integers(0, 20))
def test_work_begins_where_a_count_says(
    gaps: list[tuple[int, int]],
    busy: list[tuple[int, int]],
    slots: int,
    clean: int,
    pauses: bool,
    clean_pauses: bool,
    first: int,
) -> None:
    spans, at = [], 0
    for gap, length in gaps:
        spans.append(Slots(at + gap, at + gap + length))
        at += gap + length
    hours = Hours(spans)
    free, busy_slots = FreeTime(hours), set()
    busy = [(number, count) for number, count in busy if number + count <= hours.total]
    for number, count in busy:
        free.take(number, count)
        busy_slots |= set(range(number, number + count))
    stretch = [index for index, span in enumerate(spans) for _ in range(span.start, span.end)]
    at_once = min(clean, 1) if clean_pauses else clean

    def fits(number: int) -> bool:
        if number + slots + clean > hours.total or busy_slots & set(range(number, number + slots + clean)):
            return False
        whole = range(number + slots - 1 if pauses else number, number + slots + at_once)
        return len({stretch[one] for one in whole}) == 1

    last = first + 25
    found = free.starts(first, last, slots, clean, pauses=pauses, at_once=at_once)
    begun = [first + one for one in range(26) if found >> one & 1]
    assert begun == [one for one in range(first, last + 1) if fits(one)]
    assert free.is_taken_twice == (len(busy_slots) < sum(count for _, count in busy))


def test_a_day_of_drying_is_that_of_each_slot(tmp_path: Path) -> None:
    planner = Planner(made_up_job(1, 1, tmp_path))
    setting = planner.setting
    coat = next(one for piece in planner.job.pieces for one in piece.open if one.finish is not None)
    slots = random.Random(1).sample(range(setting.slots), 300)
    for stage in ("recoat", "handle", "cure"):
        time = stage_time(setting.catalogue.finishes[coat.coated_with], stage)
        rule = setting.dry_slots(coat, time)
        assert [rule(slot) for slot in slots] == [setting.dry_slot(coat, slot, time) for slot in slots]
        known = max(slot for slot in range(0, setting.slots, 97) if rule(slot) is not None)
        for moment in (0, 5, 300, known):
            upto = [end for end in range(moment + 1) if (dry := rule(end)) is not None and dry <= moment]
            assert latest_end(rule, moment) == max(upto, default=-1)

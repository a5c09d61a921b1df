"""How much is to be left between ready and delivery, and how much of it is working time."""

from __future__ import annotations

from bisect import bisect_right
from itertools import accumulate

from finplan.catalogue import TimeInHand
from finplan.inputs import Shop
from finplan.timetable.setting import Setting
from finplan.timetable.timetable import Buffer

_DAYS_A_WEEK = 7


def buffer_wanted(shop: Shop, plan_h: float, rule: TimeInHand) -> Buffer:
    """Return the buffer wanted: the shop's, in clock hours; else working days by the length of the plan.

    Parameters
    ----------
    shop
        The shop
    plan_h
        How long the plan runs from its first stroke of work to ready. [h]
    rule
        What is kept in hand in a shop that says nothing

    Notes
    -----
    A working day is as long as the shop's are
    on average, of those on which anybody works.
    """
    if shop.buffer_h is not None:
        return Buffer(shop.buffer_h, working=False)
    weeks = plan_h / (24.0 * _DAYS_A_WEEK)
    return Buffer(max(rule.least_buffer, rule.buffer_a_week * weeks) * working_day_h(shop), working=True)


def working_day_h(shop: Shop) -> float:
    """Return how long somebody works on a day on which anybody does, on average. [h]"""
    days: list[float] = []
    for weekday in range(_DAYS_A_WEEK):
        minutes: set[int] = set()
        for person in shop.people:
            for shift in person.hours[weekday]:
                minutes.update(range(shift.start_min, shift.end_min))
        if minutes:
            days.append(len(minutes) / 60)
    return sum(days) / len(days) if days else 0.0


class WorkingTime:
    """Slots in which somebody works, counted from the start of a setting."""

    def __init__(self, setting: Setting) -> None:
        self._spans = setting.anybody
        self._before = list(accumulate((span.end - span.start for span in self._spans), initial=0))
        """How many slots lie before each stretch, and after the last."""

    def up_to(self, slot: int) -> int:
        """Return how many slots before *slot* somebody works in."""
        index = bisect_right(self._spans, slot, key=lambda span: span.start) - 1
        if index < 0:
            return 0
        return self._before[index] + min(slot, self._spans[index].end) - self._spans[index].start

    def back(self, slot: int, count: int) -> int:
        """Return the latest slot that leaves so many working ones before *slot*; negative where there are too few."""
        left = self.up_to(slot) - count
        if count <= 0:
            return slot
        if left < 0:
            return -1
        index = bisect_right(self._before, left) - 1
        return self._spans[index].start + left - self._before[index]

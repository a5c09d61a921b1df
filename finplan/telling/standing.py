"""What is left alone after a step beside the coats, as what lies under stripper: for a tag and the calendar."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from finplan.planning import Plan
from finplan.timetable import TimetableStep


@dataclass(frozen=True, slots=True)
class LeftAlone:
    """An item that is left alone until what comes next to it."""

    row: TimetableStep
    """The last stretch of what was done to it."""
    so: str
    """How it stands."""
    until: datetime

    @property
    def caution(self) -> str:
        """What is not done before the moment."""
        return f"{self.so}. Do not touch before"


def left_alone(plan: Plan) -> Mapping[str, LeftAlone]:
    """Return what stands after the steps of a plan, by the id of their rows; nothing of what may be touched.

    What dries on is touched when it is taken off, by plan; all else when it has waited as long as it typically does.
    """
    attended = [row for row in plan.timetable.steps if row.kind == "attended"]
    alone: dict[str, LeftAlone] = {}
    for row in attended:
        record = None if row.extra is None else plan.catalogue.extra_steps[row.extra]
        if record is None or record.stands is None:
            continue
        later = [step for step in attended if (step.key, step.item) == (row.key, row.item) and step.start >= row.end]
        if not record.next_before_break and any(step.of_step == row.of_step for step in later):
            continue  # another stretch of it, or portion, is to come
        following = min(later, key=lambda step: step.start.timestamp(), default=None)
        waits_h = 0.0 if record.wait_h is None else record.wait_h.typical
        until = row.end + timedelta(hours=waits_h)
        if following is not None and (record.next_before_break or following.start < until):
            until = following.start
        if until > row.end:
            alone[row.id] = LeftAlone(row, record.stands, until)
    return alone

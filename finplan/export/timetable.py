"""The timetable as plain data."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from finplan.timetable import Timetable


def timetable_data(timetable: Timetable) -> dict[str, Any]:
    """Return who does what when; times with their offset from universal time, spans in h."""
    return {
        "format": "finplan-timetable/1",
        "status": timetable.status,
        "gap": timetable.gap_h,
        "start": _time(timetable.start),
        "latest_safe_start": _time(timetable.latest_safe_start),
        "ready": _time(timetable.ready),
        "deliver": _time(timetable.deliver),
        "buffer_h": timetable.buffer_h,
        "buffer_wanted_h": timetable.buffer_wanted_h,
        "steps": [
            {
                "id": step.id,
                "piece": step.piece,
                "item": step.item,
                "step": step.step,
                "kind": step.kind,
                "start": _time(step.start),
                "end": _time(step.end),
                "person": step.person,
                "room": step.room,
                "next_from": _time(step.next_from),
                "next_until": _time(step.next_until),
                "stands_still_below_c": step.still_below_c,
            }
            for step in timetable.steps
        ],
        "cured": {item: _time(when) for item, when in timetable.cured},
        "clashes": [
            {
                "requirement": clash.requirement,
                "short_by_h": clash.short_by_h,
                "would_fit": [{"change": fit.change, "ready": _time(fit.ready)} for fit in clash.would_fit],
            }
            for clash in timetable.clashes
        ],
    }


def _time(moment: datetime | None) -> str | None:
    return None if moment is None else moment.isoformat(timespec="minutes")

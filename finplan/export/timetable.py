"""The timetable as plain data."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from finplan.export.csv_text import csv_text
from finplan.telling import would_fit_words
from finplan.timetable import PieceTimes, Timetable, TimetableStep, WouldFit

COLUMNS = (
    *("piece", "item", "step", "kind", "deed", "start", "end", "minutes"),
    *("person", "room", "next_from", "next_until", "handle_from", "alone_until", "critical", "id"),
)
"""The columns of the spreadsheet; a row for every stretch of work or drying."""


def timetable_data(timetable: Timetable) -> dict[str, Any]:
    """Return who does what when; times with their offset from universal time, spans in h.

    Notes
    -----
    With several pieces ``ready``, ``deliver`` and ``buffer_h`` are those of the piece with the smallest buffer. A step
    that a break interrupts is given as several with the same ``id``.
    """
    return {
        "format": "finplan-timetable/1",
        "status": timetable.status,
        "gap": timetable.gap_h,
        "start": _time(timetable.start),
        "latest_safe_start": _time(timetable.latest_safe_start),
        "earliest_ready": _time(timetable.earliest_ready),
        "ready": _time(timetable.ready),
        "deliver": _time(timetable.deliver),
        "buffer_h": timetable.buffer_h,
        "buffer_wanted_h": timetable.buffer_wanted_h,
        "buffer_measure": "working time" if timetable.buffer.working else "clock time",
        "short_of_buffer": timetable.short_of_buffer,
        "cut_short": timetable.cut_short,
        "pieces": [_piece(piece) for piece in timetable.pieces],
        "steps": [_step(step) for step in timetable.steps],
        "cured": {item: _time(when) for item, when in timetable.cured},
        "clashes": [
            {
                "requirement": clash.requirement,
                "short_by_h": clash.short_by_h,
                "would_fit": [_would_fit(fit, timetable.working_day_h) for fit in clash.would_fit],
            }
            for clash in timetable.clashes
        ],
        "notes": list(timetable.notes),
    }


def _would_fit(fit: WouldFit, working_day_h: float) -> dict[str, Any]:
    return {
        "change": fit.change,
        "kind": fit.kind,
        "ready": _time(fit.ready),
        "gain_h": fit.gain_h,
        "gain_working_h": fit.gain_working_h,
        "in_time_probability": fit.in_time,
        "told": would_fit_words(fit, working_day_h),
    }


def steps_csv(timetable: Timetable) -> str:
    """Return who does what when as comma-separated values; times with their offset from universal time."""
    return csv_text(COLUMNS, map(_row, timetable.steps))


def _row(step: TimetableStep) -> list[object]:
    minutes = round((step.end.timestamp() - step.start.timestamp()) / 60)
    return [
        *(step.piece, step.item, step.step, step.kind, step.deed, _time(step.start), _time(step.end), minutes),
        *(step.person, step.room, _time(step.next_from), _time(step.next_until)),
        *(_time(step.handle_from), _time(step.alone_until)),
        *("yes" if step.critical else "no", step.id),
    ]


def _piece(piece: PieceTimes) -> dict[str, Any]:
    return {
        "piece": piece.piece,
        "start": _time(piece.start),
        "ready": _time(piece.ready),
        "deliver": _time(piece.deliver),
        "buffer_h": piece.buffer_h,
        "buffer_working_h": piece.buffer_working_h,
        "in_time_probability": piece.in_time,
    }


def _step(step: TimetableStep) -> dict[str, Any]:
    return {
        "id": step.id,
        "piece": step.piece,
        "item": step.item,
        "step": step.step,
        "kind": step.kind,
        "deed": step.deed,
        "start": _time(step.start),
        "end": _time(step.end),
        "person": step.person,
        "room": step.room,
        "next_from": _time(step.next_from),
        "next_until": _time(step.next_until),
        "handle_from": _time(step.handle_from),
        "alone_until": _time(step.alone_until),
        "slow_below_c": step.slow_below_c,
        "stands_still_below_c": step.still_below_c,
        "film_fails_below_c": step.film_fails_below_c,
        "critical": step.critical,
    }


def _time(moment: datetime | None) -> str | None:
    return None if moment is None else moment.isoformat(timespec="minutes")

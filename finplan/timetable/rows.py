"""A schedule as the rows of a timetable: stretches of work by person, and the drying between them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from finplan.scheduling import Scheduled
from finplan.system import SECOND_SIDE, Treatment, TreatmentStep, drying_id, steps_by_id
from finplan.timetable.calendar import Stretch
from finplan.timetable.job import Job, PieceWork
from finplan.timetable.operation import STEP_MIN, Operation, Stage, all_operations
from finplan.timetable.setting import Setting
from finplan.timetable.stages import stage_time
from finplan.timetable.timetable import TimetableStep

_SAME = 1e-9
"""Times that differ by less are the same: what dries by the minute is summed up in small parts."""


def rows_of_schedule(
    job: Job, setting: Setting, schedule: Mapping[str, Scheduled], critical: frozenset[str] = frozenset()
) -> tuple[TimetableStep, ...]:
    """Return the rows of a schedule in order of time."""
    steps = [
        row
        for piece in job.pieces
        for operation in all_operations(piece.open)
        if (scheduled := schedule.get(operation.id)) is not None
        for row in _rows_of(piece, operation, scheduled, schedule, setting, operation.id in critical)
    ]
    return in_order(steps)


def in_order(rows: Iterable[TimetableStep]) -> tuple[TimetableStep, ...]:
    """Return rows in order of time: not by the clock on the wall, which in autumn shows an hour twice."""
    return tuple(sorted(rows, key=lambda row: (row.start.timestamp(), row.kind, row.id)))


def stretches(operation: Operation, person: str, scheduled: Scheduled, setting: Setting) -> list[Stretch]:
    """Return the stretches of work of a scheduled operation, in minutes; the last ends when the work is done."""
    left = operation.work_min
    parts: list[Stretch] = []
    for span in setting.spans[person]:
        start_min = max(span.start, scheduled.start) * setting.slot_min
        end_min = min(start_min + left, min(span.end, scheduled.end) * setting.slot_min)
        if start_min < end_min:
            parts.append(Stretch(start_min, end_min))
            left -= end_min - start_min
    return parts


def _rows_of(
    piece: PieceWork,
    operation: Operation,
    scheduled: Scheduled,
    schedule: Mapping[str, Scheduled],
    setting: Setting,
    critical: bool,
) -> Iterator[TimetableStep]:
    person = setting.who(operation)[scheduled.mode]
    worked = stretches(operation, person, scheduled, setting)
    end_min = float(worked[-1].end_min)
    dried = _NOTHING_DRIES if operation.finish is None else _dried(operation, end_min, setting)
    abraded = _abraded_first(operation, piece, schedule)
    for stretch in worked:
        yield TimetableStep(
            id=operation.id,
            piece=piece.piece,
            item=operation.item,
            step=operation.label,
            kind="attended",
            deed=operation.deed,
            start=setting.clock(stretch.start_min),
            end=setting.clock(stretch.end_min),
            person=person,
            room=setting.room_of(operation),
            next_from=dried.next_from,
            next_until=dried.next_until,
            abraded_first=abraded,
            handle_from=dried.handle_from,
            alone_until=dried.alone_until,
            critical=critical,
            of_step=operation.of_step,
            side=operation.side,
            set_number=operation.number,
            kin=operation.kin,
            key=piece.key,
            extra=operation.extra,
        )
    if operation.finish is not None:
        yield replace(_drying(piece, operation, end_min, dried, setting, critical), abraded_first=abraded)


def _abraded_first(operation: Operation, piece: PieceWork, schedule: Mapping[str, Scheduled]) -> bool | None:
    """Return whether a coat is abraded before the next one, by its steps or since that comes too late otherwise."""
    if operation.finish is None or operation.abraded_first is None:
        return None
    again = [known.again for known in piece.open if known.over == operation.id]
    return operation.abraded_first or any(abrading is not None and abrading.id in schedule for abrading in again)


@dataclass(frozen=True, slots=True)
class _Dried:
    """When a coat has dried how far; None where that is not within what is looked at, or never."""

    next_from: datetime | None
    next_until: datetime | None
    handle_from: datetime | None
    alone_until: datetime | None


_NOTHING_DRIES = _Dried(None, None, None, None)


def _dried(operation: Operation, end_min: float, setting: Setting) -> _Dried:
    window = recoat_window(operation, end_min, setting)
    handle_from = _reached(operation, end_min, "handle", setting)
    stage = operation.next_waits_for
    alone_until = window[0] if stage == "recoat" else _reached(operation, end_min, stage, setting)
    if stage == "recoat" and operation.side == SECOND_SIDE:  # for what comes next it is turned over once more
        alone_until = None if window[0] is None or handle_from is None else max(window[0], handle_from)
    return _Dried(*window, handle_from, alone_until)


def _reached(operation: Operation, end_min: float, stage: Stage, setting: Setting) -> datetime | None:
    drying = setting.drying_of(operation)
    phase, hours = stage_time(drying.finish, stage)
    minute = drying.reached(end_min, phase, hours.typical, operation.thickness)
    return None if minute is None else setting.clock(math.ceil(minute / STEP_MIN - _SAME) * STEP_MIN)


def recoat_window(operation: Operation, end_min: float, setting: Setting) -> tuple[datetime | None, datetime | None]:
    """Return from when and until when the next coat may go on one that ended at a minute, never wider than it is."""
    drying = setting.drying_of(operation)
    closes = drying.recoat_closes(end_min)
    return (
        _reached(operation, end_min, "recoat", setting),
        None if closes is None else setting.clock(math.floor(closes / STEP_MIN + _SAME) * STEP_MIN),
    )


def _drying(
    piece: PieceWork,
    operation: Operation,
    end_min: float,
    dried: _Dried,
    setting: Setting,
    critical: bool,
) -> TimetableStep:
    drying = setting.drying_of(operation)
    dry = dried.alone_until or setting.clock(end_min)
    dry_min = setting.minute(dry)
    film = drying.finish.film
    slow, still = drying.is_cold(end_min, dry_min), drying.stands_still(end_min, dry_min)
    return TimetableStep(
        id=drying_id(operation.id),
        piece=piece.piece,
        item=operation.item,
        step=f"{operation.label} dries",
        kind="drying",
        deed=operation.deed,
        start=setting.clock(end_min),
        end=dry,
        person=None,
        room=setting.rooms["drying"],
        next_from=dried.next_from,
        next_until=dried.next_until,
        handle_from=dried.handle_from,
        alone_until=dried.alone_until,
        slow_below_c=drying.finish.apply.temperature_c.low if slow else None,
        still_below_c=drying.still_below_c if still else None,
        film_fails_below_c=film.above_c if film and drying.film_fails(end_min, operation.thickness) else None,
        critical=critical,
        of_step=operation.of_step,
        side=operation.side,
        set_number=operation.number,
        kin=operation.kin,
        key=piece.key,
        dries=operation.id,
    )


# --- finding them again -----------------------------------------------------------------------------------------------


def first_stretches(rows: Iterable[TimetableStep]) -> dict[str, TimetableStep]:
    """Return the first stretch of all attended work, by its id."""
    firsts: dict[str, TimetableStep] = {}
    for row in rows:
        if row.kind == "attended":
            firsts.setdefault(row.id, row)
    return firsts


def drying_by_coat(rows: Iterable[TimetableStep]) -> dict[str, TimetableStep]:
    """Return the row in which a coat dries, by the id of the rows that put it on."""
    return {row.dries: row for row in rows if row.dries is not None}


def steps_by_row(
    rows: Iterable[TimetableStep], treatments: Iterable[Treatment]
) -> dict[str, tuple[Treatment, TreatmentStep]]:
    """Return the step that a row belongs to, with its treatment, by the id of the row; not of those without one."""
    by_id = steps_by_id(treatments)
    return {row.id: by_id[row.of_step] for row in rows if row.of_step is not None}

"""Later dates: those that could be kept, and those that would be kept as surely as the shop wants."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from finplan.timetable.found import Found
from finplan.timetable.remedy import LaterDates
from finplan.timetable.setting import Setting
from finplan.timetable.solve import Planner
from finplan.timetable.sure import Sure
from finplan.timetable.timetable import WouldFit


@dataclass(frozen=True, slots=True)
class TooLate:
    """A piece that comes too late for its date, or too often."""

    key: str
    piece: str | None
    """None where there is one piece only."""
    deliver: datetime
    ready: datetime


def too_late(planner: Planner, found: Found) -> list[TooLate]:
    """Return the pieces that a plan readies after their dates."""
    return [late for late in _dated(planner, found) if late.ready > late.deliver]


def unsure_of(planner: Planner, sure: Sure) -> list[TooLate]:
    """Return the pieces whose dates a plan does not keep as surely as the shop wants."""
    aim = planner.job.shop.in_time_pct / 100
    return [late for late in _dated(planner, sure.found) if sure.in_time_of[late.key] < aim]


def _dated(planner: Planner, found: Found) -> Iterator[TooLate]:
    for piece in planner.job.pieces:
        deliver = planner.job.delivery(piece)
        if deliver is not None:
            name = None if len(planner.job.pieces) == 1 else piece.piece
            yield TooLate(piece.key, name, deliver, planner.setting.clock_of_slot(planner.ready_slot(piece, found)))


def later_dates(planner: Planner, sure: Sure, late: Sequence[TooLate]) -> Iterator[WouldFit]:
    """Give the dates that a plan would keep, and those that it would keep as surely as the shop wants."""
    kept = {missed.key: _when_somebody_works(planner.setting, missed.ready) for missed in late}
    yield _dates(planner, sure, late, kept)
    surely = _surely(planner, sure, late)
    if surely is not None and surely != kept:
        yield _dates(planner, sure, late, surely)


def sure_dates(planner: Planner, sure: Sure, unsure: Sequence[TooLate]) -> Iterator[WouldFit]:
    """Give the dates that a plan would keep as surely as the shop wants."""
    surely = _surely(planner, sure, unsure)
    if surely is not None:
        yield _dates(planner, sure, unsure, surely)


def _dates(planner: Planner, sure: Sure, late: Sequence[TooLate], moments: Mapping[str, datetime]) -> WouldFit:
    """Return that what is late is delivered at other moments, and all else as was asked."""
    dues = {piece.key: moments.get(piece.key) or planner.job.delivery(piece) for piece in planner.job.pieces}
    due_min = {key: planner.setting.minute(moment) for key, moment in dues.items() if moment is not None}
    remedy = LaterDates(tuple((missed.piece, moments[missed.key]) for missed in late))
    ready = max((missed.ready for missed in late), default=planner.job.earliest)
    return WouldFit(
        remedy, "date", ready, in_time=min(sure.lived.piece_in_time(key, due) for key, due in due_min.items())
    )


def _surely(planner: Planner, sure: Sure, late: Sequence[TooLate]) -> dict[str, datetime] | None:
    """Return by when pieces are ready as surely as the shop wants; None where that is never."""
    aim, setting = planner.job.shop.in_time_pct / 100, planner.setting
    minutes = {missed.key: sure.lived.ready_by(missed.key, aim) for missed in late}
    if not all(map(math.isfinite, minutes.values())):
        return None
    return {key: _when_somebody_works(setting, setting.clock(minute)) for key, minute in minutes.items()}


def _when_somebody_works(setting: Setting, moment: datetime) -> datetime:
    """Return the first slot from a moment on at which somebody is there to hand a piece over."""
    slot = setting.slot_from(moment)
    return setting.clock_of_slot(next((max(slot, span.start) for span in setting.anybody if slot <= span.end), slot))

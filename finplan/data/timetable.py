"""The timetable."""

from __future__ import annotations

from datetime import datetime

from finplan.data.csv_text import csv_text
from finplan.data.row import row_of
from finplan.data.timetable_rows import ClashRow, PieceTimesRow, StretchRow, TimetableRow, WouldFitRow
from finplan.telling import notes_told, remedy_words, requirement_words, would_fit_words
from finplan.timetable import Clash, Timetable, TimetableStep, WouldFit

COLUMNS = (
    *("piece", "item", "step", "kind", "deed", "start", "end", "minutes"),
    *("person", "room", "next_from", "next_until", "handle_from", "alone_until", "critical", "id", "number"),
    "abraded_first",
)
"""The columns of the spreadsheet; a row for every stretch of work or drying."""


def timetable_data(timetable: Timetable) -> TimetableRow:
    """Return who does what when; times with their offset from universal time, spans in h.

    Notes
    -----
    With several pieces ``ready``, ``deliver`` and ``buffer_h`` are those of the piece with the smallest buffer. A step
    that a break interrupts is given as several with the same ``id``.
    """
    return row_of(
        TimetableRow,
        timetable,
        format="finplan-timetable/1",
        gap=timetable.gap_h,
        buffer_measure="working time" if timetable.buffer.working else "clock time",
        pieces=tuple(row_of(PieceTimesRow, piece, in_time_probability=piece.in_time) for piece in timetable.pieces),
        steps=tuple(_stretch(step) for step in timetable.steps),
        cured=dict(timetable.cured),
        notes=notes_told(timetable),
        clashes=tuple(_clash(clash, timetable.working_day_h) for clash in timetable.clashes),
        would_be_in_time=tuple(_would_fit(change, timetable.working_day_h) for change in timetable.would_be_in_time),
        would_be_sure=tuple(_would_fit(change, timetable.working_day_h) for change in timetable.would_be_sure),
    )


def _stretch(step: TimetableStep) -> StretchRow:
    opens, closes = _next_coat(step)
    return row_of(StretchRow, step, next_from=opens, next_until=closes, stands_still_below_c=step.still_below_c)


def _next_coat(step: TimetableStep) -> tuple[datetime | None, datetime | None]:
    """Return from when and until when the next coat goes on; of a coat on which none comes neither."""
    return (None, None) if step.abraded_first is None else (step.next_from, step.next_until)


def _clash(clash: Clash, working_day_h: float) -> ClashRow:
    return row_of(
        ClashRow,
        clash,
        requirement=requirement_words(clash.requirement),
        would_fit=tuple(_would_fit(change, working_day_h) for change in clash.would_fit),
    )


def _would_fit(fit: WouldFit, working_day_h: float) -> WouldFitRow:
    told = would_fit_words(fit, working_day_h)
    return row_of(WouldFitRow, fit, change=remedy_words(fit.change), in_time_probability=fit.in_time, told=told)


def steps_csv(timetable: Timetable) -> str:
    """Return who does what when as comma-separated values; times with their offset from universal time."""
    return csv_text(COLUMNS, map(_row, timetable.steps))


def _row(step: TimetableStep) -> list[object]:
    minutes = round((step.end.timestamp() - step.start.timestamp()) / 60)
    return [
        *(step.piece, step.item, step.step, step.kind, step.deed, _time(step.start), _time(step.end), minutes),
        *(step.person, step.room, *map(_time, _next_coat(step))),
        *(_time(step.handle_from), _time(step.alone_until)),
        *(_yes(step.critical), step.id, step.number, _yes(step.abraded_first)),
    ]


def _yes(value: bool | None) -> str | None:
    return None if value is None else "yes" if value else "no"


def _time(moment: datetime | None) -> str | None:
    return None if moment is None else moment.isoformat(timespec="minutes")

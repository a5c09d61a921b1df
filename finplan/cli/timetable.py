"""The timetable for a person: a table by day."""

from __future__ import annotations

from collections.abc import Sequence

from finplan.cli.table import table
from finplan.moments import show_clock, show_moment, show_year_day
from finplan.quantity import Units
from finplan.showing import capital, show_duration, show_working_time
from finplan.telling import chance_words, cold_words, gain_words, latest_start_words, share_words
from finplan.timetable import PieceTimes, Timetable, TimetableStep, WouldFit

_CRITICAL = "!"


def timetable_lines(timetable: Timetable, units: Units) -> list[str]:
    """Return the days with their steps, or what clashes."""
    if timetable.status == "impossible":
        return _clashes(timetable)
    lines = [*_head(timetable), *(["", *_steps(timetable)] if timetable.steps else [])]
    told = _cold(timetable, units)
    told += timetable.notes
    told += [f"{item} has cured fully by {show_year_day(when.date())}." for item, when in timetable.cured]
    return [*lines, "", *told] if told else lines


def _cold(timetable: Timetable, units: Units) -> list[str]:
    """Return what the cold does to coats, each with the items that it is about."""
    items: dict[str, dict[str, None]] = {}
    for step in timetable.steps:
        for words in cold_words(step, units):
            items.setdefault(words, {})[step.item] = None
    return [f"{', '.join(found)}: {words}" for words, found in items.items()]


def _steps(timetable: Timetable) -> list[str]:
    coats = [step.id for step in timetable.steps if step.next_from is not None and step.kind == "attended"]
    last_coats = {_treatment(coat): coat for coat in coats}.values()
    several = len(timetable.pieces) > 1
    day = None
    rows: list[list[str]] = []
    for step in timetable.steps:
        if step.kind != "attended":
            continue
        if step.start.date() != day:
            day = step.start.date()
            rows.append([show_year_day(day), "", "", "", "", ""])
        alone = show_moment(step.alone_until) if step.alone_until else ""
        until = ""
        if step.next_from and step.id not in last_coats:
            until = show_moment(step.next_until) if step.next_until else "no limit"
            if step.next_until and step.next_from and step.next_until < step.next_from:
                until = "once abraded"
        item = f"{step.id.partition('/')[0]}: {step.item}" if several else step.item
        rows.append([_clock(step), item, step.step, step.person or "", alone, until])
    lines = table(["when", "item", "step", "who", "leave alone until", "next coat by"], rows)
    if any(step.critical for step in timetable.steps):
        lines += ["", f"{_CRITICAL} What takes longer there makes all of it ready later."]
    return lines


def _clock(step: TimetableStep) -> str:
    return f"{_CRITICAL if step.critical else ' '} {show_clock(step.start)}-{show_clock(step.end)}"


def _treatment(step_id: str) -> str:
    """Return the item and system of a step: its id without the position."""
    return step_id.rsplit("/", 1)[0]


def _head(timetable: Timetable) -> list[str]:
    lines: list[str] = []
    several = len(timetable.pieces) > 1
    for piece in timetable.pieces:
        open_still = any(step.piece == piece.piece for step in timetable.steps)
        told = f"start {show_moment(piece.start)}" if open_still else "nothing is left to do"
        told = f"{piece.piece}: {told}" if several else capital(told)
        lines.append(f"{told}, ready for use {show_moment(piece.ready)}.")
        lines += _buffer(piece, timetable)
    if timetable.short_of_buffer:
        lines.append(f"That is less than the {_wanted(timetable)} wanted.")
    lines += chance_words(timetable)
    latest = latest_start_words(timetable)
    if latest:
        lines.append(latest)
    if timetable.earliest_ready:
        lines.append(f"The earliest that it could be ready: {show_moment(timetable.earliest_ready)}.")
    if timetable.gap_h:
        lines.append(
            f"The best plan is not proven: another could be better by up to {show_duration(timetable.gap_h)} of work."
        )
    if timetable.cut_short:
        lines.append("The time given ended the search: run again, it may come out otherwise.")
    return lines


def _buffer(piece: PieceTimes, timetable: Timetable) -> list[str]:
    if piece.deliver is None or piece.buffer_h is None:
        return []
    working = ""
    if timetable.buffer.working and piece.buffer_working_h is not None:
        working = f", {show_working_time(piece.buffer_working_h, timetable.working_day_h)} of it"
    return [f"Delivery {show_moment(piece.deliver)}: a buffer of {show_duration(piece.buffer_h)}{working}."]


def _wanted(timetable: Timetable) -> str:
    wanted_h = timetable.buffer.wanted_h
    return show_working_time(wanted_h, timetable.working_day_h) if timetable.buffer.working else show_duration(wanted_h)


def _clashes(timetable: Timetable) -> list[str]:
    lines = ["This does not fit."]
    for clash in timetable.clashes:
        short = f", short by {show_duration(clash.short_by_h)}" if clash.short_by_h else ""
        lines += ["", f"{clash.requirement}{short}"]
    # What helps, helps with all that clashes.
    for fits in dict.fromkeys(clash.would_fit for clash in timetable.clashes if clash.would_fit):
        lines += ["", *_would_fit(fits, timetable.working_day_h)]
    return lines


def _would_fit(fits: Sequence[WouldFit], working_day_h: float) -> list[str]:
    """Return what would help, the nearest to what was asked for first."""
    rows = [
        [
            fit.change,
            "" if fit.kind == "date" else show_moment(fit.ready),
            gain_words(fit, working_day_h),
            "" if fit.in_time is None else share_words(fit.in_time),
        ]
        for fit in fits
    ]
    return table(["it would fit with", "ready", "which is", "in time in"], rows)

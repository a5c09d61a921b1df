"""The timetable for a person: a table by day."""

from __future__ import annotations

from datetime import datetime

from finplan.cli.table import table
from finplan.quantity import Units
from finplan.showing import show_duration, show_temperature
from finplan.timetable import Timetable


def moment(when: datetime) -> str:
    """Return a time as it is said in the shop.

    >>> moment(datetime(2027, 3, 2, 8, 30))
    'Tue 2 Mar 08:30'
    """
    return f"{when:%a} {when.day} {when:%b %H:%M}"


def timetable_lines(timetable: Timetable, units: Units) -> list[str]:
    """Return the days with their steps, or what clashes."""
    if timetable.status == "impossible":
        return _clashes(timetable)
    lines = _head(timetable)
    coats = [step.id for step in timetable.steps if step.next_from is not None and step.kind == "attended"]
    last_coats = {_treatment(coat): coat for coat in coats}.values()
    day = None
    rows: list[list[str]] = []
    for step in timetable.steps:
        if step.kind != "attended":
            continue
        if step.start.date() != day:
            day = step.start.date()
            rows.append([f"{step.start:%a} {step.start.day} {step.start:%b %Y}", "", "", "", "", ""])
        window = until = ""
        if step.next_from and step.id not in last_coats:
            window = moment(step.next_from)
            until = moment(step.next_until) if step.next_until else "no limit"
        clock = f"  {step.start:%H:%M}-{step.end:%H:%M}"
        rows.append([clock, step.item, step.step, step.person or "", window, until])
    lines += table(["when", "item", "step", "who", "next coat from", "until"], rows)
    still = sorted({step.still_below_c for step in timetable.steps if step.still_below_c is not None})
    if still:
        lines.append("")
        lines += [
            f"It gets colder than {show_temperature(limit, units)}: until it is warm again a coat stands still."
            for limit in still
        ]
    if timetable.cured:
        lines.append("")
        lines += [f"{item} has cured fully by {when:%a} {when.day} {when:%b %Y}." for item, when in timetable.cured]
    return lines


def _treatment(step_id: str) -> str:
    """Return the item and system of a step: its id without the position."""
    return step_id.rsplit("/", 1)[0]


def _head(timetable: Timetable) -> list[str]:
    lines: list[str] = []
    if timetable.start and timetable.ready:
        lines.append(f"Start {moment(timetable.start)}, ready for light use {moment(timetable.ready)}.")
    if timetable.deliver and timetable.buffer_h is not None:
        short = timetable.buffer_h < timetable.buffer_wanted_h - 1e-6
        kept = f", less than the {show_duration(timetable.buffer_wanted_h)} wanted" if short else ""
        lines.append(f"Delivery {moment(timetable.deliver)}: a buffer of {show_duration(timetable.buffer_h)}{kept}.")
    if timetable.latest_safe_start:
        lines.append(
            f"The latest start that still meets the date, without a buffer: {moment(timetable.latest_safe_start)}."
        )
    if timetable.gap_h:
        better = "start later" if timetable.deliver else "be ready earlier"
        lines.append(f"No plan could {better} than this one by more than {show_duration(timetable.gap_h)}.")
    return [*lines, ""]


def _clashes(timetable: Timetable) -> list[str]:
    lines = ["This does not fit."]
    for clash in timetable.clashes:
        short = f", short by {show_duration(clash.short_by_h)}" if clash.short_by_h else ""
        lines += ["", f"{clash.requirement}{short}"]
        lines += [f"  It would fit: {fit.change} (ready {moment(fit.ready)})" for fit in clash.would_fit]
    return lines

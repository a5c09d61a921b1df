"""The words of what was ticked or taken back."""

from __future__ import annotations

from datetime import tzinfo

from finplan.bench.job_now import JobNow
from finplan.bench.ticked import Ticked, lacking_words, step_names
from finplan.ledger import Tick
from finplan.listing import some
from finplan.moments import show_moment
from finplan.quantity import Units
from finplan.showing import capital, show_duration, show_mass, show_temperature, show_volume

_NAMED = 3
"""So many steps are called by what is done in them; whoever ticks more has seen to it that they are these."""


def tick_lines(told: Ticked) -> list[str]:
    """Return what was written down, as a person reads it."""
    entry, named = told.entry, ", ".join(told.named)
    if told.taken_back:
        return [f"Taken back: {named}. The entry stays in the record, and counts no more.", *_notes(told)]
    said = "found dry" if entry.kind == "dry" else "done"
    who = f" by {entry.person}" if entry.person else ""
    what_of = f" ({some(told.deeds, most=_NAMED)})" if told.deeds else ""
    lines = [f"Ticked {named}{what_of}: {said} {show_moment(entry.at)}{who}."]
    written = told.written
    if written is not None and written.used_ml is not None and written.reckoned_ml:
        used, reckoned = (show_volume(ml, told.units) for ml in (written.used_ml, written.reckoned_ml))
        percent = round((written.used_ml / written.reckoned_ml - 1) * 100)
        more = "as reckoned" if percent == 0 else f"{abs(percent)} % {'more' if percent > 0 else 'less'} than reckoned"
        lines.append(f"{used} used, {more} ({reckoned}).")
        if told.is_slip:
            lines.append("That is far more than any coat takes: if it is a slip, tick it again with what is right.")
    lines += _notes(told)
    return [*lines, left_words(told.left)]


def left_words(left: int) -> str:
    """Return in a sentence how many steps are left."""
    return f"{left} step{'' if left == 1 else 's'} left." if left else "All is done."


def entry_words(entry: Tick, units: Units, zone: tzinfo) -> str:
    """Return what an entry tells of its steps, for a line: ``done Wed 10 Feb 13:35 by Wenna, 85 ml used``."""
    words = "found dry" if entry.kind == "dry" else "done"
    words += f" {show_moment(entry.at.astimezone(zone))}"
    if entry.person:
        words += f" by {entry.person}"
    told = [words]
    if entry.used_ml is not None:
        told.append(f"{show_volume(entry.used_ml, units)} used")
    elif entry.weighed_g is not None:
        told.append(f"{show_mass(entry.weighed_g, units)} used")
    if entry.took_min is not None:
        told.append(f"took {show_duration(entry.took_min / 60)}")
    air = [] if entry.air_c is None else [show_temperature(entry.air_c, units)]
    air += [] if entry.humidity_pct is None else [f"{entry.humidity_pct:.0f} %"]
    if air:
        told.append(f"air {' '.join(air)}")
    if entry.result is not None:
        told.append("lead found" if entry.result == "lead" else "no lead")
    if entry.note:
        told.append(entry.note)
    return ", ".join(told)


def late_words(job: JobNow) -> str:
    """Return why the rest is to be planned again: steps are late by the plan, or not in it; empty where it holds."""
    if job.lacking:
        return f"{capital(lacking_words(job.held, job.lacking, job.numbers))}."
    named = step_names(tuple(job.late), job.numbers)
    if not named:
        return ""
    steps = "step" if len(named) == 1 else "steps"
    return f"Late by plan {job.held.number}: {steps} {some(named)} should be done by now."


def _notes(told: Ticked) -> list[str]:
    return [f"{capital(note)}." for note in told.notes]

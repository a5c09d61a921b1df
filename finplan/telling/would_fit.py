"""What would help where a job does not fit, in words: on the terminal and in the data alike."""

from __future__ import annotations

from finplan.moments import show_clock, show_moment, show_year_day
from finplan.showing import show_duration, show_working_time
from finplan.telling.chance import share_words
from finplan.telling.remedies import remedy_words
from finplan.telling.requirements import requirement_words
from finplan.timetable import Timetable, WouldFit

_FEW = 3
"""So many changes that would keep a date are told on paper, and the last: the date that is surest."""


def ready_words(fit: WouldFit) -> str:
    """Return when all would be ready; empty where the date is what moves. What begins now may be of another year."""
    if fit.kind == "date":
        return ""
    return (
        f"{show_year_day(fit.ready.date())} {show_clock(fit.ready)}" if fit.kind == "start" else show_moment(fit.ready)
    )


def gain_words(fit: WouldFit, working_day_h: float) -> str:
    """Return by how much sooner what is late would be ready; empty where the date is what moves.

    Parameters
    ----------
    fit
        A change that was tried
    working_day_h
        How long somebody works in the shop on a day on which anybody does. [h]
    """
    if fit.gain_h is None:
        return ""
    sooner = f"{show_duration(fit.gain_h)} sooner"
    if not fit.gain_working_h:
        return sooner
    return f"{sooner}, {show_working_time(fit.gain_working_h, working_day_h)} of it"


def in_time_words(fit: WouldFit) -> str:
    """Return how surely the date that is least sure is then kept."""
    return "" if fit.in_time is None else f"in time in {share_words(fit.in_time)} of all cases"


def would_fit_words(fit: WouldFit, working_day_h: float) -> str:
    """Return a change that was tried with all that comes of it; arguments as for ``gain_words``."""
    ready = ready_words(fit)
    told = [
        words
        for words in (f"ready {ready}" if ready else "", gain_words(fit, working_day_h), in_time_words(fit))
        if words
    ]
    change = remedy_words(fit.change)
    return f"{change}: {', '.join(told)}" if told else change


def in_time_with(table: Timetable) -> str:
    """Return what would keep the dates that what is left of a job misses, in a sentence; empty where none is missed."""
    fits = [*table.would_be_in_time[:-1][:_FEW], *table.would_be_in_time[-1:]]
    told = "; or ".join(would_fit_words(fit, table.working_day_h) for fit in fits)
    return f"To be in time, {told}." if told else ""


def misfit_words(timetable: Timetable) -> str:
    """Return how sure it is that a job does not fit, of which there is no plan."""
    return "This does not fit." if timetable.status == "impossible" else "No plan was found in which this fits."


def clash_words(timetable: Timetable) -> tuple[str, ...]:
    """Return the same and what clashes, sentence by sentence."""
    return (misfit_words(timetable), *(f"{requirement_words(clash.requirement)}." for clash in timetable.clashes))

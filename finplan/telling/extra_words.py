"""What is said of a step beside the coats: how it is done, how long to wait after it, and who has to be there."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from finplan.catalogue import Catalogue, ExtraStep
from finplan.listing import number_of
from finplan.moments import show_moment
from finplan.planning import Plan
from finplan.quantity import Range, Units
from finplan.showing import plain, round_figures, show_duration, show_volume
from finplan.spans import show_range, show_work
from finplan.system import ExtraWork
from finplan.telling.delivery import put_off_words
from finplan.timetable import TimetableStep

_LONG_H = 3.0
"""From how much work on it is told in hours."""


def extra_row_lines(row: TimetableStep, plan: Plan) -> tuple[str, ...]:
    """Return what is said of a step beside the coats where it is planned; nothing of any other step.

    Whoever has to be there for the last step of a piece may come when it is ready, or when it is delivered.
    """
    if row.extra is None:
        return ()
    put_off = put_off_words(row, plan)
    return (*extra_lines(row.extra, plan.catalogue), *((put_off,) if put_off else ()))


def extra_lines(name: str, catalogue: Catalogue) -> tuple[str, ...]:
    """Return what is said of a step beside the coats whatever the item.

    Parameters
    ----------
    name
        Its name in the catalogue's extra-steps
    catalogue
        Where it is
    """
    record = catalogue.extra_steps[name]
    lines = list(record.say)
    if record.present is not None:
        lines.append(f"With {record.present}.")
    if record.wait_h is not None and record.wait_h.high > 0:
        lines.append(_wait(record, record.wait_h))
    return tuple(lines)


def _wait(record: ExtraStep, wait_h: Range) -> str:
    """Return how long what comes next waits; of what dries on, by when that is over."""
    if record.next_before_break:
        after = f"after {show_duration(wait_h.typical)}" if wait_h.typical else "at once"
        spans = f", after {show_duration(wait_h.low)} at the soonest" if wait_h.low < wait_h.typical else ""
        over = f"it is over within {show_duration(wait_h.high)}, before any break"
        return f"What comes next follows {after}{spans}; {over}."
    whole = "" if record.portion_m2 is None else "when all of the item is done, "
    told = f"then {whole}wait for {show_range(wait_h, show_duration)}."
    return told[:1].upper() + told[1:]


def extra_own_lines(work: ExtraWork, catalogue: Catalogue, units: Units, *, portions: int = 1) -> tuple[str, ...]:
    """Return what is said of it for one item alone: how many there are, how long it takes, and how much of a liquid.

    Of an item that is done in several portions it is said of each of them.
    """
    takes = f"About {_time(work.hours.scaled(1 / portions))}."
    counted = work.record.each_h is not None and work.count > 1
    if counted:
        takes = f"{number_of(work.count, 'time')}: {takes[:1].lower()}{takes[1:]}"
    return (takes, *_liquids(work, portions, catalogue, units))


def _time(hours: Range) -> str:
    """Return how long work takes; of a day and more nobody thinks in minutes."""
    return show_work(hours) if hours.typical < _LONG_H else show_range(hours, lambda taken: f"{plain(taken, 2)} h")


def _liquids(work: ExtraWork, portions: int, catalogue: Catalogue, units: Units) -> Iterator[str]:
    for name, rate_m2_l in work.record.liquids.items():
        volume_ml = Range.time_for(work.area_m2, rate_m2_l).scaled(1000 / portions)
        told = show_range(volume_ml, lambda taken_ml: show_volume(round_figures(taken_ml, 2), units))
        yield f"{_short(catalogue.solvents[name].title)}: {told}."


def _short(title: str) -> str:
    """Return a title without what it is on or also called."""
    return title.partition(",")[0].partition(" (")[0]


def stretch_words(stretch: TimetableStep, first: TimetableStep) -> str:
    """Return how much of work that is done in several stretches belongs to one, and where it says how it is done."""
    taken = show_duration((stretch.end - stretch.start) / timedelta(hours=1))
    if stretch is first:
        return f"{taken} of it now."
    if stretch.start.date() == first.start.date():
        return f"{taken} more of it."
    return f"{taken} more of it; how it is done stands at {show_moment(first.start)}."

"""What it costs when work slips: until when each step may begin, and what a lost day leaves of the dates."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING

from finplan.timetable.job import Job
from finplan.timetable.timetable import TimetableStep

if TYPE_CHECKING:
    from finplan.timetable.slipping import Slipping

_SHARES = (1, 0.875, 0.75, 0.5, 0.25)
"""So much of the time that a plan seems to be able to wait is tried, until that is found to do."""


@dataclass(frozen=True, slots=True)
class LostDay:
    """What becomes of the dates where a day is lost and its work is done on the next, the rest in its order."""

    day: date
    in_time: float
    """How likely every date is still kept."""


@dataclass(frozen=True, slots=True)
class Slips:
    """What it costs when work slips; nothing where no piece that is still to be done has a date."""

    latest: Mapping[str, datetime]
    """By the id of a row, until when it and all that is planned after it may wait, so that every date is kept if all
    goes as it typically does from there; none of what cannot begin late, as its date is missed anyway, none of
    cleaning up, and none of what follows at once on what may not lie: it begins as that lets it."""
    lost_days: tuple[LostDay, ...]


def slips_of(job: Job, rows: Sequence[TimetableStep], can_begin: Callable[[datetime], bool]) -> Slips:
    """Return what it costs when a plan slips.

    Parameters
    ----------
    job
        What it was made for
    rows
        Its rows
    can_begin
        Whether a plan is found that keeps every date where work begins at a moment, made anew

    Notes
    -----
    What slips moves what comes after it, in the order of the plan (``life``); nothing is planned anew, which may do
    better. Of a step the typical times decide, of a lost day the same thousand draws as of the plan.
    """
    from finplan.timetable.slipping import slipping_of

    slipping = slipping_of(job, rows)
    if slipping is None:
        return Slips({}, ())
    return Slips(_checked(slipping, slipping.latest(), can_begin), slipping.lost_days(rows))


def _checked(
    slipping: Slipping, latest: Mapping[str, datetime], can_begin: Callable[[datetime], bool]
) -> Mapping[str, datetime]:
    """Return latest starts that hold where what may not lie is planned anew from the first of them.

    Rows that take days fill the rack again in another order; so nothing may begin later than where the whole plan is
    put off by as much as was found to do, at worst by nothing.
    """
    if not latest or not slipping.has_rows():
        return latest
    first = min(latest, key=slipping.planned)
    start = slipping.planned(first)
    for share in _SHARES:
        begun = slipping.begun(start + (latest[first] - start) * share)
        if begun is not None and can_begin(begun[first]):
            return latest if share == 1 else {name: min(at, begun[name]) for name, at in latest.items()}
    return {name: slipping.planned(name) for name in latest}

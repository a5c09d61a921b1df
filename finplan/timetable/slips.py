"""What it costs when work slips: until when each step may begin, and what a lost day leaves of the dates."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from finplan.timetable.job import Job
from finplan.timetable.timetable import TimetableStep


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


def slips_of(job: Job, rows: Sequence[TimetableStep]) -> Slips:
    """Return what it costs when a plan slips.

    Parameters
    ----------
    job
        What it was made for
    rows
        Its rows

    Notes
    -----
    What slips moves what comes after it, in the order of the plan (``life``); nothing is planned anew, which may do
    better. Of a step the typical times decide, of a lost day the same thousand draws as of the plan.
    """
    from finplan.timetable.slipping import slipping_of

    slipping = slipping_of(job, rows)
    return Slips({}, ()) if slipping is None else Slips(slipping.latest(), slipping.lost_days(rows))

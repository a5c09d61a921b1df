"""As few trips as there can be: on one of their days each thing is bought neither too soon nor too late."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

BuyWindow = tuple[date, date]
"""The first and the last day on which something may be bought."""


def fewest_trips(windows: Sequence[BuyWindow]) -> list[date]:
    """Return for each window the day of its trip, so that there are as few days as possible, each as late as can be.

    Notes
    -----
    Points that stab intervals: whatever has to be bought first is bought on its last day, with all that may be bought
    by then. No other choice needs fewer days, for the windows that begin a trip do not overlap.

    Examples
    --------
    >>> from datetime import date
    >>> days = [date(2027, 1, number) for number in range(1, 9)]
    >>> [day.day for day in fewest_trips([(days[0], days[4]), (days[2], days[3]), (days[5], days[7])])]
    [4, 4, 8]
    """
    trip_days: dict[int, date] = {}
    trip: date | None = None
    for index in sorted(range(len(windows)), key=lambda at: (windows[at][1], windows[at][0])):
        first, last = windows[index]
        if trip is None or first > trip:
            trip = last
        trip_days[index] = trip
    return [trip_days[index] for index in range(len(windows))]

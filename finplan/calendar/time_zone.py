"""A time zone as a calendar file carries it: every change of its offset while the plan lasts."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from icalendar import Timezone, TimezoneDaylight, TimezoneStandard

_STEP = timedelta(days=1)
"""No zone has changed its offset twice on one day."""


def time_zone(zone: ZoneInfo, first: datetime, last: datetime) -> Timezone:
    """Return a zone as it is from one moment to another, as a component of a calendar.

    Notes
    -----
    The onset of an offset is written in the local time of the offset before it.
    Source: RFC 5545, section 3.6.5, DTSTART and TZOFFSETFROM of a time zone component.
    """
    timezone = Timezone()
    timezone.add("tzid", zone.key)
    begin = first.astimezone(UTC) - _STEP
    timezone.add_component(_observance(zone, begin, begin))
    for change in _changes(zone, begin, last.astimezone(UTC) + _STEP):
        timezone.add_component(_observance(zone, change - timedelta(seconds=1), change))
    return timezone


def _changes(zone: ZoneInfo, begin: datetime, end: datetime) -> Iterator[datetime]:
    """Give the moments at which the offset changes, to the second."""
    at = begin
    while at < end:
        after = at + _STEP
        if _offset(zone, at) != _offset(zone, after):
            low, high = at, after
            while high - low > timedelta(seconds=1):
                middle = low + timedelta(seconds=(high - low) // timedelta(seconds=2))
                low, high = (middle, high) if _offset(zone, middle) == _offset(zone, at) else (low, middle)
            yield high
        at = after


def _observance(zone: ZoneInfo, before: datetime, onset: datetime) -> TimezoneStandard | TimezoneDaylight:
    local = onset.astimezone(zone)
    observance = TimezoneDaylight() if local.dst() else TimezoneStandard()
    observance.add("dtstart", (onset + _offset(zone, before)).replace(tzinfo=None, microsecond=0))
    observance.add("tzoffsetfrom", _offset(zone, before))
    observance.add("tzoffsetto", _offset(zone, onset))
    observance.add("tzname", local.tzname())
    return observance


def _offset(zone: ZoneInfo, moment: datetime) -> timedelta:
    return moment.astimezone(zone).utcoffset() or timedelta(0)

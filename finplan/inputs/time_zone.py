"""The time zone of the shop's clock, by its name in the database of time zones."""

from __future__ import annotations

import re
from contextlib import suppress
from functools import cache
from typing import Annotated
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from finplan.problems import hint, likely
from finplan.reading import Form, Reads, fail

_USUAL_ZONE = re.compile(r"[A-Z][a-z]++(?:/[A-Z][A-Za-z_-]++){1,2}")


@cache
def _all_zones() -> frozenset[str]:
    """Return the names of all zones; they are read from a thousand files."""
    return frozenset(available_timezones())


def _nearest_zone(name: str) -> str:
    """Return the hint for an unknown time zone: the nearest name, or the zone of a place that was named alone."""
    zones = sorted(_all_zones())
    place = name.strip().replace(" ", "_").casefold()
    named_so = [zone for zone in zones if zone.rpartition("/")[2].casefold() == place]
    meant = likely(named_so[0] if named_so else name, zones)
    return hint(meant, zones) if meant else "expected a name such as Europe/London"


def _zone(value: object) -> ZoneInfo:
    # A usual name is tried without the list of all.
    if isinstance(value, str) and _USUAL_ZONE.fullmatch(value):
        with suppress(ZoneInfoNotFoundError, ValueError, OSError):
            return ZoneInfo(value)
    if not isinstance(value, str) or value not in _all_zones():
        fail(f"'{str(value)[:40]}' is not a time zone", _nearest_zone(str(value)))
    return ZoneInfo(value)


TimeZone = Annotated[ZoneInfo, Reads(_zone), Form("a time zone: Europe/Dublin")]

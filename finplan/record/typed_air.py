"""The air of the shop as it is typed when the rest is planned again: one reading, readings over time, or a log."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import pairwise

from pydantic import ValidationError
from pydantic_core import PydanticCustomError

from finplan.climate import Measured, air_along
from finplan.inputs import Reading, read_log
from finplan.problems import shown
from finplan.reading import Record, finding_of, findings_of
from finplan.record.typed import TypedError, air_of, at_of

_TIMED = re.compile(r"\s*(?P<day>\d{4}-\d{2}-\d{2}[ T]+)?(?P<clock>\d{1,2}[:.]\d{2})[\s,]+(?P<air>[-−\d].*)", re.DOTALL)
_EXPECTED = "expected '9 degC 60 %', '22:00 9 degC 60 %', or a log of the shop: night.csv"


def air_told(typed: Sequence[str], now: datetime, since: datetime | None) -> tuple[Measured, ...]:
    """Return the air as it was, typed as ``9 degC 60 %`` or as several ``22:00 9 degC 60 %``.

    Parameters
    ----------
    typed
        As a person typed it
    now
        This moment, on the shop's clock
    since
        When the first coat was on that is still to dry; None where there is none

    Notes
    -----
    One reading without a time stands for all the time since then. Of readings with their times the air goes straight
    from one to the next, and the last stands until now; before the first the shop's own air counts.

    Raises
    ------
    TypedError
        It is no air, or there is nothing to dry in it.
    """
    if not typed:
        return ()
    if since is None:
        raise TypedError("tells of the time since a coat was put on, and none that is ticked is still to dry", "air")
    if len(typed) == 1 and _TIMED.fullmatch(typed[0]) is None:
        air_c, humidity_pct = air_of(typed[0])
        return (Measured(since, now, air_c, humidity_pct),) if since < now else ()
    readings = sorted((_reading(text, now) for text in typed), key=lambda reading: reading.when)
    if any(earlier.when == later.when for earlier, later in pairwise(readings)):
        raise TypedError(f"{shown(typed[0])}: two readings have one time; {_EXPECTED}", "air")
    return air_along(readings, since, now)


def air_logged(name: str, text: str, now: datetime, since: datetime | None) -> tuple[Measured, ...]:
    """Return the air by the text of a log; arguments as for ``air_told``.

    Raises
    ------
    TypedError
        It is no log, or has no row since that time.
    """
    if since is None or now.tzinfo is None:
        raise TypedError("tells of the time since a coat was put on, and none that is ticked is still to dry", "air")
    try:
        readings = read_log(name, text, now.tzinfo)
    except PydanticCustomError as error:
        finding = finding_of(error)
        raise TypedError(f"{finding.wrong}; {finding.expected}", "air") from None
    except ValidationError as error:
        wrong = "; ".join(f"{wrong_row.wrong}, {wrong_row.expected}" for wrong_row in findings_of(error, Record))
        raise TypedError(wrong, "air") from None
    past = [reading for reading in readings if reading.when <= now]
    measured = air_along(past, since, now)
    if not past or past[-1].when <= since:
        raise TypedError(
            f"{name}: no row is of the time since {since.astimezone(now.tzinfo):%Y-%m-%d %H:%M}, when the first "
            "coat was on that is still to dry; expected the log of that time",
            "air",
        )
    return measured


def _reading(text: str, now: datetime) -> Reading:
    match = _TIMED.fullmatch(text)
    if match is None:
        raise TypedError(f"{shown(text)} has no time; of several readings each has one: {_EXPECTED}", "air")
    air_c, humidity_pct = air_of(match["air"])
    if air_c is None or humidity_pct is None:
        raise TypedError(f"{shown(text)} lacks one of temperature and humidity; {_EXPECTED}", "air")
    return Reading(_when(match["day"], match["clock"], now), air_c, humidity_pct)


def _when(day: str | None, clock: str, now: datetime) -> datetime:
    """Return the moment of a reading; of a time of day alone the last one that has been."""
    if day is not None:
        return at_of(f"{day.strip(' T')} {clock.replace('.', ':')}", now)
    late = now.replace(hour=23, minute=59)
    moment = at_of(clock, late)
    return moment if moment <= now else moment - timedelta(days=1)

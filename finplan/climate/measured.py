"""Air as it was measured in the shop, in the place of what its file says of that time."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from finplan.climate.weather import air_between
from finplan.inputs import Reading

_PIECE = timedelta(minutes=15)
"""Between two readings the air goes along a straight line, taken in pieces no longer than this."""


@dataclass(frozen=True, slots=True)
class Measured:
    """Air that was measured, and the stretch of time that it stands for. °C and % relative humidity, or not known."""

    begins: datetime
    ends: datetime
    temperature_c: float | None
    humidity_pct: float | None


def air_along(readings: Sequence[Reading], since: datetime, until: datetime) -> tuple[Measured, ...]:
    """Return what readings say of the air between two moments: straight from one to the next, the last until then.

    Parameters
    ----------
    readings
        In order of time
    since, until
        What is before the one is left out, and nothing is said of what comes after the other; nor of what comes before
        the first reading
    """
    stretches = [piece for earlier, later in pairwise(readings) for piece in _between(earlier, later)]
    if readings:
        last = readings[-1]
        stretches.append(Measured(last.when, until, last.temperature_c, last.humidity_pct))
    cut = (
        Measured(max(measured.begins, since), min(measured.ends, until), measured.temperature_c, measured.humidity_pct)
        for measured in stretches
    )
    return tuple(measured for measured in cut if measured.begins < measured.ends)


def _between(before: Reading, after: Reading) -> Iterable[Measured]:
    gap = after.when - before.when
    count = max(1, math.ceil(gap / _PIECE))
    for number in range(count):
        air = air_between(before, after, (number + 0.5) / count)
        yield Measured(
            before.when + number * gap / count,
            before.when + (number + 1) * gap / count,
            air.temperature_c,
            air.humidity_pct,
        )

"""How spans, work, names and amounts are worded on the sheet."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence

from finplan.material.measuring import pour_up
from finplan.quantity import Range, Units
from finplan.showing import show_measured
from finplan.timetable import ReadyFor

READY: dict[ReadyFor, str] = {
    "handle": "Fit to handle",
    "light-use": "Ready for light use",
    "cure": "Cured fully",
}
"""When a piece counts as ready, by what is wanted of it."""


def show_span(low: str, high: str) -> str:
    """Return two quantities as a span, their unit once where it is the same.

    >>> show_span("60 ml", "110 ml"), show_span("45 min", "2 h"), show_span("24 h", "24 h")
    ('60–110 ml', '45 min – 2 h', '24 h')
    """
    if low == high:
        return low
    if low.isdigit() and high.isdigit():
        return f"{low}–{high}"
    first, second = low.split(" ", 1), high.split(" ", 1)
    if len(first) == len(second) == 2 and first[1] == second[1] and not any(c.isdigit() for c in first[1]):
        return f"{first[0]}–{high}"
    return f"{low} – {high}"


def show_range(value: Range, show: Callable[[float], str]) -> str:
    """Return the typical value with its spread behind.

    >>> from finplan.showing import show_duration
    >>> show_range(Range(0.1, 0.25, 0.5), show_duration)
    '15 min (6–30 min)'
    """
    span = show_span(show(value.low), show(value.high))
    return show(value.typical) if show(value.low) == show(value.high) else f"{show(value.typical)} ({span})"


def show_work(hours: Range) -> str:
    """Return how long a piece of work takes, in minutes, since it is read beside a clock.

    >>> show_work(Range(0.11, 0.18, 0.36)), show_work(Range(1.0, 1.5, 2.25)), show_work(Range(0.0, 0.005, 0.015))
    ('11 min (7–22)', '90 min (60–135)', 'under 1 min')
    """
    if hours.high * 60 < 1:
        return "under 1 min"
    low, typical, high = (max(1, math.ceil(value * 60 - 1e-9)) for value in (hours.low, hours.typical, hours.high))
    return f"{typical} min ({low}–{high})" if low < high else f"{typical} min"


def show_decant(volume_ml: float, units: Units) -> str:
    """Return what to pour out: up to the next mark of a cup.

    >>> show_decant(81.2, "metric"), show_decant(81.2, "us"), show_decant(3.0, "us")
    ('85 ml', '2-3/4 fl oz', '1/4 fl oz')
    """
    return show_measured(pour_up(volume_ml, units), units)


def listed(names: Iterable[str]) -> str:
    """Return names as a person lists them.

    >>> listed(["leg"]), listed(["leg", "apron", "top"])
    ('leg', 'leg, apron and top')
    """
    all_names = list(names)
    return " and ".join([", ".join(all_names[:-1]), all_names[-1]] if len(all_names) > 1 else all_names)


def some(names: Sequence[str], most: int = 24, letters: int = 240) -> str:
    """Return names as a person lists them, of many or of very long ones only the first, and how many more there are.

    >>> some(["leg", "apron", "top", "shelf"], most=3), some(["a part of a long name", "leg"], letters=20)
    ('leg, apron and 2 more', 'a part of a long name and 1 more')
    """
    taken, length = 0, 0
    for name in names:
        length += len(name)
        if taken and (taken == most or length > letters):
            break
        taken += 1
    if taken == len(names):
        return listed(names)
    kept = min(taken, max(1, most - 1))
    return listed([*names[:kept], f"{len(names) - kept} more"])


def counted(name: str, count: int) -> str:
    """Return a part with how many of it there are.

    >>> counted("top", 1), counted("leg", 4).split()
    ('top', ['leg', '×', '4'])
    """
    return f"{name}\u00a0×\u00a0{count}" if count > 1 else name


def shortened(text: str, limit: int) -> str:
    """Return *text* cut to so many characters, which shows.

    >>> shortened("Reading table, village library", 15)
    'Reading table…'
    """
    return text if len(text) <= limit else text[: limit - 1].rstrip(" ,.;:") + "…"

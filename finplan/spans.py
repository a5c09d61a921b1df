"""How a range is told: the typical value with its spread, and how long a piece of work takes."""

from __future__ import annotations

import math
from collections.abc import Callable

from finplan.quantity import Range


def show_span(low: str, high: str) -> str:
    """Return two quantities as a span, their unit once where it is the same.

    Below nought a dash would be read as a sign.

    >>> show_span("60 ml", "110 ml"), show_span("45 min", "2 h"), show_span("24 h", "24 h")
    ('60–110 ml', '45 min – 2 h', '24 h')
    >>> show_span("-5 °C", "30 °C")
    '-5 to 30 °C'
    """
    if low == high:
        return low
    if low.isdigit() and high.isdigit():
        return f"{low}–{high}"
    first, second = low.split(" ", 1), high.split(" ", 1)
    if len(first) == len(second) == 2 and first[1] == second[1] and not any(c.isdigit() for c in first[1]):
        return f"{first[0]} to {high}" if low.startswith("-") else f"{first[0]}–{high}"
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


def show_usual_work(hours: Range) -> str:
    """Return how long a piece of work usually takes, where the range is told elsewhere or has no room.

    >>> show_usual_work(Range(0.11, 0.18, 0.36)), show_usual_work(Range(0.0, 0.005, 0.015))
    ('11 min', 'under 1 min')
    """
    return show_work(hours).partition(" (")[0]

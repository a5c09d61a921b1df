"""How long a finish waits for its next coat and cures, in words: by its label, and as it was planned here."""

from __future__ import annotations

from collections.abc import Sequence

from finplan.catalogue import Finish
from finplan.showing import show_duration
from finplan.spans import show_range, show_span


def label_times_words(finish: Finish) -> str:
    """Return the times of a label: until the next coat, until when that may go on, until it has cured."""
    times = (("next coat after", finish.recoat_h), ("within", finish.recoat_limit_h), ("cured", finish.cure_h))
    return "; ".join(f"{word} {show_range(time, show_duration)}" for word, time in times if time is not None)


def next_coat_here_words(waited_h: Sequence[float]) -> str:
    """Return how long the coats of a plan wait for the next, the shortest and the longest; empty of none."""
    if not waited_h:
        return ""
    return f"next coat after {show_span(show_duration(min(waited_h)), show_duration(max(waited_h)))}"

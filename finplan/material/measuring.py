"""What a shop can measure, by the marks of its cups and scales: a catalogue's record of measuring."""

from __future__ import annotations

import math

from finplan.catalogue import Measuring

_TRIES = 50
"""So many amounts of the least component are looked at: with the marks of any cup a ratio that is sold comes before."""


def pour_up(volume_ml: float, marks: Measuring) -> float:
    """Return what is poured out: up to the next mark of a cup. [ml]

    >>> from finplan.catalogue import bundled_catalogue
    >>> of = bundled_catalogue().measuring
    >>> pour_up(81.2, of["metric"]), pour_up(201.0, of["metric"]), round(pour_up(81.2, of["us"]), 2)
    (85.0, 210.0, 81.33)
    """
    return up(volume_ml, marks.pour.step_ml(volume_ml))


def mix_step_ml(least_ml: float, marks: Measuring) -> float:
    """Return the mark to which the components of a mix are measured, by how much there is of the least of them. [ml]"""
    return marks.mix.step_ml(least_ml)


def weighed(mass_g: float, marks: Measuring) -> float:
    """Return a mass as a scale shows it. [g]

    >>> from finplan.catalogue import bundled_catalogue
    >>> of = bundled_catalogue().measuring
    >>> weighed(16.84, of["metric"]), weighed(104.4, of["metric"]), round(weighed(104.4, of["us"]), 2)
    (16.8, 104.0, 104.89)
    """
    step_g = marks.weigh.step_g(mass_g)
    return round(round(mass_g / step_g) * step_g, 12)  # no dust of binary fractions


def up(amount: float, step: float) -> float:
    """Return an amount rounded up to whole steps, one at the least.

    >>> up(16.3, 1.0), up(20.0, 5.0), up(0.0, 5.0)
    (17.0, 20.0, 5.0)
    """
    return max(1, math.ceil(amount / step - 1e-9)) * step


def in_ratio(shares: tuple[float, ...], volume_ml: float, step_ml: float, within_pct: float) -> tuple[float, ...]:
    """Return whole steps of each component that make *volume_ml*, or a little more, and keep the ratio. [ml]

    The least component decides: it is raised step by step until every other one, rounded to a step, is within
    *within_pct* of its part [%]; of the ratios that are sold the first try usually is.

    >>> in_ratio((10 / 11, 1 / 11), 93.0, 1.0, 2.0), in_ratio((5 / 7, 2 / 7), 60.0, 1.0, 2.0)
    ((90.0, 9.0), (45.0, 18.0))
    """
    least = min(shares)
    first = max(1, math.ceil(volume_ml * least / step_ml - 1e-9))
    best: tuple[float, tuple[float, ...]] | None = None
    for steps in range(first, first + _TRIES):
        exact = [steps * share / least for share in shares]
        whole = [max(1, round(part)) for part in exact]
        off = max(abs(part / should - 1) for part, should in zip(whole, exact, strict=True))
        volumes_ml = tuple(part * step_ml for part in whole)
        if off <= within_pct / 100:
            return volumes_ml
        if best is None or off < best[0]:
            best = (off, volumes_ml)
    return best[1] if best is not None else ()

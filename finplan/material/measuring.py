"""What a shop can measure: the marks of a cup and a syringe, the last digit of a scale."""

from __future__ import annotations

import math

from finplan.quantity import Units
from finplan.showing import G_PER_OZ, ML_PER_FL_OZ

SMALL_ML = 200.0
"""Up to here a cup is read to its finer marks."""
TOLERANCE = 0.02
"""How far rounding may take the ratio of a mix from that of the label: trade practice, well within what hardeners
forgive."""


def pour_up(volume_ml: float, units: Units) -> float:
    """Return what is poured out: up to the next 5 ml, above 200 ml 10 ml, or quarter of a fluid ounce. [ml]

    >>> pour_up(81.2, "metric"), pour_up(201.0, "metric"), pour_up(81.2, "us")
    (85.0, 210.0, 81.33)
    """
    fine_ml, coarse_ml = (5.0, 10.0) if units == "metric" else (ML_PER_FL_OZ / 4, ML_PER_FL_OZ / 4)
    return up(volume_ml, fine_ml if volume_ml <= SMALL_ML else coarse_ml)


def mix_step_ml(least_ml: float, units: Units) -> float:
    """Return the mark to which the components of a mix are measured, by how much there is of the least of them. [ml]

    1 ml up to 100 ml, 5 ml up to half a litre, 10 ml above; or an eighth, a quarter and half a fluid ounce.

    >>> mix_step_ml(9.0, "metric"), mix_step_ml(120.0, "metric"), mix_step_ml(9.0, "us")
    (1.0, 5.0, 3.697)
    """
    metric_ml, eighths = (1.0, 1) if least_ml <= 100 else (5.0, 2) if least_ml <= 500 else (10.0, 4)
    return metric_ml if units == "metric" else eighths * ML_PER_FL_OZ / 8


def weighed(mass_g: float, units: Units) -> float:
    """Return a mass as a scale shows it. [g]

    To 0.1 g below 20 g, else to 1 g; or to a hundredth of an ounce below one ounce, else to a tenth.

    >>> weighed(16.84, "metric"), weighed(104.4, "metric"), weighed(104.4, "us")
    (16.8, 104.0, 104.89)
    """
    if units == "metric":
        return round(mass_g, 1) if mass_g < 20 else float(round(mass_g))
    ounces = mass_g / G_PER_OZ
    return round(ounces, 2 if ounces < 1 else 1) * G_PER_OZ


def up(amount: float, step: float) -> float:
    """Return an amount rounded up to whole steps, one at the least.

    >>> up(16.3, 1.0), up(20.0, 5.0), up(0.0, 5.0)
    (17.0, 20.0, 5.0)
    """
    return max(1, math.ceil(amount / step - 1e-9)) * step


def in_ratio(shares: tuple[float, ...], volume_ml: float, step_ml: float) -> tuple[float, ...]:
    """Return whole steps of each component that make *volume_ml*, or a little more, and keep the ratio. [ml]

    The least component decides: it is raised step by step until every other one, rounded to a step, is within
    ``TOLERANCE`` of its part; of the ratios that are sold the first try usually is.

    >>> in_ratio((10 / 11, 1 / 11), 93.0, 1.0), in_ratio((5 / 7, 2 / 7), 60.0, 1.0)
    ((90.0, 9.0), (45.0, 18.0))
    """
    least = min(shares)
    first = max(1, math.ceil(volume_ml * least / step_ml - 1e-9))
    best: tuple[float, tuple[float, ...]] | None = None
    for steps in range(first, first + 50):
        exact = [steps * share / least for share in shares]
        whole = [max(1, round(one)) for one in exact]
        off = max(abs(one / should - 1) for one, should in zip(whole, exact, strict=True))
        found = tuple(one * step_ml for one in whole)
        if off <= TOLERANCE:
            return found
        if best is None or off < best[0]:
            best = (off, found)
    return best[1] if best is not None else ()

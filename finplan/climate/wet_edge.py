"""How long a coat stays wet enough to be worked in the air of a shop, and how much of it a person keeps wet."""

from __future__ import annotations

from math import exp, hypot, log

from finplan.catalogue import Catalogue, Finish
from finplan.climate.pace import drying_rate
from finplan.climate.weather import Air
from finplan.quantity import Range

_LEAST = 1e-9


def open_time(finish: Finish, catalogue: Catalogue, air: Air) -> Range | None:
    """Return how long what is put on can still be worked; None where that is no question. [h]

    Parameters
    ----------
    finish
        What is put on: it is wiped off, or the next stroke flows into the last while its edge is wet
    catalogue
        Where the law of its surface is
    air
        In which it is put on

    Notes
    -----
    Shorter where the surface dries faster than at 23 °C and 50 %, by its own law (``drying_rate``), and never longer
    than the label says: a cold shop gives no time on which anybody should count.
    """
    if finish.family == "wax":
        return None  # it is left to haze and rubbed up
    label = finish.wet_edge_h or finish.wipe_off_h
    if label is None:
        return None
    rate = drying_rate(catalogue.drying[finish.law("surface", catalogue.drying)], air)
    return label.scaled(1 / max(1.0, rate))


def kept_wet(open_h: Range, speed_m2_h: Range) -> Range:
    """Return how much a person keeps wet: so fast, for so long. [m²]

    Notes
    -----
    ``A = v · t``. What a hand and what a tin differ by is taken as two independent lognormals.
    """
    middle = speed_m2_h.typical * open_h.typical
    spread = exp(hypot(*(_half_log_width(range_) for range_ in (open_h, speed_m2_h))))
    return Range(middle / spread, middle, middle * spread)


def _half_log_width(range_: Range) -> float:
    return log(max(range_.high, _LEAST) / max(range_.low, _LEAST)) / 2

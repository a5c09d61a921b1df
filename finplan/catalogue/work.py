"""Small jobs between sanding and coating: how fast they go, and how long to wait after them."""

from __future__ import annotations

from finplan.catalogue.record import Sourced
from finplan.reading import DurationHRange, SpeedRange


class SmallJob(Sourced):
    """A job of its own in a system. Speed in m² of surface per hour, times in h."""

    speed_m2_h: SpeedRange
    """How fast it goes."""
    handling_h: DurationHRange
    """Per part: fetching, turning, setting down."""
    wait_h: DurationHRange
    """Until the next step may start."""

"""Small jobs beside sanding and coating: how fast they go, and how long to wait after them."""

from finplan.catalogue.record import Sourced
from finplan.reading import DurationHRange, SpeedRange


class SmallJob(Sourced):
    """A job of its own. Speed in m² of surface per hour, times in h."""

    speed_m2_h: SpeedRange | None = None
    """How fast it goes; none where the surface does not matter."""
    handling_h: DurationHRange
    """Per part: fetching, turning, fitting, setting down."""
    wait_h: DurationHRange | None = None
    """Until the next step may start; none where it may at once."""

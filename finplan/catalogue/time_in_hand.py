"""How much time is kept in hand before a delivery, and what is tried where there is too little."""

from pydantic import Field

from finplan.catalogue.record import Sourced
from finplan.reading import DurationH, Percentage


class TimeInHand(Sourced):
    """What is kept in hand in a shop that says nothing of it, and how more of it is found."""

    buffer_a_week: float = Field(ge=0, le=7)
    """How many working days are left before the delivery for each week from the first stroke of work to ready."""
    least_buffer: float = Field(ge=0, le=30)
    """How many working days at the least."""
    longer_day_h: DurationH
    """How much longer somebody may work on a day, where that keeps a date."""
    worth_moving_pct: Percentage
    """By how much surer dates have to be kept by a plan that is made anew, of all of whose steps the times change."""

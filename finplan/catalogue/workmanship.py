"""What makes one plan better work than another that keeps the same dates."""

from finplan.catalogue.record import Sourced
from finplan.reading import DurationH


class Workmanship(Sourced):
    """What is awkward in a plan, most of it in the time of work that it is worth. Times in h."""

    idle_day_h: DurationH
    """An item lies for a day though it could be worked on."""
    clean_up_h: DurationH
    """One clean-up more, beside the work of it."""
    change_over_h: DurationH
    """A person goes on to another kind of work."""
    half_day_h: DurationH
    """A person works in one half day more."""
    whole_up_to_h: DurationH
    """Work that takes no longer is done without a break in it."""

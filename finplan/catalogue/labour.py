"""How far handwork is from the time that is reckoned for it."""

from finplan.catalogue.record import Sourced
from finplan.reading import RatioRange


class Labour(Sourced):
    """How far the time that a sort of work takes is from the typical one: from job to job, as a share of it."""

    takes: RatioRange
    """What it takes of the time reckoned, seldom less, usually, seldom more; the middle is 1."""

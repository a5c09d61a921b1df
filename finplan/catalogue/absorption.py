"""How much more a surface drinks than the spread rate says."""

from finplan.catalogue.record import Grit, Sourced
from finplan.reading import RatioRange


class AbsorptionFactors(Sourced):
    """How much more a surface drinks than the spread rate says."""

    first: RatioRange
    """Factor for the first coat, on bare wood."""
    later: RatioRange
    """Factor for later coats."""
    finest: Grit | None = None
    """The finest last grade on bare wood for which it holds; none of what is not about sanding."""

"""What is taken for granted when a shop learns from its own work."""

from pydantic import Field

from finplan.catalogue.record import Sourced
from finplan.reading import Percentage, RatioRange


class LearningRule(Sourced):
    """How far what a shop notes down is believed, beside the ranges of finishes, methods and handwork."""

    measured: RatioRange
    """What was used, as it is read from a cup or a scale, in times what it was."""
    dries: RatioRange
    """How fast one coat dries beside the next of the same finish in the same air, in times the usual."""
    alike_pct: Percentage
    """Of what the times of two people are off those reckoned, how much is common to both: the bench, the light."""
    outlier_deviations: float = Field(ge=2, le=10)
    """What is so many standard deviations off all else is taken for a slip and set aside."""
    slip_times: float = Field(ge=2, le=100)
    """More than so many times what was reckoned no coat takes: it is a unit or a figure too many."""
    newest: int = Field(ge=1, le=200)
    """So many of the newest notes of one thing count; what is older is forgotten."""

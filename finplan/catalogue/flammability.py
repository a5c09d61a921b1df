"""From when a finish counts as one that burns."""

from finplan.catalogue.record import Sourced
from finplan.reading import ConcentrationGL


class Flammability(Sourced):
    """What makes a finish one that burns, where nobody says its flash point."""

    counts_above_g_l: ConcentrationGL
    """How much of a solvent that burns there may be in a litre of a finish that is said not to burn."""

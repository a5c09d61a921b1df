"""What one person lifts."""

from finplan.catalogue.record import Sourced
from finplan.reading import MassG


class Lifting(Sourced):
    """From which weight on nobody turns or carries something alone."""

    one_person_g: MassG
    """The most that somebody lifts alone, close to the body, seldom and with a good grip."""

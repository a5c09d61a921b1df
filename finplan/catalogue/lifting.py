"""What one person lifts."""

from finplan.catalogue.record import Sourced
from finplan.reading import MassG


class Lifting(Sourced):
    """From which weight on nobody turns or carries something alone."""

    one_person_g: MassG

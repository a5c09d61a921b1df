"""Waste: what it is kept in."""

from finplan.catalogue.record import Sourced
from finplan.reading import VolumeMlRange


class WasteCan(Sourced):
    """What cloths are kept in until they leave the building."""

    per_cloth_ml: VolumeMlRange
    """How much room a cloth takes."""

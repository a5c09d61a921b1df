"""How finely a shop measures what it pours, mixes and weighs."""

from finplan.catalogue.record import Sourced
from finplan.reading import MassG, Percentage, Record, VolumeMl


class CupMarks(Record):
    """The marks to which a volume is measured, by how much it is. Volumes in ml."""

    fine_ml: VolumeMl
    """From mark to mark of a small cup or a syringe."""
    fine_to_ml: VolumeMl
    """Up to how much that one is used."""
    middle_ml: VolumeMl | None = None
    """From mark to mark of the next; none where there is none between."""
    middle_to_ml: VolumeMl | None = None
    """Up to how much that one is used."""
    coarse_ml: VolumeMl
    """From mark to mark of a large one."""

    def step_ml(self, volume_ml: float) -> float:
        """Return from mark to mark what so much is measured. [ml]"""
        if volume_ml <= self.fine_to_ml:
            return self.fine_ml
        if self.middle_ml is not None and self.middle_to_ml is not None and volume_ml <= self.middle_to_ml:
            return self.middle_ml
        return self.coarse_ml


class ScaleMarks(Record):
    """The last digit that a scale shows, by what lies on it. Masses in g."""

    fine_g: MassG
    """Of a fine scale."""
    fine_to_g: MassG
    """Below how much that one is used."""
    coarse_g: MassG
    """Of a coarse one."""

    def step_g(self, mass_g: float) -> float:
        """Return from digit to digit what so much is weighed. [g]"""
        return self.fine_g if mass_g < self.fine_to_g else self.coarse_g


class Measuring(Sourced):
    """What can be measured in a system of units."""

    ratio_within_pct: Percentage
    """How far rounding may take the ratio of a mix from that of the label."""
    thin_within_pct: Percentage
    """How far rounding may take what a finish is thinned with from what is asked; what no mark is near is weighed."""
    pour: CupMarks
    """For a finish that is poured out as it is."""
    mix: CupMarks
    """For the components of a mix, by how much there is of the least of them."""
    weigh: ScaleMarks
    """For what is weighed."""

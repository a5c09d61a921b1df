"""Ways of putting a finish on: what they lose and how fast they go."""

from typing import Literal

from finplan.catalogue.record import Sourced
from finplan.reading import DurationHRange, LengthMm, LossRange, RatioRange, SpeedRange, TransferRange, VolumeMlRange


class ApplicationMethod(Sourced):
    """A way of putting a finish on. Volumes in ml a coat, speeds in m² of surface per hour, times in h a coat."""

    loss_pct: LossRange
    """Of what is used: in brush, roller, cloth or pad, and on the floor."""
    fixed_loss_ml: VolumeMlRange
    """Per coat and material, whatever the area: what stays in the tool and the pot."""
    transfer_pct: TransferRange | None = None
    """Transfer efficiency of spraying: of the material used, what lands on the piece. None where nothing is sprayed."""
    hand: RatioRange
    """How thick one person lays it on beside another, in times the usual: 5 to 95 of a hundred people."""
    coat_to_coat: RatioRange
    """How thick one coat is beside the next of the same person, likewise."""
    strip_mm: LengthMm | None = None
    """How wide a strip along the grain is laid before the next joins it; none of what is sprayed or wiped off."""
    flat_m2_h: SpeedRange
    """Flat surfaces."""
    profile_m2_h: SpeedRange
    """Edges, mouldings, turnings and frames."""
    set_up_h: DurationHRange
    """Per coat, before the first part."""
    clean_up_h: DurationHRange
    """Per coat, after the last part."""
    handling_h: DurationHRange
    """Per part: fetching, turning, setting down."""

    rinse_ml: VolumeMlRange | None = None
    """Of what cleans the tool, after each coat of one material; none where nothing is cleaned."""

    @property
    def sprayed(self) -> bool:
        """Whether it atomises the finish."""
        return self.transfer_pct is not None

    @property
    def use(self) -> Literal["coating", "spraying"]:
        """The skill and the room that it takes."""
        return "spraying" if self.sprayed else "coating"

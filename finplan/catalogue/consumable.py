"""Consumables: what is used up beside finish and abrasives, and how fast."""

from typing import Literal

from pydantic import Field

from finplan.catalogue.pack import PiecePacks
from finplan.catalogue.ranges import LifeHRange
from finplan.catalogue.record import Sourced
from finplan.reading import CountRange, Name, PerAreaRange, Title

ConsumableUse = Literal["applying", "wiping", "mixing", "protecting", "waste", "beside-coats"]


class Consumable(Sourced):
    """Something used up or worn out.

    What a coat and its area use up are added; where its hours of wear ask for more, those count. What cautions name is
    used where they apply, by each person that works there; a coat then is each time that it is put on afresh.
    """

    used_for: tuple[ConsumableUse, ...] = Field(min_length=1)
    """What it is for."""
    methods: tuple[Name, ...] = ()
    """Ways of putting a finish on that need it; none where it does not depend on the way."""
    called: Title | None = None
    """What a row of work calls it; as its title where that does."""
    worn: bool = False
    """It is worn."""
    on_mask: bool = False
    """It sits on a mask, which is told with it."""
    use_per_m2: PerAreaRange | None = None
    """Pieces for a square metre and coat."""
    use_per_coat: CountRange | None = None
    """Pieces for each coat of one material, whatever the area."""
    once_a_day: bool = False
    """What cautions name it for is done once a day and for all: not afresh for each step, nor by each person."""
    life_h: LifeHRange | None = None
    """Hours in use after which it is replaced."""
    waterborne: bool | None = None
    """Only for finishes that dry by water (true) or only for others (false); none where it does for all."""
    spared_by: Name | None = None
    """What is worn instead where both are asked for, or where a mask is worn on which only that can sit."""
    packs: PiecePacks
    """How many are sold together."""

    @property
    def beside_coats(self) -> bool:
        """Whether only steps beside the coats use it, each as much as it names."""
        return self.used_for == ("beside-coats",)

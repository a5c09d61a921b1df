"""Consumables: what is used up beside finish and abrasives, and how fast."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from finplan.catalogue.caution import Trigger
from finplan.catalogue.pack import PiecePacks
from finplan.catalogue.ranges import LifeHRange
from finplan.catalogue.record import Sourced
from finplan.reading import CountRange, Name, PerAreaRange

Use = Literal["applying", "wiping", "mixing", "protecting", "waste"]


class Consumable(Sourced):
    """Something used up or worn out.

    What a coat and its area use up are added; where its hours of wear ask for more, those count. Of what has none of
    the three one is enough.
    """

    used_for: tuple[Use, ...] = Field(min_length=1)
    """What it is for."""
    methods: tuple[Name, ...] = ()
    """Ways of putting a finish on that need it; none where it does not depend on the way."""
    applies: tuple[Trigger, ...] = ()
    """Dangers that call for it, as in the cautions."""
    use_per_m2: PerAreaRange | None = None
    """Pieces for a square metre and coat."""
    use_per_coat: CountRange | None = None
    """Pieces for each coat of one material, whatever the area."""
    life_h: LifeHRange | None = None
    """Hours in use after which it is replaced."""
    waterborne: bool | None = None
    """Only for finishes that dry by water (true) or only for others (false); none where it does for all."""
    spared_by: Name | None = None
    """What does instead where both would do, so that this is not needed for its dangers."""
    packs: PiecePacks
    """How many are sold together."""

"""Consumables: what is used up beside finish and abrasives, and how fast."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from finplan.catalogue.caution import Trigger
from finplan.catalogue.record import PackCount, Sourced
from finplan.reading import CountRange, DurationHRange, Name, PerAreaRange

Use = Literal["applying", "wiping", "mixing", "protecting", "waste"]


class Consumable(Sourced):
    """Something used up or worn out. It is used up by area, by coat or by hours of wear, whichever is given."""

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
    life_h: DurationHRange | None = None
    """Hours in use after which it is replaced."""
    packs: tuple[PackCount, ...] = Field(min_length=1)
    """How many are sold together."""

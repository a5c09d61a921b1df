"""What of materials is used, what is bought, and what is left on the shelf afterwards."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from decimal import Decimal

from finplan.costing.cost import Cost
from finplan.material import ConsumableNeed, MaterialPlan, Supply
from finplan.quantity import Range
from finplan.reading import to_cents

_NOTHING = Range(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Goods:
    """One material. Amounts in ml, g or pieces; money is None where no price is given."""

    of: Supply | ConsumableNeed
    """What is needed of it, and which packs are bought."""
    used: Range
    """What is used up, of a disc or a cloth a part too."""
    off_shelf: float
    """What of that typically comes off the shelf."""
    left: float
    """What typically stands on the shelf afterwards, packs and what stood there together."""
    worth: Cost | None
    """What is used up is worth."""
    bought: Decimal | None
    """What the packs to buy cost."""
    left_worth: Decimal | None
    """What is left is worth."""

    @property
    def title(self) -> str:
        """What a person calls it."""
        return self.of.title


def goods_of(
    materials: MaterialPlan, safety: Sequence[ConsumableNeed], lasting: Collection[str] = ()
) -> tuple[Goods, ...]:
    """Return every material of an order: finishes, solvents, what is used up, what is had for safety.

    Parameters
    ----------
    materials, safety
        What is needed
    lasting
        Names of what is had for safety and not used up, such as a can for oily cloths: it is bought and stays
    """
    needed: list[Supply | ConsumableNeed] = [*materials.supplies, *materials.consumables]
    return (
        *(_goods(need, need.needed) for need in needed),
        *(_goods(need, _NOTHING if need.name in lasting else need.needed) for need in safety),
    )


def _goods(material: Supply | ConsumableNeed, used: Range) -> Goods:
    held = material.bought if isinstance(material, ConsumableNeed) else material.holds
    each = None if material.price_each is None else Decimal(str(material.price_each))
    left = max(0.0, material.shelf.good + held - used.typical)
    return Goods(
        of=material,
        used=used,
        off_shelf=min(material.shelf.good, used.typical),
        left=left,
        worth=Cost.sure(Decimal(0)) if used is _NOTHING else None if each is None else Cost.of(used, each),
        bought=Decimal("0.00")
        if not material.buy
        else None
        if material.cost is None
        else to_cents(Decimal(str(material.cost))),
        left_worth=None if each is None else to_cents(Decimal(str(left)) * each),
    )

"""The keys of what an order needs and what to buy."""

from __future__ import annotations

from datetime import date
from typing import Literal

from finplan.catalogue import Measure
from finplan.data.coat_rows import AmountRow, CoatRow, MakeUpRow, SolventUseRow
from finplan.data.row import CountFromOne, NotNegative, Share, WholeNumber, row
from finplan.material import CauseKind, SurerDeed
from finplan.quantity import Range


@row
class PurchaseRow:
    """Purchase."""

    pack: NotNegative
    """How much is in one pack, in the measure of what is bought."""
    count: CountFromOne
    """How many packs."""
    price: NotNegative | None
    """Of one pack; null where it is not given."""
    parts: tuple[NotNegative, ...] = ()
    """Of a set of components: how much of each. [ml]"""
    component: str = ""
    """Which component, where components are sold apart."""


@row
class SpoiledRow:
    """Spoiled."""

    name: str
    """What it is."""
    left: NotNegative
    """How much is left, in the measure of the material."""
    opened: date | None
    """The day it was opened."""
    good_until: date | None
    """The last day on which it was good."""


@row
class UncertaintyRow:
    """Uncertainty.

    One sort of cause of the spread of an amount.
    """

    cause: CauseKind
    """How far this product goes; hand and tool; the wood; one coat beside the next."""
    share: Share
    """Its part of the spread."""


@row
class SurerRow:
    """Surer.

    What would make an amount surer.
    """

    do: SurerDeed
    """Weigh the can or jar before and after the first coat; or take from its label how far a litre goes."""
    at_confidence: NotNegative
    """What would then be enough, should it turn out as is typical, in the measure."""


@row
class ComponentRow:
    """Component."""

    component: str
    """Its name."""
    measure: Measure
    """By volume or by mass."""
    needed: AmountRow
    """In its measure."""
    on_shelf: NotNegative
    """What the shop has of it, in its measure."""
    holds: NotNegative
    """How much of it the packs hold, in its measure."""


@row
class FinishRow:
    """Finish."""

    material: str
    """A name in the catalogue; of a thinner that belongs to a finish, the finish's and `-thinner`."""
    kind: Literal["finish"]
    """Tells a finish from a solvent."""
    title: str
    """In words."""
    measure: Measure
    """By volume or by mass."""
    needed: AmountRow
    """In its measure."""
    coats: tuple[CoatRow, ...]
    """What each coat, or each cleaning, takes of it."""
    on_shelf: NotNegative
    """What the shop has that is still good, in its measure."""
    spoiled: tuple[SpoiledRow, ...]
    """What it has that is too old to be counted on."""
    buy: tuple[PurchaseRow, ...]
    """The packs to buy."""
    enough_probability: Share
    """That shelf and packs are enough."""
    uncertainty: tuple[UncertaintyRow, ...]
    """What makes the amount needed uncertain; empty of what is certain."""
    surer: SurerRow | None
    """The one thing that would make it surer; null where nothing would by much."""
    left_over: NotNegative
    """What typically remains, in its measure."""
    left_over_keeps_h: Range | None
    """How long that keeps. [h]"""
    cost: NotNegative | None
    """Of its packs; null where a price is not given."""
    weighed_coats: WholeNumber
    """On how many weighed coats of this shop what is needed rests, beside the catalogue."""
    components: tuple[ComponentRow, ...] = ()
    """Of a finish of several components: each."""
    as_put_on_ml: Range
    """As it is put on, without thinner. [ml]"""


@row
class SolventRow:
    """Solvent."""

    material: str
    """A name in the catalogue; of a thinner that belongs to a finish, the finish's and `-thinner`."""
    kind: Literal["solvent"]
    """Tells a finish from a solvent."""
    title: str
    """In words."""
    measure: Measure
    """By volume or by mass."""
    needed: AmountRow
    """In its measure."""
    coats: tuple[SolventUseRow, ...]
    """What each coat, or each cleaning, takes of it."""
    on_shelf: NotNegative
    """What the shop has that is still good, in its measure."""
    spoiled: tuple[SpoiledRow, ...]
    """What it has that is too old to be counted on."""
    buy: tuple[PurchaseRow, ...]
    """The packs to buy."""
    enough_probability: Share
    """That shelf and packs are enough."""
    uncertainty: tuple[UncertaintyRow, ...]
    """What makes the amount needed uncertain; empty of what is certain."""
    surer: SurerRow | None
    """The one thing that would make it surer; null where nothing would by much."""
    left_over: NotNegative
    """What typically remains, in its measure."""
    left_over_keeps_h: Range | None
    """How long that keeps. [h]"""
    cost: NotNegative | None
    """Of its packs; null where a price is not given."""


@row
class ConsumableRow:
    """Consumable."""

    consumable: str
    """A name in the catalogue."""
    title: str
    """In words."""
    grit: str | None
    """Of an abrasive; null of anything else."""
    measure: Literal["pieces"]
    """By the piece."""
    needed: AmountRow
    """[pieces]."""
    on_shelf: NotNegative
    """What the shop has. [pieces]"""
    buy: tuple[PurchaseRow, ...]
    """The packs to buy."""
    enough_probability: Share
    """That shelf and packs are enough."""
    left_over: NotNegative
    """What typically remains. [pieces]"""
    cost: NotNegative | None
    """Of its packs; null where a price is not given."""


@row
class MaterialsRow:
    """Materials."""

    format: Literal["finplan-materials/1"]
    """Says what this is."""
    confidence: Share
    """The probability asked for that each material is enough."""
    enough_probability: Share
    """That every finish and solvent is enough."""
    cost: NotNegative | None
    """Of everything to buy but for safety, in the currency of the prices; null where a price is not given."""
    materials: tuple[FinishRow | SolventRow, ...]
    """Finishes, then solvents."""
    make_up: tuple[MakeUpRow, ...]
    """What is dissolved once, ahead of all coats."""
    consumables: tuple[ConsumableRow, ...]
    """Abrasives, cloths, brushes, …."""
    safety: tuple[ConsumableRow, ...] | None
    """What is worn and used up for safety; null where no plan is held, since it follows from the timetable."""
    cost_with_safety: NotNegative | None
    """Of everything to buy, what is bought for safety among it; null where that, or a price, is not known."""

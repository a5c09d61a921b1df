"""The materials of an order."""

from __future__ import annotations

from collections.abc import Sequence

from finplan.data.coat_rows import (
    AmountRow,
    CoatedFacesRow,
    CoatRow,
    CoatSideRow,
    MakeUpRow,
    MeasuredRow,
    MixRow,
    SolventUseRow,
)
from finplan.data.material_rows import (
    ComponentRow,
    ConsumableRow,
    FinishRow,
    MaterialsRow,
    PurchaseRow,
    SolventRow,
    SpoiledRow,
    SurerRow,
    UncertaintyRow,
)
from finplan.data.row import Row, row_of
from finplan.material import (
    CoatMix,
    CoatNeed,
    ConsumableNeed,
    Left,
    MakeUp,
    MaterialNeed,
    MaterialPlan,
    MeasuredOut,
    MixPart,
    Purchase,
    Supply,
    Use,
)
from finplan.quantity import Range


def materials_data(plan: MaterialPlan, safety: Sequence[ConsumableNeed] | None = None) -> MaterialsRow:
    """Return every material with its coats and packs, and what is measured out; areas in m², measures as named.

    Parameters
    ----------
    plan
        The materials
    safety
        What is bought for safety; None where no timetable is known from which that follows
    """
    for_safety = [need.cost for need in safety or () if need.buy]
    return row_of(
        MaterialsRow,
        plan,
        format="finplan-materials/1",
        materials=(
            *(_finish(need, plan) for need in plan.materials),
            *(_solvent(supply, plan.confidence) for supply in plan.solvents),
        ),
        make_up=tuple(map(_make_up, plan.make_ups)),
        consumables=tuple(map(consumable_data, plan.consumables)),
        safety=None if safety is None else tuple(map(consumable_data, safety)),
        cost_with_safety=None if safety is None else _together([plan.cost, *for_safety]),
    )


def _together(costs: Sequence[float | None]) -> float | None:
    known = [cost for cost in costs if cost is not None]
    return sum(known) if len(known) == len(costs) else None


def _finish(need: MaterialNeed, plan: MaterialPlan) -> FinishRow:
    supply = need.supply
    coats = tuple(_coat(use, coat, plan) for use, coat in zip(supply.uses, need.coats, strict=True))
    components = tuple(
        ComponentRow(
            component=part.material,
            measure=part.measure,
            needed=_amount(part.needed, part.at_confidence),
            on_shelf=part.shelf.good,
            holds=part.holds,
        )
        for part in supply.components
    )
    return _supply(FinishRow, supply, kind="finish", coats=coats, components=components, as_put_on_ml=need.needed_ml)


def _solvent(supply: Supply, confidence: float) -> SolventRow:
    uses = tuple(row_of(SolventUseRow, use, needed=_amount(use.needed, use.at(confidence))) for use in supply.uses)
    return _supply(SolventRow, supply, kind="solvent", coats=uses)


def _supply(kind: type[Row], supply: Supply, /, **given: object) -> Row:
    better = supply.surer
    return row_of(
        kind,
        supply,
        needed=_amount(supply.needed, supply.at_confidence),
        on_shelf=supply.shelf.good,
        spoiled=tuple(map(_spoiled, supply.shelf.spoiled)),
        buy=tuple(map(purchase_row, supply.buy)),
        uncertainty=tuple(UncertaintyRow(cause=cause, share=share) for cause, share in supply.shares),
        surer=None if better is None else SurerRow(do=better.deed, at_confidence=better.at_confidence),
        left_over_keeps_h=supply.keeps_h,
        **given,
    )


def _amount(needed: Range, at_confidence: float) -> AmountRow:
    return row_of(AmountRow, needed, at_confidence=at_confidence)


def purchase_row(purchase: Purchase) -> PurchaseRow:
    """Return packs of one size."""
    return row_of(PurchaseRow, purchase, pack=purchase.size, component=purchase.component or "")


def _spoiled(left: Left) -> SpoiledRow:
    return row_of(SpoiledRow, left, left=left.amount)


def _coat(use: Use, coat: CoatNeed, plan: MaterialPlan) -> CoatRow:
    """Return what a coat takes, and how it is mixed: as a whole or each side by itself."""
    film, measured = coat.film, plan.measured_of(coat)
    return row_of(
        CoatRow,
        use,
        needed=_amount(use.needed, use.at(plan.confidence)),
        as_put_on_ml=coat.needed_ml,
        thinner=coat.thinner_ml,
        groups=tuple(
            CoatedFacesRow(
                part=group.group.part, faces=group.group.faces, area_m2=group.group.area_m2, liquid=group.needed_ml
            )
            for group in coat.groups
        ),
        stays_in_tool=coat.fixed_ml,
        dry_film_um=None if film is None else film.dry_um,
        wet_film_um=None if film is None else film.wet_um,
        comb_gauge_um=None if film is None else film.gauge_um,
        thickness_factor=1.0 if film is None else film.thickness_factor,
        mix=None if len(measured) > 1 else _mix(measured[0].mix),
        sides=tuple(_side(side) for side in measured if side.side),
    )


def _side(side: MeasuredOut) -> CoatSideRow:
    return CoatSideRow(coat=side.label, area_m2=side.coat.area_m2, as_put_on_ml=side.coat.needed_ml, mix=_mix(side.mix))


def _mix(mix: CoatMix) -> MixRow:
    thinner = None if mix.thinner is None else _part(mix.thinner)
    parts = tuple(map(_part, mix.parts))
    return row_of(MixRow, mix, decant=_part(mix.decant), of_batch=_part(mix.of_batch), parts=parts, thinner=thinner)


def _part(part: MixPart) -> MeasuredRow:
    return row_of(MeasuredRow, part)


def _make_up(make_up: MakeUp) -> MakeUpRow:
    return row_of(MakeUpRow, make_up, parts=(_part(make_up.solid), _part(make_up.liquid)))


def consumable_data(need: ConsumableNeed) -> ConsumableRow:
    """Return one thing that is bought by the piece."""
    return row_of(
        ConsumableRow,
        need,
        consumable=need.name,
        measure="pieces",
        needed=_amount(need.needed, need.at_confidence),
        on_shelf=need.shelf.good,
        buy=tuple(map(purchase_row, need.buy)),
    )

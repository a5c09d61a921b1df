"""What the finish of a job cost, beside what it was planned to cost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from finplan.ledger import Standing, Tick
from finplan.material import MaterialNeed
from finplan.planning import Plan
from finplan.record.review_used import UsedCoats


@dataclass(frozen=True, slots=True)
class FinishCost:
    """One finish: what it was to take and took, without thinner, and what that is worth. [ml], in the shop's money."""

    finish: str
    coats: int
    planned_ml: float
    told: int
    """Of how many coats it is told what was used."""
    told_planned_ml: float
    """What those were planned to take."""
    used_ml: float
    """And what they took."""
    per_litre: float | None
    """Its price: of the cans that were used, else of those to buy; None where none is given."""

    def worth(self, volume_ml: float) -> float | None:
        """Return what some of it is worth; None where no price is given."""
        return None if self.per_litre is None else volume_ml / 1000 * self.per_litre


def finish_costs(
    plan: Plan, coats: Sequence[UsedCoats], ticks: Sequence[Tick], lots: Sequence[Standing]
) -> tuple[FinishCost, ...]:
    """Return what every finish of a plan cost.

    Parameters
    ----------
    plan
        The plan
    coats
        Its coats, with what they took
    ticks, lots
        The entries of the job, and the shelf: which cans they drew on
    """
    return tuple(_cost(plan, need, coats, ticks, lots) for need in plan.materials.materials)


def _cost(
    plan: Plan, need: MaterialNeed, coats: Sequence[UsedCoats], ticks: Sequence[Tick], lots: Sequence[Standing]
) -> FinishCost:
    own = [coat for coat in coats if coat.finish == need.material]
    told = [used for used in own if used.used_ml is not None]
    return FinishCost(
        finish=need.material,
        coats=sum(len(used.coats) for used in own),
        planned_ml=sum(used.planned_ml.typical / (1 + used.thin_pct / 100) for used in own),
        told=sum(len(used.coats) for used in told),
        told_planned_ml=sum(used.planned_ml.typical / (1 + used.thin_pct / 100) for used in told),
        used_ml=sum((used.used_ml or 0.0) / (1 + used.thin_pct / 100) for used in told),
        per_litre=_drawn_price(plan, need.material, ticks, lots) or _bought_price(plan, need),
    )


def _drawn_price(plan: Plan, finish: str, ticks: Sequence[Tick], lots: Sequence[Standing]) -> float | None:
    """Return what a litre cost of the cans that this job drew on; None where one of them has no price."""
    own = {tick.id for tick in ticks}
    cost = volume_ml = 0.0
    for lot in lots:
        drawn = sum(event.amount or 0.0 for event in lot.events if event.kind == "drawn" and event.tick in own)
        if (lot.lot.kind, lot.lot.material) != ("finishes", finish) or not drawn:
            continue
        if lot.lot.price is None or not lot.lot.pack:
            return None
        ml = _in_ml(plan, finish, drawn, lot.lot.measure)
        if ml is None:
            return None
        cost += lot.lot.price * drawn / lot.lot.pack
        volume_ml += ml
    return cost / volume_ml * 1000 if volume_ml else None


def _bought_price(plan: Plan, need: MaterialNeed) -> float | None:
    supply = need.supply
    holds_ml = _in_ml(plan, need.material, supply.holds, supply.measure)
    return None if supply.cost is None or not holds_ml or not supply.buy else supply.cost / holds_ml * 1000


def _in_ml(plan: Plan, finish: str, amount: float, measure: str) -> float | None:
    if measure == "ml":
        return amount
    density = plan.catalogue.finishes[finish].density_g_l
    return None if density is None else amount / density.typical * 1000

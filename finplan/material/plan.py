"""The materials of a piece: per coat, per material, what to buy and how sure it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from finplan.catalogue import Catalogue, Pack
from finplan.material.need import CoatNeed, coat_need
from finplan.material.packs import Purchase, cheapest_packs
from finplan.material.quantile import probability_below, quantile
from finplan.quantity import Range, Units
from finplan.system import Treatment, TreatmentStep

DEFAULT_CONFIDENCE = 0.9


@dataclass(frozen=True, slots=True)
class MaterialNeed:
    """One material: what all its coats need, and what to buy. Volumes in ml."""

    material: str
    coats: tuple[CoatNeed, ...]
    needed_ml: Range
    at_confidence_ml: float
    """What is enough with the confidence asked for."""
    buy: tuple[Purchase, ...]
    enough_probability: float
    cost: float | None
    """None where a price is not given."""

    @property
    def bought_ml(self) -> float:
        """What the packs hold. [ml]"""
        return sum(purchase.count * purchase.size_ml for purchase in self.buy)

    @property
    def left_over_ml(self) -> float:
        """What is typically left. [ml]"""
        return max(0.0, self.bought_ml - self.needed_ml.typical)


@dataclass(frozen=True, slots=True)
class MaterialPlan:
    """All materials of a piece, in the order in which they are used."""

    confidence: float
    materials: tuple[MaterialNeed, ...]

    def coat_of(self, step_id: str) -> CoatNeed | None:
        """Return what the coat of this step needs."""
        return next((coat for need in self.materials for coat in need.coats if coat.step.id == step_id), None)


def material_plan(
    treatments: Sequence[Treatment], catalogue: Catalogue, *, units: Units, confidence: float = DEFAULT_CONFIDENCE
) -> MaterialPlan:
    """Return what the treatments need and what to buy.

    Parameters
    ----------
    treatments
        What every item gets
    catalogue
        Finishes, methods, packs
    units
        In which system of units packs are bought, where the finish names none of its own
    confidence
        The probability wanted that what is bought is enough. 0.5 to 0.999

    Notes
    -----
    Low, typical and high are taken as 5th, 50th and 95th percentile. The error of one material is common to all its
    coats, so that their quantiles add.
    """
    together: dict[tuple[str | None, str | None, int | None], float] = {}
    for treatment in treatments:
        for step in treatment.steps:
            together[_session(step)] = together.get(_session(step), 0.0) + step.area_m2
    by_finish: dict[str, list[CoatNeed]] = {}
    for treatment in treatments:
        for step in treatment.steps:
            if step.finish is not None:
                share = step.area_m2 / together[_session(step)]
                need = coat_need(treatment.item, step, catalogue, share=share)
                by_finish.setdefault(step.finish, []).append(need)
    materials = [_material(name, tuple(coats), catalogue, units, confidence) for name, coats in by_finish.items()]
    return MaterialPlan(confidence, tuple(materials))


def _session(step: TreatmentStep) -> tuple[str | None, str | None, int | None]:
    """Return what items share that are coated with one filling of the tool: finish, method, number of the coat."""
    return step.finish, step.method, step.coat


def _material(
    name: str, coats: tuple[CoatNeed, ...], catalogue: Catalogue, units: Units, confidence: float
) -> MaterialNeed:
    ranges = tuple(coat.needed_ml for coat in coats)
    wanted_ml = sum(quantile(one, confidence) for one in ranges)
    packs: tuple[Pack, ...] = catalogue.finishes[name].packs or catalogue.packs[units].sizes
    buy = cheapest_packs(wanted_ml, packs)
    prices = [purchase.price for purchase in buy]
    return MaterialNeed(
        material=name,
        coats=coats,
        needed_ml=Range.total(ranges),
        at_confidence_ml=wanted_ml,
        buy=buy,
        enough_probability=probability_below(ranges, sum(purchase.count * purchase.size_ml for purchase in buy)),
        cost=None if None in prices else sum((price or 0.0) * p.count for price, p in zip(prices, buy, strict=True)),
    )

"""The materials of an order of one or several pieces: per coat, what to buy, how sure it is, and how to mix."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from math import prod

from finplan.catalogue import Catalogue
from finplan.inputs import ShelfItem
from finplan.material.cause import Term
from finplan.material.consumables import ConsumableNeed, consumable_needs
from finplan.material.finishes import finish_supply, made_up_ml
from finplan.material.job import MaterialJob, coat_needs
from finplan.material.learnt import NO_LESSONS, Lessons
from finplan.material.market import Market
from finplan.material.measured import MeasuredOut, measured_at_once
from finplan.material.mixing import MakeUp, make_ups
from finplan.material.need import CoatNeed
from finplan.material.shelf import OnShelf
from finplan.material.solvents import solvent_supplies
from finplan.material.supply import Supply
from finplan.material.total import total
from finplan.quantity import Range, Units
from finplan.system import Side

DEFAULT_CONFIDENCE = 0.9


@dataclass(frozen=True, slots=True)
class MaterialNeed:
    """One finish: what all its coats need, and what is bought of it."""

    material: str
    coats: tuple[CoatNeed, ...]
    needed_ml: Range
    """As it is put on, without the thinner."""
    supply: Supply

    @property
    def cost(self) -> float | None:
        """What its packs cost; None where a price is not given."""
        return self.supply.cost


@dataclass(frozen=True, slots=True)
class MaterialPlan:
    """All materials of an order, in the order in which they are used."""

    confidence: float
    materials: tuple[MaterialNeed, ...]
    solvents: tuple[Supply, ...]
    """Thinners, what solids are dissolved in, and what cleans the tools."""
    consumables: tuple[ConsumableNeed, ...]
    measured: Mapping[tuple[str, str], tuple[MeasuredOut, ...]]
    """What is measured out for a coat, once or for each side, by its piece and the id of its step."""
    pot_lives_h: Mapping[str, Range]
    """How long a mix can be worked in the shop, by finish; none of what keeps. [h]"""
    make_ups: tuple[MakeUp, ...]
    """What is dissolved once for all its coats."""

    @property
    def coats(self) -> tuple[CoatNeed, ...]:
        """What every coat takes, material by material."""
        return tuple(coat for need in self.materials for coat in need.coats)

    @property
    def supplies(self) -> tuple[Supply, ...]:
        """Everything that is bought by volume or mass: finishes first, then solvents."""
        return (*(need.supply for need in self.materials), *self.solvents)

    @property
    def enough_probability(self) -> float:
        """That every one of them is enough, as if what one takes said nothing of another."""
        return prod(supply.enough_probability for supply in self.supplies)

    def without(self, names: Collection[str]) -> MaterialPlan:
        """Return the plan without consumables of these names, which are bought with something else."""
        left = tuple(need for need in self.consumables if need.grit is not None or need.name not in names)
        return self if len(left) == len(self.consumables) else replace(self, consumables=left)

    @property
    def shelves(self) -> tuple[OnShelf, ...]:
        """What the shelf holds of everything that is used."""
        return (*(supply.shelf for supply in self.supplies), *(need.shelf for need in self.consumables))

    @property
    def bought(self) -> tuple[Supply | ConsumableNeed, ...]:
        """Everything that has to be bought."""
        order: tuple[Supply | ConsumableNeed, ...] = (*self.supplies, *self.consumables)
        return tuple(need for need in order if need.buy)

    @property
    def cost(self) -> float | None:
        """What everything to buy costs; None where a price is not given."""
        return self.known_cost if all(need.cost is not None for need in self.bought) else None

    @property
    def known_cost(self) -> float:
        """What that costs which has a price."""
        return sum(need.cost for need in self.bought if need.cost is not None)

    def coat_of(self, step_id: str) -> CoatNeed | None:
        """Return what the coat of this step needs."""
        return next((coat for coat in self.coats if coat.step.id == step_id), None)

    def measured_of(self, coat: CoatNeed) -> tuple[MeasuredOut, ...]:
        """Return what is measured out for a coat: once, or for each side of it."""
        return self.measured[coat.piece, coat.step.id]

    def measured_at(self, step_id: str, side: Side) -> MeasuredOut | None:
        """Return what is measured out for the coat of this step, or for one side of it; None where it is no coat."""
        coat = self.coat_of(step_id)
        return None if coat is None else next(measured for measured in self.measured_of(coat) if measured.side == side)


def material_plan(
    jobs: Sequence[MaterialJob],
    catalogue: Catalogue,
    shelf: tuple[ShelfItem, ...] = (),
    *,
    units: Units,
    confidence: float = DEFAULT_CONFIDENCE,
    pot_lives_h: Mapping[str, Range] | None = None,
    lessons: Lessons = NO_LESSONS,
) -> MaterialPlan:
    """Return what pieces need together and what to buy.

    Parameters
    ----------
    jobs
        The pieces of the order
    catalogue
        Finishes, methods, packs
    shelf
        What the shop has left
    units
        In which system of units packs are bought, where the finish names none of its own, and cups are read
    confidence
        The probability wanted of each material that it is enough. 0.5 to 0.999
    pot_lives_h
        How long a mix can be worked in the shop, by finish; as the labels say where nothing is known of its air. [h]
    lessons
        What the shop has learnt of its amounts

    Notes
    -----
    What is common to several coats (a tin, a hand, a piece of wood) varies with all of them, what is not each by
    itself. That all materials are enough is told as if they were independent: a little too careful, for what they share
    makes them run short together.
    """
    coats = coat_needs(jobs, catalogue, lessons)
    labels = {coat.finish: catalogue.finishes[coat.finish].pot_life_h for coat in coats}
    lives = {name: life for name, life in labels.items() if life is not None} if pot_lives_h is None else pot_lives_h
    of_step = {step.id: treatment for job in jobs for treatment in job.treatments for step in treatment.steps}
    by_finish: dict[str, list[CoatNeed]] = {}
    for coat in coats:
        by_finish.setdefault(coat.finish, []).append(coat)
    last_day = max((job.day for job in jobs), default=date.min)

    def market_on(day: date) -> Market:
        return Market(catalogue, shelf, units, confidence, day)

    materials = tuple(
        MaterialNeed(
            material=name,
            coats=tuple(needs),
            needed_ml=total(_finish_ml(needs)).range,
            supply=replace(
                finish_supply(name, needs, market_on(_last_use(needs, jobs, last_day))),
                weighed_coats=lessons.coats.get(name, 0),
            ),
        )
        for name, needs in by_finish.items()
    )
    market = market_on(last_day)
    solvents = solvent_supplies(coats, market, jobs)
    amounts_ml = {
        name: total(_finish_ml(needs)).at(confidence) - made_up_ml(name, market) for name, needs in by_finish.items()
    }
    return MaterialPlan(
        confidence=confidence,
        materials=materials,
        solvents=solvents,
        consumables=consumable_needs(jobs, coats, market),
        measured={
            (coat.piece, coat.step.id): measured_at_once(coat, of_step.get(coat.step.id), catalogue, units, lives)
            for coat in coats
        },
        pot_lives_h=lives,
        make_ups=make_ups(coats, amounts_ml, catalogue, units),
    )


def _finish_ml(coats: Sequence[CoatNeed]) -> list[Term]:
    """Return what coats take of their finish, term by term."""
    return [term for coat in coats for term in coat.finish_terms_ml]


def _last_use(coats: Sequence[CoatNeed], jobs: Sequence[MaterialJob], last_day: date) -> date:
    """Return the day by which the last of a finish is used."""
    pieces = {coat.piece for coat in coats}
    return max((job.day for job in jobs if job.piece in pieces), default=last_day)

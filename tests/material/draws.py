"""What an order takes, drawn at random from what the catalogue says: none of the program's sums is used.

Every range of the catalogue is a lognormal factor with its typical value in the middle and 5 to 95 % between low and
high. Each is drawn once for what it is common to: how far a litre goes for a finish; how a hand lays it on, loses it
and sprays it for a finish and a method; what pot and tool keep for a finish and a method; what pores, end grain and a
last grade drink for an item; how a coat differs from the next for a coat of an item; how large the offcut is for a
sample board.

``python -m tests.material.draws`` draws ten million times for five jobs and prints how often what is planned with 90 %
is enough.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import numpy.typing as npt

from finplan.catalogue import Finish
from finplan.material import CoatNeed, MaterialJob, MaterialPlan
from finplan.quantity import Range
from finplan.system import FaceGroup, Treatment
from tests.material.pieces import CATALOGUE, job, order, treatment

Draws = npt.NDArray[np.float64]
Z95 = 1.6448536269514722  # 95 % point of the normal distribution, any table
SAMPLE_AREA = CATALOGUE.allowances["sample-board"].area_m2
GRADED = {"P120": "sanded-coarse", "P180": "sanded-medium", "P220": "sanded-fine", "P320": "sanded-very-fine"}
ONE = Range(1.0, 1.0, 1.0)


@dataclass
class Dice:
    """Normal draws, one set for each thing that differs."""

    seed: int
    count: int

    def __post_init__(self) -> None:
        self.random = np.random.default_rng(self.seed)
        self.thrown: dict[tuple[str, ...], Draws] = {}

    def factor(self, known: Range, *common_to: str) -> Draws:
        """A factor with these percentiles, the same for all that it is common to."""
        if common_to not in self.thrown:
            self.thrown[common_to] = self.random.standard_normal(self.count)
        return np.asarray(np.exp(self.thrown[common_to] * (np.log(known.high / known.low) / 2 / Z95)) * known.typical)


def taken_ml(plan: MaterialPlan, finish: str, last_grit: str, dice: Dice) -> Draws:
    """Draws of what all coats of a finish take of it. [ml]"""
    (need,) = (material for material in plan.materials if material.material == finish)
    whole = np.zeros(dice.count)
    for coat in need.coats:
        whole += _of_coat(coat, last_grit, dice)
    return whole


def _of_coat(coat: CoatNeed, last_grit: str, dice: Dice) -> Draws:
    name, way, item = coat.finish, coat.step.method or "", (coat.piece, coat.item)
    finish, method = CATALOGUE.finishes[name], CATALOGUE.methods[way]
    rate = finish.spread_rate.first_m2_l if coat.step.bare else finish.spread_rate.next_m2_l
    litre = dice.factor(_one_over(rate, 1000), "tin", name)
    hand = dice.factor(method.hand, "hand", name, way)
    if way in finish.spread_rate.by_method:
        hand = hand * dice.factor(_one_over(finish.spread_rate.by_method[way], 1), "way", name, way)
    loss = method.loss_pct
    kept = Range(1 - loss.high / 100, 1 - loss.typical / 100, 1 - loss.low / 100)
    hand = hand * dice.factor(_one_over(kept, 1), "loss", name, way)
    if method.transfer_pct is not None:
        hand = hand * dice.factor(_one_over(method.transfer_pct, 100), "transfer", name, way)
    one_coat = dice.factor(method.coat_to_coat, "coat", *item, coat.step.id)
    area = np.zeros(dice.count)
    for group in coat.step.groups:
        area += _drinks(group, finish, coat.step.bare, last_grit, item, dice)
    if coat.item == "sample board":
        area *= dice.factor(SAMPLE_AREA, "offcut", coat.step.id.split("/")[1]) / SAMPLE_AREA.typical
    liquid = area * litre * hand * one_coat
    if coat.fixed_ml.high:  # shared among items by their areas, which is no chance
        liquid = liquid + dice.factor(coat.fixed_ml, "pot", name, way)
    return np.asarray(liquid / (1 + coat.step.recipe.thin_pct / 100))


def _one_over(known: Range, of: float) -> Range:
    return Range(of / known.high, of / known.typical, of / known.low)


def _drinks(group: FaceGroup, finish: Finish, bare: bool, last_grit: str, item: tuple[str, str], dice: Dice) -> Draws:
    pores = CATALOGUE.absorption[CATALOGUE.timbers[group.timber].pores]
    ends = CATALOGUE.absorption["end-grain-film" if finish.film_forming else "end-grain-penetrating"]
    graded = dice.factor(CATALOGUE.absorption[GRADED[last_grit]].first if bare else ONE, "grade", *item)
    face, end = (pores.first, ends.first) if bare else (pores.later, ends.later)
    along_m2 = group.area_m2 - group.end_grain_m2
    area = along_m2 * dice.factor(face, "pores", *item) * graded
    if group.end_grain_m2:
        area = area + group.end_grain_m2 * dice.factor(end, "ends", *item) * graded
    return area


def item(system: str, name: str, area_m2: float, ends_m2: float, timber: str, method: str | None = None) -> Treatment:
    """An item of a timber with a system on it, so much of its area end grain."""
    one = treatment(system, name, area_m2, method)
    (group,) = one.groups
    other = replace(group, end_grain_m2=ends_m2, timber=timber)
    return replace(one, groups=(other,), steps=tuple(replace(step, groups=(other,)) for step in one.steps))


@dataclass(frozen=True)
class Job:
    """An order, the grade at which its sanding ends, and the finish that is looked at."""

    jobs: tuple[MaterialJob, ...]
    last_grit: str
    finish: str


def _job(grit: str, finish: str, *pieces: list[Treatment]) -> Job:
    return Job(tuple(job(*one, piece=f"piece {n}", grit=grit) for n, one in enumerate(pieces)), grit, finish)


JOBS: dict[str, Job] = {
    "oil wiped on an oak table": _job(
        "P180",
        "tung-oil",
        [item("tung-oil", "top", 2.1, 0.06, "white-oak"), item("tung-oil", "base", 1.3, 0.1, "white-oak")],
    ),
    "shellac padded on a cherry box": _job(
        "P320",
        "shellac",
        [item("shellac", "box", 0.35, 0.02, "cherry"), item("shellac", "lid", 0.12, 0.01, "cherry")],
    ),
    "waterborne sprayed on two maple cases": _job(
        "P220",
        "waterborne-polyurethane",
        *([item("waterborne-polyurethane", "case", 3.2, 0.12, "sugar-maple", "spray-hvlp")] for _ in range(2)),
    ),
    "enamel brushed on six pine chairs": _job(
        "P120",
        "alkyd-enamel",
        [item("alkyd-enamel", f"chair {n}", 0.9, 0.08, "white-pine", "brush") for n in range(6)],
    ),
    "stain wiped on an ash bench": _job(
        "P180",
        "oil-stain",
        [item("stain-and-varnish", "seat", 0.8, 0.04, "ash"), item("stain-and-varnish", "frame", 1.1, 0.09, "ash")],
    ),
}


def enough(name: str, count: int, seed: int = 20270312) -> tuple[MaterialPlan, float]:
    """The plan of a job with 90 %, and how often what it asks for is enough."""
    one = JOBS[name]
    plan = order(*one.jobs, sure=0.9)
    (need,) = (found for found in plan.materials if found.material == one.finish)
    enough_ml = need.supply.at_confidence * _ml_of(need.supply.measure, one.finish)
    within = [np.count_nonzero(ml <= enough_ml) for ml in _in_parts(plan, one, count, seed)]
    return plan, sum(within) / count


def _ml_of(measure: str, finish: str) -> float:
    """How many millilitres of the made-up finish a unit of what is bought makes."""
    if measure == "ml":
        return 1.0
    recipe = CATALOGUE.finishes[finish].dissolve
    assert recipe is not None
    # A litre of liquid with so many grams fills a litre and their volume.
    return (1000 + recipe.strength_g_l / recipe.density_g_l.typical * 1000) / recipe.strength_g_l


def _in_parts(plan: MaterialPlan, one: Job, count: int, seed: int) -> Iterator[Draws]:
    """A million at a time, that no memory runs short."""
    part = min(count, 1_000_000)
    for number in range(count // part):
        yield taken_ml(plan, one.finish, one.last_grit, Dice(seed + number, part))


def main(arguments: list[Any]) -> None:
    """Print every job."""
    count = int(arguments[0]) if arguments else 10_000_000
    for name in JOBS:
        plan, share = enough(name, count)
        (need,) = (found for found in plan.materials if found.material == JOBS[name].finish)
        amount = f"{need.supply.at_confidence:.0f} {need.supply.measure}"
        print(f"{name:45} {amount:>8}  enough in {share:.2%} of {count:,}")  # noqa: T201


if __name__ == "__main__":
    main(sys.argv[1:])

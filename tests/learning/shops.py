"""Shops with a truth of their own, drawn from what the catalogue says, and jobs that they weigh.

Nothing of the program's sums or its learning is used to make them: ``tests.material.draws`` draws what coats take.

``python -m tests.learning.shops --shops 200 --jobs 10`` prints how often the true rate lies in the interval that the
shop has learnt, and what is bought too much from job to job at the same chance of running short.
"""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from math import exp, log

import numpy as np

from finplan.learning import Rate, Weighed, coated_of, lessons
from finplan.material import CoatNeed, MaterialJob, coat_needs, deviation, total
from finplan.quantity import Range
from tests.material.draws import GRADED, Z95, item
from tests.material.pieces import CATALOGUE, job

SURE = 0.9
COATERS = ("Wenna",)


@dataclass
class Shop:
    """One finish put on by one person in one way, a litre of which goes as far as it truly does here."""

    system: str
    finish: str
    method: str
    number: int

    def __post_init__(self) -> None:
        self.random = np.random.default_rng([2027, self.number])
        finish, method = CATALOGUE.finishes[self.finish], CATALOGUE.methods[self.method]
        self.tin = self.random.standard_normal()
        of_hand = [method.hand, _kept(method.loss_pct)]
        if self.method in finish.spread_rate.by_method:
            of_hand.append(finish.spread_rate.by_method[self.method])
        if method.transfer_pct is not None:
            of_hand.append(method.transfer_pct)
        self.hand = sum(self.random.standard_normal() * _sd(one) for one in of_hand)
        self.pot = exp(self.random.standard_normal() * _sd(method.fixed_loss_ml))

    def true_rate(self) -> float:
        """How much is used of the finish in a later coat, in times what the catalogue says."""
        return exp(self.tin * _sd(CATALOGUE.finishes[self.finish].spread_rate.next_m2_l) + self.hand)

    def job(self, number: int) -> MaterialJob:
        """A table of a size, a timber and a share of end grain that differ from job to job."""
        random = np.random.default_rng([7, self.number, number])
        timber = ["ash", "beech", "white-oak", "sugar-maple", "cherry"][int(random.integers(5))]
        area_m2 = random.uniform(1.0, 3.0)
        one = item(self.system, "top", area_m2, area_m2 * random.uniform(0.01, 0.06), timber, self.method)
        return job(one, piece="table", grit="P180")

    def takes_ml(self, coat: CoatNeed) -> float:
        """What a coat truly takes here: wood, coat and pot differ from job to job."""
        finish, method = CATALOGUE.finishes[self.finish], CATALOGUE.methods[self.method]
        first = coat.step.bare
        rate = finish.spread_rate.first_m2_l if first else finish.spread_rate.next_m2_l
        usual = rate.typical * finish.spread_rate.by_method.get(self.method, Range(1, 1, 1)).typical
        kept, landed = _kept(method.loss_pct).typical, (method.transfer_pct or Range(100, 100, 100)).typical / 100
        area_m2 = sum(self._drinks(coat, *group) for group in self._groups(coat))
        moved = self.tin * _sd(rate) + self.hand + self.random.standard_normal() * _sd(method.coat_to_coat)
        in_pot = coat.fixed_ml.typical * self.pot
        return area_m2 * 1000 / usual / kept / landed * exp(moved) + in_pot

    def _groups(self, coat: CoatNeed) -> list[tuple[float, float, str]]:
        groups = coat.step.groups
        return [(group.area_m2 - group.end_grain_m2, group.end_grain_m2, group.timber) for group in groups]

    def _drinks(self, coat: CoatNeed, along_m2: float, ends_m2: float, timber: str) -> float:
        finish = CATALOGUE.finishes[self.finish]
        pores = CATALOGUE.absorption[CATALOGUE.timbers[timber].pores]
        ends = CATALOGUE.absorption["end-grain-film" if finish.film_forming else "end-grain-penetrating"]
        first = coat.step.bare
        face, end = (pores.first, ends.first) if first else (pores.later, ends.later)
        end = Range(max(face.low, end.low), max(face.typical, end.typical), max(face.high, end.high))
        wood = self.wood
        grade = CATALOGUE.absorption[GRADED["P180"]].first if first else Range(1, 1, 1)
        graded = grade.typical * exp(wood[2] * _sd(grade))
        return graded * (
            along_m2 * face.typical * exp(wood[0] * _sd(face)) + ends_m2 * end.typical * exp(wood[1] * _sd(end))
        )

    def work(self, jobs: int) -> Worked:
        """Do jobs one after another, each planned with what was learnt from those before."""
        weighed: list[Weighed] = []
        excess: list[float] = []
        short: list[bool] = []
        for number in range(jobs):
            self.wood = self.random.standard_normal(3)
            one = self.job(number)
            known, found, _ = lessons(weighed, CATALOGUE, COATERS)
            needs = [need for need in coat_needs([one], CATALOGUE, known) if need.item != "sample board"]
            bought_ml = total(term for need in needs for term in need.wet_terms_ml).at(SURE)
            plain = [need for need in coat_needs([one], CATALOGUE) if need.item != "sample board"]
            used = [self.takes_ml(need) for need in plain]
            excess.append(bought_ml / sum(used) - 1)
            short.append(sum(used) > bought_ml)
            measured = [
                ml * exp(self.random.standard_normal() * _sd(CATALOGUE.learning["shop"].measured)) for ml in used
            ]
            grits = dict.fromkeys(one.treatments[0].groups, "P180")
            weighed += [
                Weighed((coated_of(need, grits),), ml, f"job {number}", "Wenna", f"job {number}")
                for need, ml in zip(plain, measured, strict=True)
            ]
        _, found, aside = lessons(weighed, CATALOGUE, COATERS)
        rate = next(one for one in found if not one.bare)
        return Worked(excess, short, rate, len(aside), self.true_rate())


@dataclass
class Worked:
    """How a shop fared."""

    excess: list[float]
    """What was bought beyond what was used, as a share of that, by job."""
    short: list[bool]
    rate: Rate
    aside: int
    true_rate: float

    @property
    def inside(self) -> bool:
        """Whether the true rate lies in the 90 % interval."""
        return self.rate.said.posterior.low <= self.true_rate <= self.rate.said.posterior.high


def _kept(loss_pct: Range) -> Range:
    return Range(1 - loss_pct.high / 100, 1 - loss_pct.typical / 100, 1 - loss_pct.low / 100)


def _sd(known: Range) -> float:
    return log(known.high / known.low) / 2 / Z95 if known.low > 0 else deviation(known)


KINDS = (
    ("hardwax-oil", "hardwax-oil", "wipe"),
    ("tung-oil", "tung-oil", "wipe"),
    ("waterborne-polyurethane", "waterborne-polyurethane", "brush"),
    ("waterborne-polyurethane", "waterborne-polyurethane", "spray-hvlp"),
)


def worked(shops: int, jobs: int) -> list[Worked]:
    """Shops of several kinds, each with its own truth."""
    return [Shop(*KINDS[number % len(KINDS)], number).work(jobs) for number in range(shops)]


def main() -> None:
    """Print how they fared."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--shops", type=int, default=200)
    parser.add_argument("--jobs", type=int, default=10)
    asked = parser.parse_args()
    found = worked(asked.shops, asked.jobs)
    print(f"true rate in the 90 % interval: {np.mean([one.inside for one in found]):.1%} of {len(found)} shops")  # noqa: T201
    print(f"set aside: {sum(one.aside for one in found)} of {sum(len(one.excess) for one in found)} jobs' coats")  # noqa: T201
    for number in range(asked.jobs):
        excess = np.mean([one.excess[number] for one in found])
        short = np.mean([one.short[number] for one in found])
        print(f"job {number + 1:2}: {excess:6.1%} too much, {short:5.1%} ran short")  # noqa: T201


if __name__ == "__main__":
    main()

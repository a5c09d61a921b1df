"""How long a shop takes, and how fast its coats dry, beside what is reckoned."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import exp, log
from statistics import median
from typing import TYPE_CHECKING, Literal

from finplan.catalogue import Catalogue
from finplan.learning.normal import JointNormal, believed
from finplan.learning.said import Said, SetAside, factor_range
from finplan.material import deviation

if TYPE_CHECKING:
    from finplan.learning.normal import Array

Sort = Literal["minutes", "drying"]
SORTS: tuple[Sort, ...] = ("minutes", "drying")


@dataclass(frozen=True, slots=True)
class Timed:
    """Work that was timed, or a coat that was found dry. Both times in one unit."""

    sort: Sort
    of: str
    """The kind of work, or the finish."""
    reckoned: float
    """How long it should have taken, by the catalogue alone."""
    took: float
    person: str | None
    told: str


@dataclass(frozen=True, slots=True)
class Pace:
    """How long something takes in this shop, in times what is reckoned; ``person`` empty for all of them together."""

    sort: Sort
    of: str
    person: str
    said: Said


def paces(
    timed: Sequence[Timed], catalogue: Catalogue, people: Sequence[str] = ()
) -> tuple[tuple[Pace, ...], tuple[SetAside, ...]]:
    """Return how a shop's times are from those that are reckoned, and what was not believed.

    Parameters
    ----------
    timed
        What was timed, the oldest first
    catalogue
        What is known beforehand, with the shop's own values
    people
        Who works in the shop: what nobody is named for was done by the one who works there alone

    Notes
    -----
    The logarithm of what something takes is normal about the shop's own, which is normal about what is reckoned. For
    work both are as wide as the catalogue has handwork, and of two people's as much is common as its rule says. Drying
    is the finish's: beforehand as wide as its time until another coat, and from coat to coat as the rule says.
    """
    learnt: list[Pace] = []
    if len(people) == 1:
        timed = [timing if timing.person else replace(timing, person=people[0]) for timing in timed]
    aside: list[SetAside] = []
    for sort, of in dict.fromkeys((timing.sort, timing.of) for timing in timed):
        if sort == "drying" and of not in catalogue.finishes:
            continue
        known = [
            timing
            for timing in timed
            if (timing.sort, timing.of) == (sort, of) and timing.took > 0 and timing.reckoned > 0
        ]
        newest = known[-catalogue.learning["shop"].newest :]
        if newest:
            own, doubted = _of_one(sort, of, newest, catalogue)
            learnt += own
            aside += doubted
    return tuple(learnt), tuple(aside)


def _of_one(sort: Sort, of: str, timed: Sequence[Timed], catalogue: Catalogue) -> tuple[list[Pace], list[SetAside]]:
    import numpy as np

    rule = catalogue.learning["shop"]
    people = [""] if sort == "drying" else ["", *dict.fromkeys(timing.person for timing in timed if timing.person)]
    prior_sd, noise_sd, alike = _beforehand(sort, of, catalogue)
    covariance = prior_sd**2 * (alike * np.ones((len(people), len(people))) + (1 - alike) * np.eye(len(people)))
    covariance[0, 0] = prior_sd**2 * alike  # what is common to all of them, which nobody is by himself
    covariance[0, 1:] = covariance[1:, 0] = prior_sd**2 * alike
    prior = JointNormal(np.zeros(len(people)), covariance)
    loads = np.zeros((len(timed), len(people)))
    for row, timing in enumerate(timed):
        loads[row, people.index(timing.person) if timing.person in people else 0] = 1.0
    observed = np.array([log(timing.took / timing.reckoned) for timing in timed])
    noise = np.full(len(timed), noise_sd)

    def in_proportion(numbers: Sequence[int], known: JointNormal) -> tuple[Array, Array]:
        return loads[list(numbers)], loads[list(numbers)] @ known.mean

    result = believed(prior, in_proportion, observed, noise, rule.outlier_deviations)
    paces_: list[Pace] = []
    for at, person in enumerate(people):
        own = [number for number in result.kept if person in ("", timed[number].person)]
        if own:
            said = Said(
                prior=factor_range(0.0, float(prior.covariance[at, at])),
                data=exp(median(observed[own].tolist())),
                posterior=factor_range(float(result.known.mean[at]), float(result.known.covariance[at, at])),
                count=len(own),
            )
            paces_.append(Pace(sort, of, person, said))
    return paces_, [SetAside(timed[at].told, sort, of, exp(off)) for at, off in result.aside]


def _beforehand(sort: Sort, of: str, catalogue: Catalogue) -> tuple[float, float, float]:
    """Return the deviations of a shop and of one observation, and how far people are alike."""
    rule = catalogue.learning["shop"]
    if sort == "drying":
        return deviation(catalogue.finishes[of].recoat_h), deviation(rule.dries), 1.0
    takes = deviation(catalogue.labour["handwork"].takes)
    return takes, takes, rule.alike_pct / 100

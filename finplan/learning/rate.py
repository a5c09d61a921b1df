"""How thick a shop lays a finish on: weighed coats against the catalogue's causes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import exp, log
from statistics import median
from typing import TYPE_CHECKING

from finplan.catalogue import Catalogue, LearningRule
from finplan.learning.coated import Weighed
from finplan.learning.normal import JointNormal, believed, refined, root
from finplan.learning.said import Rate, Said, SetAside, factor_range
from finplan.material import Cause, CauseKey, Learnt, Lessons, deviation

if TYPE_CHECKING:
    from finplan.learning.normal import Array

SOMEBODY = ""
"""The hand of a coat of which nobody says who put it on."""
_Unknown = tuple[str, ...]
_Part = tuple[float, Mapping[_Unknown, float]]
"""What a part of an amount typically is [ml], and how its logarithm moves with every unknown."""
_PRODUCT: _Unknown = ("product",)


def lessons(
    weighed: Sequence[Weighed], catalogue: Catalogue, coaters: Sequence[str]
) -> tuple[Lessons, tuple[Rate, ...], tuple[SetAside, ...]]:
    """Return what a shop has learnt of its amounts, how far that is from the catalogue, and what was not believed.

    Parameters
    ----------
    weighed
        What was weighed, the oldest first
    catalogue
        What is known beforehand, with the shop's own values
    coaters
        Who may put a coat on in this shop

    Notes
    -----
    What a coat takes is ``Σ typical · exp(Σ load · z)`` over its parts, every cause ``z`` being normal beforehand, with
    a deviation of 1 (``material.cause``). The product is common to all coats of a finish, a hand to those of one
    finish, method and person; two persons with one method are alike in what the method brings and differ by the
    catalogue's ``hand``. Wood and coat to coat are unknowns of each job, of no further use. So a person of whom much is
    known is reckoned by that, and one of whom little is known by what others did with that method, or else by what is
    known of the finish, each as far as it goes. At most the newest of a finish count, as many as the rule says.
    """
    rule = catalogue.learning["shop"]
    learnt: dict[str, Learnt] = {}
    rates: list[Rate] = []
    aside: list[SetAside] = []
    coats: dict[str, int] = {}
    for finish in dict.fromkeys(weighing.finish for weighing in weighed):
        usable = [weighing for weighing in weighed if weighing.finish == finish and _usable(weighing, catalogue)]
        known = usable[-rule.newest :]
        if not known:
            continue
        of_finish = _Finish(finish, known, catalogue, coaters, rule)
        aside += of_finish.aside
        if of_finish.kept:
            learnt[finish] = of_finish.learnt()
            coats[finish] = sum(len(known[at].coats) for at in of_finish.kept)
            rates += of_finish.rates()
    return Lessons(learnt, coats), tuple(rates), tuple(aside)


def _usable(weighing: Weighed, catalogue: Catalogue) -> bool:
    return weighing.used_ml > 0 and all(coat.known_to(catalogue) for coat in weighing.coats)


class _Finish:
    """What was weighed of one finish, and what is known of it afterwards."""

    def __init__(
        self, name: str, weighed: Sequence[Weighed], catalogue: Catalogue, coaters: Sequence[str], rule: LearningRule
    ) -> None:
        import numpy as np

        self._name, self._weighed = name, weighed
        alone = coaters[0] if len(coaters) == 1 else SOMEBODY
        self._who = [weighing.person or alone for weighing in weighed]
        self._people = tuple(dict.fromkeys([*coaters, *self._who]))
        self._coaters = tuple(coaters) or self._people
        self._methods = tuple(dict.fromkeys(coat.method for weighing in weighed for coat in weighing.coats))
        self._parts = [_parts(weighing, who, catalogue) for weighing, who in zip(weighed, self._who, strict=True)]
        unknowns = [*self._lasting(), *(name for parts in self._parts for _, moved in parts for name in moved)]
        self._at = {name: number for number, name in enumerate(dict.fromkeys(unknowns))}
        self._sums = [self._sum(parts) for parts in self._parts]
        self._before = JointNormal(np.zeros(len(self._at)), self._prior_covariance(catalogue))
        self._observed = np.array([log(weighing.used_ml) for weighing in weighed])
        self._noise = np.full(len(weighed), deviation(rule.measured))
        judged = believed(self._before, self._straight, self._observed, self._noise, rule.outlier_deviations)
        self.kept = judged.kept
        self._known = self._refined(judged.known) if self.kept else judged.known
        self.aside = tuple(SetAside(weighed[at].told, "amount", name, exp(off)) for at, off in judged.aside)

    def _lasting(self) -> list[_Unknown]:
        """Return the unknowns that outlast a job: the product, and by method the hands and what the tool keeps."""
        unknowns: list[_Unknown] = [_PRODUCT]
        for method in self._methods:
            unknowns += [("hand", method, person) for person in self._people]
            unknowns.append(("tool", method))
        return unknowns

    def _prior_covariance(self, catalogue: Catalogue) -> Array:
        """Return how the unknowns vary beforehand: each by itself, hands with one method in part together."""
        import numpy as np

        covariance = np.eye(len(self._at))
        for method in self._methods:
            whole = self._load(("hand", method))
            of_person = deviation(catalogue.methods[method].hand)
            alike = max(0.0, 1 - (of_person / whole) ** 2) if whole else 0.0
            for person in self._people:
                for other in self._people:
                    if person != other:
                        covariance[self._at["hand", method, person], self._at["hand", method, other]] = alike
        return covariance

    def _load(self, like: _Unknown, numbers: Sequence[int] | None = None) -> float:
        """Return how much parts usually move with unknowns whose names begin so."""
        loads = [
            load
            for number in (range(len(self._parts)) if numbers is None else numbers)
            for _, moved in self._parts[number]
            for name, load in moved.items()
            if name[: len(like)] == like
        ]
        return median(loads) if loads else 0.0

    def _straight(self, numbers: Sequence[int], known: JointNormal) -> tuple[Array, Array]:
        """Return how the logarithms of amounts move with the unknowns where they are likeliest, and what they are."""
        import numpy as np

        loads, expected = np.zeros((len(numbers), len(self._at))), np.zeros(len(numbers))
        for row, number in enumerate(numbers):
            typical_ml, moved = self._sums[number]
            parts = typical_ml * np.exp(moved @ known.mean)
            loads[row] = parts @ moved / parts.sum()
            expected[row] = log(parts.sum())
        return loads, expected

    def _refined(self, rough: JointNormal) -> JointNormal:
        """Return what is known of what outlasts a job, with what a tool keeps as the sum that it is.

        An amount is what goes on and what stays in the pot. More of the one is less of the other, on a line that bends:
        drawn straight, a rate would come out too high by a third of its deviation.
        """
        import numpy as np

        lasting = slice(0, len(self._lasting()))
        before = np.linalg.inv(self._before.covariance[lasting, lasting])
        loads, _ = self._straight(self.kept, rough)
        of_job = loads[:, lasting.stop :]
        spread_ = of_job @ of_job.T + np.diag(self._noise[list(self.kept)] ** 2)
        weight = np.linalg.inv(spread_)
        sums = [self._sums[number] for number in self.kept]
        observed = self._observed[list(self.kept)]

        def log_density(at: Array) -> Array:
            off = np.empty((len(at), len(sums)))
            for row, (typical_ml, moved) in enumerate(sums):
                bend = (moved[:, lasting.stop :] ** 2).sum(axis=1) / 2
                parts = typical_ml * np.exp(at @ moved[:, lasting].T + bend)
                off[:, row] = observed[row] + (of_job[row] ** 2).sum() / 2 - np.log(parts.sum(axis=1))
            density: Array = (
                -(np.einsum("ni,ij,nj->n", off, weight, off) + np.einsum("ni,ij,nj->n", at, before, at)) / 2
            )
            return density

        return refined(JointNormal(rough.mean[lasting], rough.covariance[lasting, lasting]), log_density)

    def _sum(self, parts: Sequence[_Part]) -> tuple[Array, Array]:
        """Return the typical parts of an amount, and how the logarithm of each moves with every unknown."""
        import numpy as np

        moved = np.zeros((len(parts), len(self._at)))
        for row, (_, loads) in enumerate(parts):
            for of, load in loads.items():
                moved[row, self._at[of]] = load
        return np.array([ml for ml, _ in parts]), moved

    # --- what came of it ----------------------------------------------------------------------------------------------

    def learnt(self) -> Learnt:
        """Return what is known of the causes of a plan, in which it is not settled yet who puts a coat on.

        Of several who may do it each is as likely: the mean of all, with what they differ by added to its variance.
        """
        import numpy as np

        keys: list[CauseKey] = [("product", (self._name,))]
        rows = [self._one(_PRODUCT)]
        differ = [0.0]
        mean, covariance = self._known.mean, self._known.covariance
        for method in self._methods:
            hands = [self._at["hand", method, person] for person in self._coaters]
            row = np.zeros(len(mean))
            row[hands] = 1 / len(hands)
            each = float(np.mean([covariance[hand, hand] + mean[hand] ** 2 for hand in hands]))
            keys += [("hand", (self._name, method)), ("hand", (self._name, method, "tool"))]
            rows += [row, self._one(("tool", method))]
            differ += [max(0.0, each - float(row @ mean) ** 2 - float(row @ covariance @ row)), 0.0]
        taken = np.array(rows)
        varied = taken @ covariance @ taken.T + np.diag(differ)
        return Learnt(tuple(keys), tuple(float(value) for value in taken @ mean), root(varied))

    def _one(self, name: _Unknown) -> Array:
        import numpy as np

        row = np.zeros(len(self._lasting()))
        row[self._at[name]] = 1.0
        return row

    def rates(self) -> list[Rate]:
        """Return how thick it goes on, for everybody who has put it on bare wood, or over another coat, in some way."""
        times = {at: self._weighed[at].used_ml / float(self._sums[at][0].sum()) for at in self.kept}
        alike: dict[tuple[str, str, bool], list[int]] = {}
        for at in self.kept:
            coats = self._weighed[at].coats
            if len({(coat.method, coat.bare) for coat in coats}) == 1:
                alike.setdefault((coats[0].method, self._who[at], coats[0].bare), []).append(at)
        return [
            Rate(self._name, *which, self._said(which[0], which[1], numbers, [times[at] for at in numbers]))
            for which, numbers in alike.items()
        ]

    def _said(self, method: str, person: str, numbers: Sequence[int], times: Sequence[float]) -> Said:
        hand: _Unknown = ("hand", method, person)
        row = self._one(_PRODUCT) * self._load(_PRODUCT, numbers) + self._one(hand) * self._load(hand, numbers)
        return Said(
            prior=factor_range(0.0, float(row @ self._before.covariance[: len(row), : len(row)] @ row)),
            data=median(times),
            posterior=factor_range(float(row @ self._known.mean), float(row @ self._known.covariance @ row)),
            count=sum(len(self._weighed[at].coats) for at in numbers),
        )


def _parts(weighing: Weighed, who: str, catalogue: Catalogue) -> list[_Part]:
    """Return what makes up an amount, with what each part moves with."""
    return [
        (term.typical, {_unknown(cause, weighing, who): cause.log_sd for cause in term.causes})
        for coat in weighing.coats
        for term in coat.terms_ml(catalogue)
        if term.typical > 0
    ]


def _unknown(cause: Cause, weighing: Weighed, who: str) -> _Unknown:
    """Return the unknown that a cause is here: of the shop, or of the wood and the coats of one job."""
    if cause.kind == "product":
        return _PRODUCT
    if cause.kind == "hand":
        _, method, *tool = cause.of
        return ("tool", method) if tool else ("hand", method, who)
    return (cause.kind, weighing.job, *cause.of)

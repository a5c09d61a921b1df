"""What a shop has learnt of the causes of its amounts: how far they usually are from the catalogue, and how surely."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import exp

from finplan.material.cause import Cause, CauseKind, Term

CauseKey = tuple[CauseKind, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Learnt:
    """Causes that were learnt together, such as a tin and the hands that put it on: jointly normal.

    In deviations of the causes as they are known beforehand: a mean of 1 is the 84th of a hundred shops.
    """

    keys: tuple[CauseKey, ...]
    mean: tuple[float, ...]
    root: tuple[tuple[float, ...], ...]
    """The lower triangle whose square, ``root · rootᵀ``, is the covariance: row by row, as wide as there are keys."""

    def of(self, term: Term) -> Term:
        """Return an amount as it is known now.

        Notes
        -----
        A tin that goes far and a hand that lays it on thick look alike on the scale, and so what is learnt of the two
        hangs together: were they surer each by itself, the sum would be much surer than it seems. ``root`` tells them
        apart into what is independent: the first key's part, what is left of the second beside it, and so on. The
        logarithm of the amount moves by a sum of those.
        """
        known = [cause for cause in term.causes if cause.key in self.keys]
        if not known:
            return term
        at = {key: number for number, key in enumerate(self.keys)}
        moved = sum(cause.log_mean + cause.log_sd * self.mean[at[cause.key]] for cause in known)
        by_part: dict[int, float] = defaultdict(float)
        for lesson in known:
            for part, share in enumerate(self.root[at[lesson.key]]):
                by_part[part] += lesson.log_sd * share
        parts = tuple(
            Cause(self.keys[part][0], (*self.keys[part][1], "learnt"), log_sd)
            for part, log_sd in by_part.items()
            if log_sd
        )
        others = tuple(cause for cause in term.causes if cause.key not in self.keys)
        return replace(term, typical=term.typical * exp(moved), causes=others + parts)


@dataclass(frozen=True, slots=True)
class Lessons:
    """What a shop has learnt of its amounts, by finish."""

    by_finish: Mapping[str, Learnt] = field(default_factory=dict)
    coats: Mapping[str, int] = field(default_factory=dict)
    """How many weighed coats that rests on, by finish."""

    def of(self, finish: str, terms: Sequence[Term]) -> tuple[Term, ...]:
        """Return the amounts that coats of a finish take, as they are known now."""
        learnt = self.by_finish.get(finish)
        return tuple(terms) if learnt is None else tuple(learnt.of(term) for term in terms)


NO_LESSONS = Lessons()

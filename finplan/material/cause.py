"""Why more or less is used than typical: every cause once, a lognormal factor that is independent of the others."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, hypot, log
from statistics import NormalDist
from typing import Literal

from finplan.quantity import Range

CauseKind = Literal["product", "hand", "wood", "coat"]
"""What differs: one tin from another of its type; one hand with one tool from another; one piece of wood from another;
one coat from the next."""
KINDS: tuple[CauseKind, ...] = ("product", "hand", "wood", "coat")

_Z95 = NormalDist().inv_cdf(0.95)
_LARGEST_SD = 2.0
"""Of a logarithm: 27 times as much or as little. No nonsense in a file may be too large for a number."""


@dataclass(frozen=True, slots=True)
class Cause:
    """A factor on what is used: the logarithm of it is normal.

    What is known beforehand comes from the catalogue. What is learnt from weighed tins is another mean and a smaller
    deviation of the same cause.
    """

    kind: CauseKind
    of: tuple[str, ...]
    """What it is common to. A product: its finish; a hand: finish and method; wood: piece and item; a coat: piece, item
    and the id of its step. Two causes of one kind that are of the same act together, each with its own deviation."""
    log_sd: float
    log_mean: float = 0.0

    @property
    def key(self) -> tuple[CauseKind, tuple[str, ...]]:
        """What tells it from other causes: those with other keys are independent of it."""
        return self.kind, self.of


@dataclass(frozen=True, slots=True)
class Term:
    """An amount with all that makes it uncertain: ``typical · product of the factors``."""

    typical: float
    causes: tuple[Cause, ...]

    def scaled(self, factor: float) -> Term:
        """Return so many times the amount."""
        return Term(self.typical * factor, self.causes)

    def without(self, *kinds: CauseKind) -> Term:
        """Return the amount were all causes of these kinds known, and as they typically are."""
        return Term(self.typical, tuple(own for own in self.causes if own.kind not in kinds))

    @property
    def mean(self) -> float:
        """The mean, which lies above the typical amount."""
        return self.typical * exp(sum(own.log_mean + own.log_sd**2 / 2 for own in self.causes))


def deviation(known: Range) -> float:
    """Return the standard deviation of the logarithm of a factor.

    Parameters
    ----------
    known
        Its 5th, 50th and 95th percentile, as the catalogue gives them

    Notes
    -----
    ``ln(high / low) / (2 · 1.645)``: typical is the median, and low to high as wide as 5 to 95 %. Where low is zero,
    the upper side stands for both.

    Examples
    --------
    >>> deviation(Range(0.8, 1.0, 1.25))
    0.1357
    """
    if known.high <= 0:
        return 0.0
    if known.low <= 0:
        return log(known.high / known.typical) / _Z95 if known.typical > 0 else log(2) / _Z95
    return log(known.high / known.low) / (2 * _Z95)


def median(known: Range) -> float:
    """Return the median of what is known: its typical value; half the most of what typically is nothing."""
    return known.typical if known.typical > 0 else known.high / 2


def cause(kind: CauseKind, of: tuple[str, ...], *known: Range) -> tuple[Cause, ...]:
    """Return the cause that several independent factors make together; none where all of them are certain."""
    log_sd = min(_LARGEST_SD, hypot(*(deviation(range_) for range_ in known)))
    return (Cause(kind, of, log_sd),) if log_sd else ()

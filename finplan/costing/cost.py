"""Money with its spread: low, typical and high, each to the cent."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from finplan.material import Term, total
from finplan.quantity import Range
from finplan.reading import to_cents

_HUNDRED = 100


@dataclass(frozen=True, slots=True)
class Cost:
    """What something costs at the least, typically and at the most, to the cent."""

    low: Decimal
    typical: Decimal
    high: Decimal

    @classmethod
    def of(cls, amount: Range, each: Decimal) -> Cost:
        """Return what an amount costs, so much each."""
        return cls(*(to_cents(Decimal(str(figure)) * each) for figure in (amount.low, amount.typical, amount.high)))

    @classmethod
    def sure(cls, amount: Decimal) -> Cost:
        """Return a cost that has no spread."""
        return cls(*[to_cents(amount)] * 3)

    @classmethod
    def together(cls, terms: Iterable[Term]) -> Cost:
        """Return what uncertain sums of money come to together: 5th percentile, typical, 95th."""
        range_ = total(terms).range
        return cls(*(to_cents(Decimal(str(figure))) for figure in (range_.low, range_.typical, range_.high)))

    def plus(self, other: Cost) -> Cost:
        """Return it with so much more, low with low: of what is a part of it, as a tax is."""
        return Cost(self.low + other.low, self.typical + other.typical, self.high + other.high)

    @property
    def range(self) -> Range:
        """The same as numbers."""
        return Range(float(self.low), float(self.typical), float(self.high))

    def percent(self, percentage: float) -> Cost:
        """Return so many percent of it, to the cent."""
        share = Decimal(str(percentage)) / _HUNDRED
        return Cost(*(to_cents(money * share) for money in (self.low, self.typical, self.high)))

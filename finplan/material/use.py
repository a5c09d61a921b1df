"""What one coat, or one cleaning of the tools, takes of a material."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.material.cause import Term
from finplan.material.total import total
from finplan.quantity import Range

SAMPLE = "sample board"
"""The item that stands for the board on which a system is tried."""
CLEANING = "clean-up"
"""The item that stands for the cleaning of tools."""


@dataclass(frozen=True, slots=True)
class Use:
    """What one coat, or one cleaning of the tools, takes of it. In the measure of the supply, area in m²."""

    piece: str
    item: str
    coat: str
    area_m2: float | None
    """None of what is no surface."""
    terms: tuple[Term, ...]
    """Amounts, each with what makes it uncertain."""

    @property
    def needed(self) -> Range:
        """All of it."""
        return total(self.terms).range

    def at(self, confidence: float) -> float:
        """Return what is enough with this confidence, for this one alone."""
        return total(self.terms).at(confidence)

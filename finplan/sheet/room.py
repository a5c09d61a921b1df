"""How much room words take on paper, reckoned before anything is laid out: to choose, never to place by."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from finplan.typesetting import lines_taken

PageSize = Literal["A4", "Letter"]
WIDTH_MM: dict[PageSize, float] = {"A4": 184.0, "Letter": 189.9}
PAGE_MM: dict[PageSize, float] = {"A4": 277.0, "Letter": 259.4}
"""Within the margins of the style sheet."""
MM_OF_PT = 25.4 / 72


@dataclass(frozen=True, slots=True)
class Letters:
    """Letters of one size, and how far their lines stand apart, as a style sheet has them."""

    size_pt: float
    leading: float

    def height(self, text: str, width_mm: float) -> float:
        """Return how high a text is, broken to lines of a width; nothing of no text. [mm]"""
        if not text:
            return 0.0
        return lines_taken(text, self.size_pt * MM_OF_PT, width_mm) * self.line

    def heights(self, texts: Iterable[str], width_mm: float, gap_mm: float = 0.0) -> float:
        """Return how high paragraphs are together, each with a gap below it. [mm]"""
        return sum(self.height(text, width_mm) + gap_mm for text in texts if text)

    @property
    def line(self) -> float:
        """How high a line is. [mm]"""
        return self.size_pt * self.leading * MM_OF_PT

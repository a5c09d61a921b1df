"""What an item takes of the rack while it is wet."""

from __future__ import annotations

from collections.abc import Iterable

from finplan.surface import PieceSurface
from finplan.system import Treatment

HANGING_SHAPES = frozenset({"turned", "square-leg", "rod", "moulding"})


def rack_needs(treatments: Iterable[Treatment], surface: PieceSurface) -> dict[str, tuple[int, int]]:
    """Return the flat places and hooks of every item: an assembly hangs from one hook, loose parts as they are."""
    counts = {part.part: (part.shape, part.count) for part in surface.parts}
    needs: dict[str, tuple[int, int]] = {}
    for treatment in treatments:
        if len(treatment.parts) > 1:
            needs[treatment.item] = (0, 1)
            continue
        shape, count = counts[treatment.parts[0]]
        needs[treatment.item] = (0, count) if shape in HANGING_SHAPES else (count, 0)
    return needs

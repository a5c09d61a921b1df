"""Hatching: parallel lines, cut at the outlines that they fill. Every line is drawn: no pattern needs a name."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence

from finplan.geometry import Subpath, line

SPACING_MM = 1.6
_MAX_LINES = 400


def hatching(
    outlines: Sequence[Sequence[complex]], *, angle_deg: float = 45.0, spacing_mm: float = SPACING_MM
) -> list[Subpath]:
    """Return the lines that fill closed polygons; a polygon inside another is a hole in it.

    >>> square = [0j, 4 + 0j, 4 + 4j, 4j]
    >>> len(hatching([square], angle_deg=0.0, spacing_mm=1.0))
    4
    """
    turn = cmath.rect(1.0, math.radians(angle_deg))
    level = [[point / turn for point in outline] for outline in outlines]
    heights = [point.imag for outline in level for point in outline]
    low, high = min(heights), max(heights)
    spacing = max(spacing_mm, (high - low) / _MAX_LINES)
    lines: list[Subpath] = []
    # Half a step off: no line runs along an edge of the outline.
    height = (math.floor(low / spacing) + 0.5) * spacing
    while height < high:
        crossings = sorted(x for outline in level for x in _crossings(outline, height))
        for start, end in zip(crossings[::2], crossings[1::2], strict=False):
            lines.append(line(complex(start, height) * turn, complex(end, height) * turn))
        height += spacing
    return lines


def _crossings(outline: Sequence[complex], height: float) -> list[float]:
    """Return where a polygon's sides cross a level line."""
    crossings: list[float] = []
    for index, end in enumerate(outline):
        start = outline[index - 1]
        if (start.imag > height) != (end.imag > height):
            share = (height - start.imag) / (end.imag - start.imag)
            crossings.append(start.real + share * (end.real - start.real))
    return crossings

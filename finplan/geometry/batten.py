"""The line that a thin batten takes when it is bent round pins: the smooth curve through points in the plane."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from finplan.geometry.path import CubicTo


def batten(points: Sequence[complex], *, closed: bool = False) -> list[CubicTo]:
    """Return the smooth curve through *points* as a cubic from each to the next.

    Parameters
    ----------
    points
        Two or more, each elsewhere than the one before; three or more of a closed curve, which ends at its first
    closed
        Whether it goes on smoothly from the last point to the first; an open one lies free at both ends

    Notes
    -----
    The cubic spline whose parameter is the chord length from point to point: x and y have steady second derivatives,
    which at free ends vanish (a natural spline), round a closed curve go on (a periodic one): what
    textbooks of numerical mathematics call cubic spline interpolation. Two points make a straight line.

    Examples
    --------
    >>> [(link.second.real, link.second.imag) for link in batten([0j, 3 + 4j])]
    [(2.0, 2.6667)]
    """
    run = [*points, points[0]] if closed else list(points)
    chords = [abs(after - before) for before, after in pairwise(run)]
    steps = [(after - before) / chord for (before, after), chord in zip(pairwise(run), chords, strict=True)]
    slopes = _round_slopes(chords, steps) if closed else _free_slopes(chords, steps)
    return [
        CubicTo(run[i] + slopes[i] * chord / 3, run[i + 1] - slopes[i + 1] * chord / 3, run[i + 1])
        for i, chord in enumerate(chords)
    ]


def _free_slopes(chords: Sequence[float], steps: Sequence[complex]) -> list[complex]:
    """Return dP/dt at the points of an open curve, the chord length t running along it."""
    inner = range(1, len(chords))
    lower = [chords[i] for i in inner]
    upper = [chords[i - 1] for i in inner]
    right = [3 * (chords[i] * steps[i - 1] + chords[i - 1] * steps[i]) for i in inner]
    diagonal = [2.0, *(2 * (low + up) for low, up in zip(lower, upper, strict=True)), 2.0]
    return _solved([0.0, *lower, 1.0], diagonal, [1.0, *upper, 0.0], [3 * steps[0], *right, 3 * steps[-1]])


def _round_slopes(chords: Sequence[float], steps: Sequence[complex]) -> list[complex]:
    """Return the same of a closed curve, the first once more at the end.

    What the first and the last point have to do with one another is put into a second right side: Sherman and
    Morrison's formula for a matrix and a product of two vectors.
    """
    count = len(chords)
    lower = [chords[i] for i in range(count)]
    upper = [chords[i - 1] for i in range(count)]
    right = [3 * (chords[i] * steps[i - 1] + chords[i - 1] * steps[i]) for i in range(count)]
    diagonal = [2 * (low + up) for low, up in zip(lower, upper, strict=True)]
    corner_first, corner_last = lower[0], upper[-1]  # of the last point in the first row, of the first in the last row
    gauge = -diagonal[0]
    diagonal[0] -= gauge
    diagonal[-1] -= corner_first * corner_last / gauge
    main = _solved(lower, diagonal, upper, right)
    ring = _solved(lower, diagonal, upper, [gauge + 0j, *([0j] * (count - 2)), corner_last + 0j])
    share = corner_first / gauge
    factor = (main[0] + share * main[-1]) / (1 + ring[0] + share * ring[-1])
    slopes = [slope - factor * extra for slope, extra in zip(main, ring, strict=True)]
    return [*slopes, slopes[0]]


def _solved(
    lower: Sequence[float], diagonal: Sequence[float], upper: Sequence[float], right: Sequence[complex]
) -> list[complex]:
    """Return the solution of equations each of which knows its neighbours alone, by elimination."""
    factors: list[float] = []
    sides: list[complex] = []
    for i, middle in enumerate(diagonal):
        left = lower[i] if i else 0.0
        pivot = middle - left * (factors[-1] if i else 0.0)
        factors.append(upper[i] / pivot)
        sides.append((right[i] - left * (sides[-1] if i else 0j)) / pivot)
    solution = [sides[-1]]
    for factor, side in zip(reversed(factors[:-1]), reversed(sides[:-1]), strict=True):
        solution.append(side - factor * solution[-1])
    return solution[::-1]

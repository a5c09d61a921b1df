"""The smooth curve through given points that neither overshoots nor waves between them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

PlanePoint = tuple[float, float]


@dataclass(frozen=True, slots=True)
class SplineSpan:
    """The cubic between two neighbouring points."""

    start: PlanePoint
    end: PlanePoint
    start_slope: float
    end_slope: float

    @property
    def width(self) -> float:
        """How far apart the two points are along the first axis."""
        return self.end[0] - self.start[0]

    def _coefficients(self) -> tuple[float, float, float, float]:
        """Return those of the powers 0 to 3 of the distance from the start."""
        width = self.width
        steepness = (self.end[1] - self.start[1]) / width
        square = (3 * steepness - 2 * self.start_slope - self.end_slope) / width
        cube = (self.start_slope + self.end_slope - 2 * steepness) / width / width
        return self.start[1], self.start_slope, square, cube

    def polynomials(self) -> Callable[[float], tuple[float, float]]:
        """Return the function that gives value and slope at a distance from the start of the span."""
        value, slope, square, cube = self._coefficients()

        def value_and_slope(along: float) -> tuple[float, float]:
            return (
                value + along * (slope + along * (square + along * cube)),
                slope + along * (2 * square + along * 3 * cube),
            )

        return value_and_slope


def _end_slope(near_width: float, far_width: float, near: float, far: float) -> float:
    """Return the slope at an end: that of the parabola through three points, held to the shape of the data."""
    slope = ((2 * near_width + far_width) * near - near_width * far) / (near_width + far_width)
    if slope * near <= 0:
        return 0.0
    if near * far <= 0 and abs(slope) > 3 * abs(near):
        return 3 * near
    return slope


def _middle_slope(left_width: float, right_width: float, left: float, right: float) -> float:
    """Return the slope at an inner point: the weighted harmonic mean, or none where the data turn."""
    if left == 0 or right == 0 or (left > 0) != (right > 0):
        return 0.0
    left_weight, right_weight = 2 * right_width + left_width, right_width + 2 * left_width
    return (left_weight + right_weight) / (left_weight / left + right_weight / right)


def spline_spans(points: Sequence[PlanePoint]) -> list[SplineSpan]:
    """Return the cubics of the shape-preserving curve through *points*.

    Parameters
    ----------
    points
        Two or more, the first coordinate growing

    Notes
    -----
    Slopes by the weighted harmonic mean of the neighbouring steepnesses: Fritsch and Butland, SIAM J. Sci. Stat.
    Comput. 5 (1984) 300. End slopes by the one-sided three-point formula with the limits of C. Moler, Numerical
    Computing with MATLAB (SIAM 2004), section 3.6. Two points make a straight line.

    Examples
    --------
    >>> [round(span.start_slope, 4) for span in spline_spans([(0, 48), (150, 62), (420, 36)])]
    [0.1611, 0.0]
    """
    widths = [b[0] - a[0] for a, b in pairwise(points)]
    steepness = [(b[1] - a[1]) / width for (a, b), width in zip(pairwise(points), widths, strict=True)]
    if len(points) == 2:
        slopes = [steepness[0], steepness[0]]
    else:
        slopes = [_end_slope(widths[0], widths[1], steepness[0], steepness[1])]
        slopes += [
            _middle_slope(widths[i], widths[i + 1], steepness[i], steepness[i + 1]) for i in range(len(widths) - 1)
        ]
        slopes.append(_end_slope(widths[-1], widths[-2], steepness[-1], steepness[-2]))
    return [SplineSpan(points[i], points[i + 1], slopes[i], slopes[i + 1]) for i in range(len(widths))]

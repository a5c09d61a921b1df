"""The integral of a smooth function over an interval, to nearly all the digits a float has."""

from __future__ import annotations

import math
from collections.abc import Callable
from heapq import heappop, heappush

_NODES = (
    0.991455371120812639206854697526329,
    0.949107912342758524526189684047851,
    0.864864423359769072789712788640926,
    0.741531185599394439863864773280788,
    0.586087235467691130294144691838259,
    0.405845151377397166906606412076961,
    0.207784955007898467600689403773245,
)
_KRONROD = (
    0.022935322010529224963732008058970,
    0.063092092629978553290700663189204,
    0.104790010322250183839876322541518,
    0.140653259715525918745189590510238,
    0.169004726639267902826583426598550,
    0.190350578064785409913256402421014,
    0.204432940075298892414161999234649,
)
_KRONROD_MIDDLE = 0.209482141084727828012999174891714
_GAUSS = (0.129484966168869693270611432679082, 0.279705391489276667901467771423780, 0.381830050505118944950369775488975)
_GAUSS_MIDDLE = 0.417959183673469387755102040816327
# Piessens, de Doncker-Kapenga, Überhuber and Kahaner, QUADPACK, Springer 1983: the rule QK15.

TOLERANCE = 1e-11
MAX_INTERVALS = 200


def _rule(function: Callable[[float], float], low: float, high: float) -> tuple[float, float]:
    """Return the integral by the 15-point rule, and how far it may be off."""
    middle, half = (low + high) / 2, (high - low) / 2
    centre = function(middle)
    kronrod, gauss = _KRONROD_MIDDLE * centre, _GAUSS_MIDDLE * centre
    sums = []
    for index, (node, weight) in enumerate(zip(_NODES, _KRONROD, strict=True)):
        below, above = function(middle - half * node), function(middle + half * node)
        sums.append((weight, below, above))
        kronrod += weight * (below + above)
        if index % 2:
            gauss += _GAUSS[index // 2] * (below + above)
    mean = kronrod / 2
    spread = _KRONROD_MIDDLE * abs(centre - mean)
    spread += sum(weight * (abs(below - mean) + abs(above - mean)) for weight, below, above in sums)
    gap = abs(kronrod - gauss)
    # The gap is the error of the 7-point rule; QUADPACK's law for that of the 15-point rule.
    error = spread * min(1.0, (200 * gap / spread) ** 1.5) if spread else 0.0
    return kronrod * half, error * abs(half)


def integrate(function: Callable[[float], float], low: float, high: float, *, enough: float = 0.0) -> float:
    """Return the integral of *function* from *low* to *high*.

    Parameters
    ----------
    function
        A function of one sign, smooth between the ends; it is not asked at the ends themselves
    low, high
        The ends; *high* below *low* gives the negative
    enough
        An error that does not matter where the integral is only a small part of something larger

    Notes
    -----
    The 7-point Gauss and 15-point Kronrod rules on intervals of which the worst is halved until the error is below
    TOLERANCE times the integral, or *enough*, or there are MAX_INTERVALS. Source: QUADPACK (Springer 1983), QAG with
    the rule QK15.

    Examples
    --------
    >>> integrate(lambda x: x**0.5, 0.0, 9.0)
    18.0000
    """
    value, error = _rule(function, low, high)
    # The worst interval comes first; no two have the same ends, so that only numbers are compared.
    intervals = [(-error, low, high, value)]
    while error > max(enough, TOLERANCE * abs(value)) and len(intervals) < MAX_INTERVALS:
        _, start, end, _ = heappop(intervals)
        middle = (start + end) / 2
        for left, right in ((start, middle), (middle, end)):
            part, gap = _rule(function, left, right)
            heappush(intervals, (-gap, left, right, part))
        value = math.fsum(part for _, _, _, part in intervals)
        error = -math.fsum(gap for gap, _, _, _ in intervals)
    return value

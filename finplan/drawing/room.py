"""Room for a text inside a view: a place in an outline that no line crosses."""

from __future__ import annotations

from collections.abc import Sequence

from finplan.geometry import bounds

_STEPS = 31
Corners = Sequence[complex]


def room_for(width: float, height: float, inside: Sequence[Corners], lines: Sequence[Corners] = ()) -> complex | None:
    """Return the middle of a box that lies inside polygons and off lines, as near to their middle as there is one.

    Parameters
    ----------
    width, height
        Of the box. [mm]
    inside
        Closed polygons; one inside another is a hole in it
    lines
        Open chains of points to keep off

    Examples
    --------
    >>> room_for(4.0, 2.0, [[0j, 20 + 0j, 20 + 10j, 10j]])
    (10+5j)
    """
    left, top, right, bottom = bounds(point for polygon in inside for point in polygon)
    middle = complex((left + right) / 2, (top + bottom) / 2)
    places = [
        complex(left + (right - left) * column / (_STEPS - 1), top + (bottom - top) * row / (_STEPS - 1))
        for column in range(_STEPS)
        for row in range(_STEPS)
    ]
    sides = [(polygon[index - 1], end) for polygon in inside for index, end in enumerate(polygon)]
    sides += [(chain[index - 1], end) for chain in lines for index, end in enumerate(chain) if index]
    for place in sorted(places, key=lambda point: (round(abs(point - middle), 6), point.imag, point.real)):
        if _is_inside(place, inside) and not any(_crosses(side, place, width / 2, height / 2) for side in sides):
            return place
    return None


def _is_inside(point: complex, polygons: Sequence[Corners]) -> bool:
    """Return whether a ray from the point crosses the polygons an odd number of times."""
    crossed = False
    for polygon in polygons:
        for index, end in enumerate(polygon):
            start = polygon[index - 1]
            if (start.imag > point.imag) != (end.imag > point.imag):
                share = (point.imag - start.imag) / (end.imag - start.imag)
                crossed ^= start.real + share * (end.real - start.real) > point.real
    return crossed


def _crosses(side: tuple[complex, complex], centre: complex, half_width: float, half_height: float) -> bool:
    """Return whether a line has a part in a box (clipping of a segment after Liang and Barsky, 1984)."""
    start, run = side[0] - centre, side[1] - side[0]
    low, high = 0.0, 1.0
    for from_, along, half in ((start.real, run.real, half_width), (start.imag, run.imag, half_height)):
        if along == 0:
            if abs(from_) > half:
                return False
            continue
        ends = sorted(((-half - from_) / along, (half - from_) / along))
        low, high = max(low, ends[0]), min(high, ends[1])
    return low <= high

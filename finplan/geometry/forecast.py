"""At which set-back the links of an outline are used up."""

from __future__ import annotations

from finplan.geometry.corner import TooFarError
from finplan.geometry.front import Front

_ROUNDING = 1e-9
_HALVINGS = 40
_STEPS = 100

FrontKey = tuple[int, int, int, float]


class Forecast:
    """When each link of a front will be used up: remembered as long as it keeps the corners at its ends.

    The fronts that it is asked about must be kept: it knows links and corners by their identity.
    """

    def __init__(self) -> None:
        self._left_mm: dict[FrontKey, float] = {}
        self._end_mm: dict[FrontKey, float] = {}

    def next_event(self, front: Front, s: float, to_mm: float) -> tuple[float, set[int]]:
        """Return the set-back at which the next links of a front are used up, and which links.

        It is *to_mm*, and there are none, where all links last as long; it may be less with none where the corners
        could not be followed so far at once.

        Raises
        ------
        TooFarError
            The corners cannot be followed at all.
        """
        count = len(front.links)
        there = min(to_mm, *(link.vanishes_at_mm() for link in front.links))
        for _ in range(_HALVINGS):
            keys = [_key(front, index, there) for index in range(count)]
            try:
                left_mm = [self._left(front, index, keys[index]) for index in range(count)]
                break
            except TooFarError:
                there = s + (there - s) / 2
        else:
            raise TooFarError("it cannot be followed")
        tolerance_mm = _ROUNDING * to_mm
        suspects = [index for index, rest_mm in enumerate(left_mm) if rest_mm <= tolerance_mm]
        ends_mm = {index: self._end(front, index, keys[index], s) for index in suspects}
        event_mm = min(ends_mm.values(), default=there)
        used_up = {
            index
            for index, end_mm in ends_mm.items()
            if end_mm <= event_mm or front.left_mm(index, event_mm) <= tolerance_mm
        }
        return event_mm, used_up

    def _left(self, front: Front, index: int, key: FrontKey) -> float:
        if key not in self._left_mm:
            self._left_mm[key] = front.left_mm(index, key[-1])
        return self._left_mm[key]

    def _end(self, front: Front, index: int, key: FrontKey, s: float) -> float:
        if key not in self._end_mm:
            self._end_mm[key] = _end_mm(front, index, s, key[-1])
        return self._end_mm[key]


def _key(front: Front, index: int, there: float) -> FrontKey:
    before, after = front.corners.get((index - 1) % len(front.links)), front.corners.get(index)
    return id(front.links[index]), id(before), id(after), there


def _end_mm(front: Front, index: int, low: float, high: float) -> float:
    """Return the set-back at which nothing is left of a link: regula falsi, Illinois variant.

    Source: Dowell and Jarratt, BIT 11 (1971) 168.
    """
    at_low, at_high = front.left_mm(index, low), front.left_mm(index, high)
    side = 0
    for _ in range(_STEPS):
        if at_high >= 0 or high - low <= 1e-15 * high or at_low <= 0:
            return high if at_low > 0 else low
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        at_middle = front.left_mm(index, middle)
        if abs(at_middle) <= 1e-14 * high:
            return middle
        if at_middle < 0:
            high, at_high = middle, at_middle
            at_low = at_low / 2 if side == -1 else at_low
            side = -1
        else:
            low, at_low = middle, at_middle
            at_high = at_high / 2 if side == 1 else at_high
            side = 1
    return high

"""Outside corners of an outline that is set back: where two moved links meet."""

from __future__ import annotations

import math
from bisect import bisect, insort
from dataclasses import dataclass, field

from finplan.geometry.outline import Link, cross, turn_between

_SERIES_RAD = 0.01
_NEWTON_STEPS = 12
_LONGEST_STEP = 0.5
_HALVINGS = 40


class TooFarError(Exception):
    """An outline cannot be set back so far."""

    def __init__(self, wrong: str, point: complex | None = None) -> None:
        self.wrong = wrong
        self.point = point
        super().__init__(wrong)


def sharpness(turn_rad: float) -> float:
    """Return by how much more than a smooth bend a mitred corner shortens the way round, for each mm of set-back.

    >>> sharpness(math.pi / 2)          # 2 − π/2
    0.4292
    """
    if turn_rad < _SERIES_RAD:
        # The difference of two like numbers would lose its digits.
        square = turn_rad * turn_rad
        return turn_rad * square / 12 * (1 + square / 10 * (1 + 17 * square / 168))
    return 2 * math.tan(turn_rad / 2) - turn_rad


@dataclass(slots=True)
class Corner:
    """An outside corner: where the moved *before* ends and the moved *after* starts.

    ``known`` holds, by set-back, the parameters on both links where they meet.
    """

    before: Link
    after: Link
    known: dict[float, tuple[float, float]]
    _places: list[float] = field(init=False)

    def __post_init__(self) -> None:
        self._places = sorted(self.known)

    @property
    def even(self) -> bool:
        """Whether it turns by the same angle all along."""
        return self.before.straight and self.after.straight

    def at(self, s: float) -> tuple[float, float]:
        """Return the parameters at which both links meet when set back by *s*.

        Raises
        ------
        TooFarError
            They are not found to meet.
        """
        parameters = self.known.get(s)
        if parameters is None:
            parameters = self._lines(s) if self.even else self._follow(s)
            self.known[s] = parameters
            insort(self._places, s)
        return parameters

    def turn_rad(self, s: float) -> float:
        """Return the angle by which the direction turns at the corner. [rad]"""
        t, u = self.at(s)
        return turn_between(self.before.direction(t), self.after.direction(u))

    def _lines(self, s: float) -> tuple[float, float]:
        start = self.before.at(0.0, s)
        run, other_run = self.before.at(1.0, s) - start, self.after.at(1.0, s) - self.after.at(0.0, s)
        gap, area = self.after.at(0.0, s) - start, cross(run, other_run)
        return cross(gap, other_run) / area, cross(gap, run) / area

    def _follow(self, s: float) -> tuple[float, float]:
        """Follow the corner from the nearest set-back at which it is known."""
        place = bisect(self._places, s)
        here = min(self._places[max(0, place - 1) : place + 1], key=lambda known: abs(known - s))
        t, u = self.known[here]
        step, halvings = s - here, 0
        while here != s:
            there = s if abs(step) >= abs(s - here) else here + step
            solved = self._solve(here, there, t, u)
            if solved is None:
                step, halvings = (there - here) / 2, halvings + 1
                if halvings > _HALVINGS:
                    raise TooFarError("its corner cannot be followed")
                continue
            (t, u), here = solved, there
        return t, u

    def _solve(self, here: float, there: float, t: float, u: float) -> tuple[float, float] | None:
        """Return the parameters at *there*, by Newton's method from those at *here*, or None where it goes astray."""
        before, after = self.before, self.after
        lean = math.tan(turn_between(before.direction(t), after.direction(u)) / 2) * (there - here)
        t_speed, u_speed = before.speed(t, here), after.speed(u, here)
        if t_speed <= 0 or u_speed <= 0:
            return None
        new_t, new_u = t - lean / t_speed, u + lean / u_speed
        settled = False
        for _ in range(_NEWTON_STEPS):
            gap = before.at(new_t, there) - after.at(new_u, there)
            p = before.direction(new_t) * before.speed(new_t, there)
            q = after.direction(new_u) * after.speed(new_u, there)
            area = cross(p, q)
            if area <= 0 or before.speed(new_t, there) <= 0 or after.speed(new_u, there) <= 0:
                return None
            t_step, u_step = cross(gap, q) / area, cross(gap, p) / area
            new_t, new_u = new_t - t_step, new_u - u_step
            if abs(new_t - t) > _LONGEST_STEP or abs(new_u - u) > _LONGEST_STEP:
                return None
            if settled:
                return new_t, new_u
            # The method doubles the digits: after this one more step leaves nothing to gain.
            settled = abs(t_step) + abs(u_step) <= 1e-8
        return None

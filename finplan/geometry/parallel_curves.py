"""All that an outline becomes when it is set back: the level sets of the distance to it, inward.

The way round shrinks by one law: ``dP/ds = −2π − Σ g(θ)``, with ``g(θ) = 2·tan(θ/2) − θ`` for every outside corner that
turns by θ; everything smooth, and every inside corner with the arc that rounds it, has its part in the 2π. So it is
enough to know which outside corners there are, and from which set-back to which: where a link between two of them is
used up they become one, and where a rounded corner is used up a sharp one is born.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TypeVar

from finplan.geometry.corner import Corner, TooFarError
from finplan.geometry.crossing import meets_itself
from finplan.geometry.forecast import Forecast
from finplan.geometry.front import Front, Peak
from finplan.geometry.outline import Outline

ROUNDING = 1e-9
_MAX_STRETCHES = 1500
T = TypeVar("T")
_USED_UP = "its half width of {:.6g} mm is used up"


@dataclass(frozen=True, slots=True)
class SetBackStretch:
    """A range of set-backs over which the front keeps its links."""

    front: Front
    from_mm: float
    to_mm: float


@dataclass(frozen=True, slots=True)
class CornerLife:
    """An outside corner, and the set-backs between which there is such a corner."""

    corner: Corner
    from_mm: float
    to_mm: float


@dataclass(frozen=True, slots=True)
class PeakLife:
    """A highest or lowest place of the front, and the set-backs between which it is one."""

    peak: Peak
    from_mm: float
    to_mm: float


@dataclass
class ParallelCurves:
    """An outline and all that it becomes when it is set back, as far as has been asked."""

    outline: Outline
    _stretches: list[SetBackStretch] = field(default_factory=list)

    @cached_property
    def perimeter_mm(self) -> float:
        """The way round the outline. [mm]"""
        return self.outline.perimeter_mm

    @cached_property
    def area_mm2(self) -> float:
        """What the outline encloses. [mm²]"""
        return self.outline.area_mm2

    @cached_property
    def across_mm(self) -> float:
        """``∮|dy|`` round the outline. [mm]"""
        return self.outline.across_mm

    def front_at(self, s: float) -> Front:
        """Return the front that holds at set-back *s*, which has been reached."""
        return next((stretch.front for stretch in self._stretches if s <= stretch.to_mm), self._stretches[-1].front)

    def corners(self, s: float) -> list[CornerLife]:
        """Return the outside corners up to the set-back *s*.

        Raises
        ------
        TooFarError
            A smooth bend is sharper than the set-back, or half the width is less.
        """
        seen = (
            (id(corner), corner, stretch) for stretch in self._reach(s) for corner in stretch.front.corners.values()
        )
        return [CornerLife(corner, low, min(high, s)) for corner, low, high in _lives(seen)]

    def peaks(self, s: float) -> list[PeakLife]:
        """Return the highest and lowest places up to the set-back *s*.

        Raises
        ------
        TooFarError
            As from ``corners``.
        """
        seen = (
            ((id(peak.link), id(peak.corner), peak.weight), peak, stretch)
            for stretch in self._reach(s)
            for peak in stretch.front.peaks()
        )
        return [PeakLife(peak, low, min(high, s)) for peak, low, high in _lives(seen)]

    def _reach(self, s: float) -> list[SetBackStretch]:
        """Return the stretches from 0 to the set-back *s*."""
        if not self._stretches or self._stretches[-1].to_mm < s:
            self._check_bends(s)
            self._stretches = _follow(Front.of(self.outline), s, whole=self.outline.is_convex())
        return [stretch for stretch in self._stretches if stretch.from_mm < s]

    def _check_bends(self, s: float) -> None:
        bends = (link.sharpest_bend(s) for link in self.outline.links)
        radius_mm, point = min(bends, key=lambda bend: bend[0])
        if s > radius_mm * (1 + ROUNDING):
            raise TooFarError(f"its least radius of curvature is {radius_mm:.6g} mm", point)


def _lives(seen: Iterable[tuple[Hashable, T, SetBackStretch]]) -> list[tuple[T, float, float]]:
    """Return each thing once, with the ends of the stretches in which it was found, which follow on each other."""
    lives: dict[Hashable, tuple[T, float, float]] = {}
    for key, thing, stretch in seen:
        start = lives[key][1] if key in lives else stretch.from_mm
        lives[key] = (thing, start, stretch.to_mm)
    return list(lives.values())


def _follow(front: Front, to_mm: float, *, whole: bool) -> list[SetBackStretch]:
    """Return the stretches from a front's own set-back to *to_mm*; a *whole* one cannot fall into two.

    Whether the moved chain meets itself need be asked at the end only. Every place that it passes loses a turn of the
    chain about it and never gains one, so that what has been passed twice stays wrong way round; and a part that has
    come off cannot be used up unseen, for its last corner would have to turn by more than half a circle.
    """
    stretches: list[SetBackStretch] = []
    forecast = Forecast()
    s = front.from_mm
    while len(stretches) < _MAX_STRETCHES:
        event_mm, used_up = forecast.next_event(front, s, to_mm)
        stretches.append(SetBackStretch(front, s, event_mm))
        if event_mm >= to_mm * (1 - ROUNDING):
            if not whole and meets_itself(front.strands(event_mm)) is not None:
                raise _closes_up(stretches)
            return stretches
        try:
            front = front.without(used_up, event_mm) if used_up else front
        except TooFarError:
            raise TooFarError(_USED_UP.format(event_mm)) if whole else _closes_up(stretches) from None
        s = event_mm
    raise TooFarError("too many of its links are used up")


def _closes_up(stretches: Sequence[SetBackStretch]) -> TooFarError:
    """Return the error about the place where the moved chain first meets itself: before the end of the last stretch."""
    first, last = 0, len(stretches) - 1
    while first < last:
        middle = (first + last) // 2
        if meets_itself(stretches[middle].front.strands(stretches[middle].to_mm)) is None:
            first = middle + 1
        else:
            last = middle
    front, low, high = stretches[first].front, stretches[first].from_mm, stretches[first].to_mm
    for _ in range(30):
        middle_mm = (low + high) / 2
        if meets_itself(front.strands(middle_mm)) is None:
            low = middle_mm
        else:
            high = middle_mm
    return TooFarError(_USED_UP.format(high), meets_itself(front.strands(high)))

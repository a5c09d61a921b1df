"""Whether closed chains of curves cross or touch, themselves or one another, beyond doubt.

Two laws do the work. A chain that turns by less than half a circle in all cannot meet itself. And a curve that turns
by τ in all stays within ``chord/2 · tan(τ/2)`` of its chord, since an inscribed polygon turns no more than its curve
(J. Milnor, Ann. Math. 52 (1950) 248). What they leave open is halved and asked again.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from finplan.geometry.outline import Arc, Link, cross, turn_between

TOUCHING = 1e-9
"""What lies nearer together than this share of the whole touches."""
MAX_QUESTIONS = 100_000
"""Chains that are still not told apart then run as good as on top of each other."""


@dataclass(frozen=True, slots=True)
class Strand:
    """A stretch of a link, set back."""

    link: Link
    low: float = 0.0
    high: float = 1.0
    set_back_mm: float = 0.0

    @property
    def start(self) -> complex:
        """Its first point."""
        return self.link.at(self.low, self.set_back_mm)

    @property
    def end(self) -> complex:
        """Its last point."""
        return self.link.at(self.high, self.set_back_mm)

    def turn_rad(self) -> float:
        """Return how far it turns, either way. [rad]"""
        if self.link.straight:
            return 0.0
        return abs(turn_between(self.link.direction(self.low), self.link.direction(self.high)))

    def halves(self) -> tuple[Strand, Strand]:
        """Return its two halves."""
        middle = (self.low + self.high) / 2
        return (
            Strand(self.link, self.low, middle, self.set_back_mm),
            Strand(self.link, middle, self.high, self.set_back_mm),
        )


class _Chain:
    """A run of strands, or a part of one, with the box that holds it and its place in the turning of the whole."""

    __slots__ = ("_halves", "bottom", "end", "from_rad", "left", "right", "start", "strands", "to_rad", "top")

    left: float
    right: float
    bottom: float
    top: float
    start: complex
    end: complex

    def __init__(self, strands: Sequence[Strand], from_rad: Sequence[float], to_rad: Sequence[float]) -> None:
        self.strands = strands
        self.from_rad, self.to_rad = from_rad[0], to_rad[-1]
        self._halves: tuple[_Chain, _Chain] | None = None
        if len(strands) > 1:
            half = len(strands) // 2
            one = _Chain(strands[:half], from_rad[:half], to_rad[:half])
            other = _Chain(strands[half:], from_rad[half:], to_rad[half:])
            self._halves = one, other
            self.left, self.right = min(one.left, other.left), max(one.right, other.right)
            self.bottom, self.top = min(one.bottom, other.bottom), max(one.top, other.top)
            return
        # A strand is steady in x and in y: its ends bound it.
        self.start, self.end = strands[0].start, strands[0].end
        self.left, self.right = sorted((self.start.real, self.end.real))
        self.bottom, self.top = sorted((self.start.imag, self.end.imag))

    @property
    def is_leaf(self) -> bool:
        return len(self.strands) == 1

    @property
    def size(self) -> float:
        return max(self.right - self.left, self.top - self.bottom)

    @property
    def deviation(self) -> float:
        """How far a single strand may leave its chord."""
        return abs(self.end - self.start) / 2 * math.tan((self.to_rad - self.from_rad) / 2)

    def halves(self) -> tuple[_Chain, _Chain]:
        if self._halves is None:
            one, other = self.strands[0].halves()
            middle_rad = self.from_rad + one.turn_rad()
            self._halves = (
                _Chain([one], [self.from_rad], [middle_rad]),
                _Chain([other], [middle_rad], [self.to_rad]),
            )
        return self._halves


def _chain(strands: Sequence[Strand]) -> tuple[_Chain, float]:
    """Return the strands of a closed chain as one, and how far it turns all round, either way."""
    from_rad, to_rad = [], []
    place = 0.0
    for index, strand in enumerate(strands):
        from_rad.append(place)
        place += strand.turn_rad()
        to_rad.append(place)
        after = strands[(index + 1) % len(strands)]
        place += abs(turn_between(strand.link.direction(strand.high), after.link.direction(after.low)))
    return _Chain(strands, from_rad, to_rad), place


class _Meetings:
    """A search for a place where two chains meet."""

    def __init__(self, around_rad: float | None, size: float) -> None:
        self.around_rad = around_rad
        self.near = TOUCHING * size
        self.questions = 0

    def within(self, chain: _Chain) -> complex | None:
        """Return where a chain meets itself."""
        if chain.to_rad - chain.from_rad < math.pi or chain.is_leaf:
            return None
        one, other = chain.halves()
        for place in (self.within(one), self.within(other)):
            if place is not None:
                return place
        return self.between(one, other)

    def between(self, one: _Chain, other: _Chain) -> complex | None:
        """Return where two chains meet."""
        pairs = [(one, other)]
        while pairs:
            one, other = pairs.pop()
            self.questions += 1
            if self._apart(one, other):
                continue
            small = one.size + other.size <= self.near
            if small or self.questions > MAX_QUESTIONS or (one.is_leaf and other.is_leaf and self._meet(one, other)):
                return _middle(one, other)
            # Runs before single strands, then the larger one.
            if (not one.is_leaf, one.size) >= (not other.is_leaf, other.size):
                pairs += [(half, other) for half in one.halves()]
            else:
                pairs += [(one, half) for half in other.halves()]
        return None

    def _apart(self, one: _Chain, other: _Chain) -> bool:
        if one.right < other.left or other.right < one.left or one.top < other.bottom or other.top < one.bottom:
            return True
        if self.around_rad is not None:
            between_rad = other.to_rad - one.from_rad
            outside_rad = self.around_rad - other.from_rad + one.to_rad
            if between_rad < math.pi or outside_rad < math.pi:
                return True
        if one.is_leaf and other.is_leaf:
            gap = _gap(one.start, one.end, other.start, other.end)
            if gap > one.deviation + other.deviation + self.near:
                return True
            return _circles_gap(one.strands[0], other.strands[0]) > self.near
        return False

    def _meet(self, one: _Chain, other: _Chain) -> bool:
        """Return whether two strands are as good as lines; they are known not to lie apart."""
        return one.deviation + other.deviation <= self.near


def _middle(one: _Chain, other: _Chain) -> complex:
    """Return the middle of what the boxes of two chains share: near where the chains meet."""
    return complex(
        (max(one.left, other.left) + min(one.right, other.right)) / 2,
        (max(one.bottom, other.bottom) + min(one.top, other.top)) / 2,
    )


def _circles_gap(one: Strand, other: Strand) -> float:
    """Return the distance between the whole circles of two arcs, one round the other or side by side.

    It is negative where they cross, and where either strand is no arc. Arcs that run close together for long, such as
    a round hole in a round panel, need no halving.
    """
    if not (isinstance(one.link, Arc) and isinstance(other.link, Arc)):
        return -math.inf
    between = abs(one.link.centre - other.link.centre)
    radius = abs(one.start - one.link.centre)
    other_radius = abs(other.start - other.link.centre)
    return max(abs(radius - other_radius) - between, between - radius - other_radius)


def _gap(a: complex, b: complex, c: complex, d: complex) -> float:
    """Return the distance between two line segments."""
    ab, cd = b - a, d - c
    if cross(ab, c - a) * cross(ab, d - a) < 0 and cross(cd, a - c) * cross(cd, b - c) < 0:
        return 0.0
    return min(_distance(a, c, d), _distance(b, c, d), _distance(c, a, b), _distance(d, a, b))


def _distance(point: complex, start: complex, end: complex) -> float:
    """Return the distance from a point to a line segment."""
    run = end - start
    square = abs(run) ** 2
    if square == 0:
        return abs(point - start)
    share = ((point - start) * run.conjugate()).real / square
    return abs(point - start - run * min(1.0, max(0.0, share)))


def meets_itself(strands: Sequence[Strand]) -> complex | None:
    """Return a point near which a closed chain of steady strands crosses or touches itself, or None."""
    chain, around_rad = _chain(strands)
    return _Meetings(around_rad, chain.size).within(chain)


def meet(one: Sequence[Strand], other: Sequence[Strand]) -> complex | None:
    """Return a point near which two closed chains of steady strands cross or touch, or None."""
    first, second = _chain(one)[0], _chain(other)[0]
    return _Meetings(None, max(first.size, second.size)).between(first, second)


def holds(strands: Sequence[Strand], point: complex) -> bool:
    """Return whether a closed chain of steady strands goes round *point*, which does not lie on it."""
    inside = False
    for strand in strands:
        start, end = strand.start, strand.end
        if (start.imag > point.imag) == (end.imag > point.imag):
            continue
        if max(start.real, end.real) < point.real:
            continue
        if min(start.real, end.real) > point.real or _passes_right(strand, point):
            inside = not inside
    return inside


def _passes_right(strand: Strand, point: complex) -> bool:
    """Return whether a strand passes a point's height to the right of it."""
    low, high = strand.low, strand.high
    rising = strand.end.imag > strand.start.imag
    for _ in range(60):
        middle = (low + high) / 2
        if (strand.link.at(middle, strand.set_back_mm).imag > point.imag) == rising:
            high = middle
        else:
            low = middle
    return strand.link.at((low + high) / 2, strand.set_back_mm).real > point.real

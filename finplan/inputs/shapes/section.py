"""A section made of straight lines and circular arcs: its lengths, its area and whether it crosses itself."""

from __future__ import annotations

import math
from dataclasses import dataclass

_TOUCHING_MM = 1e-7
_SAME_MM = 1e-3
# Where two stretches join in one smooth line, rounding puts their meeting a little off the joint.


@dataclass(frozen=True, slots=True)
class Point:
    """A point of a section. In mm."""

    x: float
    y: float

    def distance(self, other: Point) -> float:
        """The distance to another point. [mm]"""
        return math.hypot(self.x - other.x, self.y - other.y)


@dataclass(frozen=True, slots=True)
class SectionLine:
    """A stretch of the section's outline: straight, or an arc that rises above its chord, to the right of its way."""

    start: Point
    end: Point
    rise_mm: float = 0.0
    """Positive to the right of the way from start to end."""

    @property
    def chord_mm(self) -> float:
        """The straight distance between its ends. [mm]"""
        return self.start.distance(self.end)

    @property
    def turn_rad(self) -> float:
        """The angle that the arc goes round, positive as the rise is. [rad]"""
        return 4 * math.atan2(2 * self.rise_mm, self.chord_mm)

    @property
    def radius_mm(self) -> float:
        """The arc's radius. [mm]"""
        return ((self.chord_mm / 2) ** 2 + self.rise_mm**2) / (2 * abs(self.rise_mm))

    @property
    def length_mm(self) -> float:
        """Along the stretch. [mm]"""
        return self.radius_mm * abs(self.turn_rad) if self.rise_mm else self.chord_mm

    @property
    def segment_mm2(self) -> float:
        """Between the arc and its chord, positive as the rise is. [mm²]"""
        if not self.rise_mm:
            return 0.0
        turn = self.turn_rad
        return self.radius_mm**2 * (turn - math.sin(turn)) / 2

    @property
    def centre(self) -> Point:
        """The arc's centre."""
        back = self.radius_mm - abs(self.rise_mm)
        sign = math.copysign(1.0, self.rise_mm)
        # (dy, -dx) points to the right; the centre lies on the other side of the chord from the rise.
        dx, dy = (self.end.x - self.start.x) / self.chord_mm, (self.end.y - self.start.y) / self.chord_mm
        middle_x, middle_y = (self.start.x + self.end.x) / 2, (self.start.y + self.end.y) / 2
        return Point(middle_x - sign * back * dy, middle_y + sign * back * dx)

    def holds(self, point: Point) -> bool:
        """Whether a point of the whole line or circle lies on this stretch of it."""
        if not self.rise_mm:
            along = (point.x - self.start.x) * (self.end.x - self.start.x)
            along += (point.y - self.start.y) * (self.end.y - self.start.y)
            return -_TOUCHING_MM <= along / self.chord_mm <= self.chord_mm + _TOUCHING_MM
        centre, sign = self.centre, math.copysign(1.0, self.rise_mm)
        from_start = math.atan2(point.y - centre.y, point.x - centre.x)
        from_start -= math.atan2(self.start.y - centre.y, self.start.x - centre.x)
        # A rise to the right goes round counter-clockwise.
        turned = (sign * from_start) % (2 * math.pi)
        slack = _TOUCHING_MM / self.radius_mm
        return turned <= abs(self.turn_rad) + slack or turned >= 2 * math.pi - slack


@dataclass(frozen=True, slots=True)
class Section:
    """An outline of stretches, closed by a straight back from the last to the first."""

    face: tuple[SectionLine, ...]

    @property
    def back(self) -> SectionLine:
        """The straight line that closes it."""
        return SectionLine(self.face[-1].end, self.face[0].start)

    @property
    def face_mm(self) -> float:
        """Along the face. [mm]"""
        return math.fsum(line.length_mm for line in self.face)

    @property
    def back_mm(self) -> float:
        """Along the back. [mm]"""
        return self.back.chord_mm

    @property
    def signed_mm2(self) -> float:
        """The area inside, positive where the outline goes round it counter-clockwise. [mm²]"""
        origin = self.face[0].start
        polygon = math.fsum(
            (line.start.x - origin.x) * (line.end.y - origin.y) - (line.end.x - origin.x) * (line.start.y - origin.y)
            for line in self.face
        )
        return polygon / 2 + math.fsum(line.segment_mm2 for line in self.face)

    @property
    def area_mm2(self) -> float:
        """The area inside. [mm²]"""
        return abs(self.signed_mm2)


def crossing(section: Section) -> tuple[int, int] | None:
    """Return the first two stretches that meet anywhere but where one ends and the next begins, or None.

    The back counts as the stretch after the last.
    """
    lines = (*section.face, section.back)
    discs = [_disc(line) for line in lines]
    for second in range(len(lines)):
        for first in range(second):
            (one, reach_mm), (other, other_reach_mm) = discs[first], discs[second]
            if one.distance(other) > reach_mm + other_reach_mm + _TOUCHING_MM:
                continue
            shared = []
            if second == first + 1:
                shared.append(lines[first].end)
            if first == 0 and second == len(lines) - 1:
                shared.append(lines[first].start)
            if _meet(lines[first], lines[second], shared):
                return first, second
    return None


def _disc(line: SectionLine) -> tuple[Point, float]:
    """Return the middle of a stretch's chord, and how far from it the stretch reaches. [mm]"""
    middle = Point((line.start.x + line.end.x) / 2, (line.start.y + line.end.y) / 2)
    return middle, max(line.chord_mm / 2, abs(line.rise_mm))


def _meet(one: SectionLine, other: SectionLine, shared: list[Point]) -> bool:
    """Whether two stretches have a point in common besides the shared ends."""
    points = [point for point in _common(one, other) if one.holds(point) and other.holds(point)]
    points += [end for end in (one.start, one.end) if _on(other, end)]
    points += [end for end in (other.start, other.end) if _on(one, end)]
    return any(all(point.distance(end) > _SAME_MM for end in shared) for point in points)


def _on(line: SectionLine, point: Point) -> bool:
    if line.rise_mm:
        off = abs(point.distance(line.centre) - line.radius_mm)
    else:
        dx, dy = line.end.x - line.start.x, line.end.y - line.start.y
        off = abs(dx * (point.y - line.start.y) - dy * (point.x - line.start.x)) / line.chord_mm
    return off <= _TOUCHING_MM and line.holds(point)


def _common(one: SectionLine, other: SectionLine) -> list[Point]:
    """Return where the whole lines and circles of two stretches meet; those that coincide give no point."""
    if one.rise_mm and other.rise_mm:
        return _circles(one.centre, one.radius_mm, other.centre, other.radius_mm)
    if one.rise_mm or other.rise_mm:
        arc, line = (one, other) if one.rise_mm else (other, one)
        return _circle_and_line(arc.centre, arc.radius_mm, line)
    dx, dy = one.end.x - one.start.x, one.end.y - one.start.y
    ex, ey = other.end.x - other.start.x, other.end.y - other.start.y
    crossed = dx * ey - dy * ex
    if abs(crossed) <= 1e-12 * one.chord_mm * other.chord_mm:
        return []
    share = ((other.start.x - one.start.x) * ey - (other.start.y - one.start.y) * ex) / crossed
    return [Point(one.start.x + share * dx, one.start.y + share * dy)]


def _circle_and_line(centre: Point, radius: float, line: SectionLine) -> list[Point]:
    dx, dy = (line.end.x - line.start.x) / line.chord_mm, (line.end.y - line.start.y) / line.chord_mm
    along = (centre.x - line.start.x) * dx + (centre.y - line.start.y) * dy
    foot = Point(line.start.x + along * dx, line.start.y + along * dy)
    off = centre.distance(foot)
    if off > radius:
        return []
    half = math.sqrt((radius - off) * (radius + off))
    return [Point(foot.x + sign * half * dx, foot.y + sign * half * dy) for sign in (-1, 1)]


def _circles(one: Point, radius: float, other: Point, other_radius: float) -> list[Point]:
    apart = one.distance(other)
    if apart <= _TOUCHING_MM or not abs(radius - other_radius) <= apart <= radius + other_radius:
        return []
    along = (apart**2 + radius**2 - other_radius**2) / (2 * apart)
    half = math.sqrt(max(0.0, (radius - along) * (radius + along)))
    dx, dy = (other.x - one.x) / apart, (other.y - one.y) / apart
    foot = Point(one.x + along * dx, one.y + along * dy)
    return [Point(foot.x - sign * half * dy, foot.y + sign * half * dx) for sign in (-1, 1)]

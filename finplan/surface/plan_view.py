"""The outline of each panel shape, in mm, the grain along x."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from functools import singledispatch

from finplan.geometry import Arc, EllipseArc, Line, Link, Outline, Strand, holds, meet, meets_itself, outline_of
from finplan.inputs.shapes import Disc, Ellipse, OutlinePanel, Panel, Polygon, Rectangle, Stadium
from finplan.problems import Finding, FindingsError
from finplan.reading import MAX_LENGTH_MM, MIN_LENGTH_MM

_QUARTER = math.pi / 2
_BACK_RAD = 1e-4
_FLAT = 1e-9


@dataclass(frozen=True, slots=True)
class PlanView:
    """A panel seen from above: its outline and its holes."""

    outline: Outline
    holes: tuple[Outline, ...] = ()
    origin_mm: complex | None = None
    """Where the origin of the outline lies in the path that drew it."""

    def place(self, point: complex | None) -> str:
        """Return where a point lies, as whoever drew the path knows it; nothing for shapes that have no path."""
        if point is None or self.origin_mm is None:
            return ""
        seen = point + self.origin_mm
        return f" near ({seen.real:.4g}, {seen.imag:.4g}) mm"


@singledispatch
def plan_view(part: Panel) -> PlanView:
    """Return outline and holes of a panel.

    Raises
    ------
    FindingsError
        The path of an outline crosses itself or does not make a panel with holes.
    """
    raise NotImplementedError(type(part))


@plan_view.register
def _(part: Disc) -> PlanView:
    if part.hole is None:
        return PlanView(_circle(part.diameter_mm / 2))
    if part.hole.diameter_mm >= part.diameter_mm:
        wrong = f"the hole is {part.hole.diameter_mm:.6g} mm across, the disc {part.diameter_mm:.6g} mm"
        raise FindingsError([Finding(("hole",), wrong, "expected a smaller hole")])
    return PlanView(_circle(part.diameter_mm / 2), (_circle(part.hole.diameter_mm / 2),))


def _circle(radius_mm: float) -> Outline:
    return Outline.of([Arc(0j, radius_mm, 0.0, 2 * math.pi)])


@plan_view.register
def _(part: Ellipse) -> PlanView:
    along, across = part.length_mm / 2, part.width_mm / 2
    return PlanView(_turned(part, [EllipseArc(0j, along + 0j, across * 1j, 0.0, 2 * math.pi)]))


@plan_view.register
def _(part: Rectangle) -> PlanView:
    return PlanView(_turned(part, _rounded_rectangle(part.length_mm, part.width_mm, part.corners_mm)))


@plan_view.register
def _(part: Stadium) -> PlanView:
    return PlanView(_turned(part, _rounded_rectangle(part.length_mm, part.width_mm, part.width_mm / 2)))


def _turned(part: Panel, links: list[Link]) -> Outline:
    """Return the outline of *links* that lie along x, turned where the grain runs across."""
    if part.grain == "length":
        return Outline.of(links)
    return Outline.of([_quarter_turned(link) for link in links])


def _quarter_turned(link: Link) -> Link:
    match link:
        case Line(start, end):
            return Line(start * 1j, end * 1j)
        case Arc(centre, radius_mm, from_rad, turn_rad):
            return Arc(centre * 1j, radius_mm, from_rad + _QUARTER, turn_rad)
        case EllipseArc(centre, along, across, from_rad, sweep_rad):
            return EllipseArc(centre * 1j, along * 1j, across * 1j, from_rad, sweep_rad)
    raise NotImplementedError(type(link))


def _rounded_rectangle(length_mm: float, width_mm: float, radius_mm: float) -> list[Link]:
    x, y = max(0.0, length_mm / 2 - radius_mm), max(0.0, width_mm / 2 - radius_mm)
    links: list[Link] = []
    for quarter, corner in enumerate((complex(x, y), complex(-x, y), complex(-x, -y), complex(x, -y))):
        arc = Arc(corner, radius_mm, quarter * _QUARTER, _QUARTER)
        if radius_mm:
            links.append(arc)
        following = (complex(-x, y), complex(-x, -y), complex(x, -y), complex(x, y))[quarter]
        out = radius_mm * 1j**quarter * 1j
        if abs(following - corner) > _FLAT * length_mm:
            links.append(Line(corner + out, following + out))
    return links


@plan_view.register
def _(part: Polygon) -> PlanView:
    if part.across_corners_mm is not None:
        radius_mm = part.across_corners_mm / 2
    else:
        radius_mm = (part.across_flats_mm or 0.0) / 2 / math.cos(math.pi / part.sides)
    corners = [cmath.rect(radius_mm, 2 * math.pi * index / part.sides) for index in range(part.sides)]
    return PlanView(Outline(tuple(Line(corners[index - 1], corner) for index, corner in enumerate(corners))))


@plan_view.register
def _(part: OutlinePanel) -> PlanView:
    path = part.path
    points = [segment.end for subpath in path for segment in subpath.segments]
    origin = complex(
        (min(p.real for p in points) + max(p.real for p in points)) / 2,
        (min(p.imag for p in points) + max(p.imag for p in points)) / 2,
    )
    plan_views = [
        _simple(part, outline_of(subpath, part.unit_mm, origin), number, origin * part.unit_mm)
        for number, subpath in enumerate(path, start=1)
    ]
    chains = [view.outline for view in plan_views]
    outer = max(chains, key=lambda chain: chain.area_mm2)
    holes = tuple(chain for chain in chains if chain is not outer)
    _check_holes(part, outer, holes)
    return PlanView(outer, holes, origin * part.unit_mm)


_LINES = {"path": "the path", "points": "the line through the points", "offsets": "the line through the offsets"}


def _refuse(part: OutlinePanel, wrong: str, expected: str) -> FindingsError:
    return FindingsError([Finding((part.drawn_by,), wrong, expected)])


def _simple(part: OutlinePanel, chain: Outline, number: int, origin_mm: complex) -> PlanView:
    """Return a closed chain after checking that it goes round once and has a size that a panel can have."""
    view = PlanView(chain, (), origin_mm)
    name = f"closed part {number} of the path" if number > 1 else _LINES[part.drawn_by]
    strands = [Strand(link) for link in chain.links]
    points = [strand.start for strand in strands]
    if not points:
        raise _refuse(part, f"{name} encloses nothing", "expected an area")
    across_mm = max(
        max(p.real for p in points) - min(p.real for p in points),
        max(p.imag for p in points) - min(p.imag for p in points),
    )
    if not MIN_LENGTH_MM <= across_mm <= MAX_LENGTH_MM:
        raise _refuse(part, f"{name} is {across_mm:.4g} mm across", "expected 0.001 mm to 100 m; is the unit right?")
    for link, turn_rad in zip(chain.links, chain.corners_rad(), strict=True):
        if abs(turn_rad) > math.pi - _BACK_RAD:
            raise _refuse(part, f"{name} turns back on itself{view.place(link.at(1.0))}", "expected a corner")
    meeting = meets_itself(strands)
    if meeting is not None:
        raise _refuse(
            part, f"{name} crosses or touches itself{view.place(meeting)}", "expected an outline that goes round once"
        )
    if chain.area_mm2 <= _FLAT * across_mm**2:
        raise _refuse(part, f"{name} encloses {chain.area_mm2:.4g} mm²", "expected an outline that encloses an area")
    return view


def _check_holes(part: OutlinePanel, outer: Outline, holes: tuple[Outline, ...]) -> None:
    """Check that holes lie inside the outline and apart."""
    strands = [[Strand(link) for link in chain.links] for chain in (outer, *holes)]
    for index, hole in enumerate(strands[1:], start=1):
        for other, chain in enumerate(strands[:index]):
            if meet(chain, hole) is not None:
                raise _refuse(
                    part, "two closed parts of the path cross or touch", "expected holes that lie apart, inside"
                )
            within = holds(chain, hole[0].start)
            if other == 0 and not within:
                raise _refuse(
                    part, "a closed part of the path lies outside the largest", "expected one outline and holes"
                )
            if other and (within or holds(hole, chain[0].start)):
                raise _refuse(part, "a hole lies in a hole", "expected holes that lie apart")

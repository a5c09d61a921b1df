"""The lines of a board: its front, its near end and, where it is bent, its plan. In mm, y upwards."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from finplan.geometry import Arc, ArcTo, Line, LineTo, Outline, Segment, Subpath, arc, closed_of, line, outline_path
from finplan.inputs.shapes import Board, Groove


@dataclass(frozen=True, slots=True)
class PlacedGroove:
    """A groove and where it is drawn: how far its near side is from the top edge, or from the front. [mm]"""

    groove: Groove
    from_mm: float


def front_path(part: Board, set_back_mm: float = 0.0) -> Subpath:
    """Return the front, flat, the near end at x = 0; a set-back moves both long edges inwards, square to them."""
    length, width = part.length_mm, part.width_mm
    top = width - set_back_mm
    if part.arch:
        radius = (length**2 / 4 + part.arch.rise_mm**2) / (2 * part.arch.rise_mm)
        # A set-back arch is a wider circle about the same centre, and meets the ends higher up.
        wider, centre = radius + set_back_mm, complex(length / 2, part.arch.rise_mm - radius)
        half_rad = math.asin(length / 2 / wider)
        start = centre + cmath.rect(wider, math.pi / 2 + half_rad)
        bottom = arc(start, centre, -2 * half_rad)
    else:
        fall = width - part.far_width_mm
        low = set_back_mm * math.hypot(1.0, fall / length)
        bottom = line(complex(0.0, low), complex(length, fall + low))
    return closed_of(bottom, line(complex(length, top), complex(0.0, top)))


_STEPS = 64
"""So many straight lines stand for a back that nears the bent front."""


def flat_plan(part: Board) -> Subpath:
    """Return a straight board from above, the near end at x = 0, the front above."""
    length, thick = part.length_mm, part.thickness_mm
    far = thick - part.far_thickness_mm
    return closed_of(line(0j, complex(length, far)), line(complex(length, thick), complex(0.0, thick)))


def bent_plan(part: Board) -> Subpath:
    """Return a bent board from above, the front outside, about the upright axis x = 0; the near end at the left."""
    radius = part.radius_mm or 0.0
    angle = part.length_mm / radius
    start = math.pi / 2 + angle / 2
    outer = Arc(0j, radius, start, -angle)
    if part.thins:
        shares = [step / _STEPS for step in range(_STEPS + 1)]
        fall = part.thickness_mm - part.far_thickness_mm
        back = [cmath.rect(radius - part.thickness_mm + fall * share, start - angle * share) for share in shares]
        links = [Line(a, b) for a, b in pairwise([outer.at(1.0), *back[::-1], outer.at(0.0)])]
        return outline_path(Outline.of([outer, *links]))
    inner = Arc(0j, radius - part.thickness_mm, start - angle, angle)
    ends = Line(outer.at(1.0), inner.at(0.0)), Line(inner.at(1.0), outer.at(0.0))
    return outline_path(Outline.of([outer, ends[0], inner, ends[1]]))


def placed_grooves(part: Board) -> list[PlacedGroove]:
    """Return the grooves where they are drawn, evenly spread, since the file does not say where they lie.

    Those in the front and those in the back lie side by side where there is room; where there is none they cannot cut
    through, or the board would have been refused.
    """
    slope = math.hypot(1.0, (part.width_mm - part.far_width_mm) / part.length_mm)
    narrowest = part.far_width_mm - (part.arch.rise_mm if part.arch else 0.0)
    room = (part.eased_mm, narrowest - slope * part.eased_mm)
    in_faces = [groove for groove in part.grooves if groove.face in ("front", "back")]
    if sum(groove.width_mm for groove in in_faces) <= room[1] - room[0]:
        grooves = _evenly(in_faces, *room)
    else:
        grooves = [
            placed
            for face in ("front", "back")
            for placed in _evenly([groove for groove in in_faces if groove.face == face], *room)
        ]
    through = (part.eased_mm, part.thickness_mm - part.eased_mm)
    for face in ("top-edge", "bottom-edge"):
        grooves += _evenly([groove for groove in part.grooves if groove.face == face], *through)
    return grooves


def _evenly(grooves: Sequence[Groove], low: float, high: float) -> list[PlacedGroove]:
    gap = (high - low - sum(groove.width_mm for groove in grooves)) / (len(grooves) + 1)
    placed: list[PlacedGroove] = []
    at = low + gap
    for groove in grooves:
        placed.append(PlacedGroove(groove, at))
        at += groove.width_mm + gap
    return placed


def end_section(part: Board) -> Subpath:
    """Return the section at the near end: the top edge at x = 0, the front above, at y = thickness."""
    width, thick, eased = part.width_mm, part.thickness_mm, part.eased_mm
    grooves = placed_grooves(part)
    # Each side with the way along it; its grooves by how far they are from where it starts.
    sides = (
        ("front", complex(0.0, thick), 1 + 0j, width, False),
        ("bottom-edge", complex(width, thick), -1j, thick, False),
        ("back", complex(width, 0.0), -1 + 0j, width, True),
        ("top-edge", 0j, 1j, thick, True),
    )
    segments: list[Segment] = []
    start = complex(eased, thick)
    for face, corner, along, length, reverse in sides:
        mine = [placed for placed in grooves if placed.groove.face == face]
        segments += _side(corner, along, mine, length, reverse=reverse)
        before, after = corner + along * (length - eased), corner + along * length - 1j * along * eased
        segments.append(LineTo(before))
        if eased and part.arris:
            rounded = part.arris.kind == "roundover"
            segments.append(ArcTo((eased, eased), 0.0, False, False, after) if rounded else LineTo(after))
    return Subpath(start, tuple(segments))


def _side(
    corner: complex, along: complex, grooves: Iterable[PlacedGroove], length: float, *, reverse: bool
) -> list[Segment]:
    """Return the grooves on the way along one side of the section, clockwise; the wood is at its right."""
    inwards = -1j * along
    cuts = sorted(
        (length - placed.from_mm - placed.groove.width_mm if reverse else placed.from_mm, placed.groove.width_mm,
         placed.groove.depth_mm)
        for placed in grooves
    )  # fmt: skip
    points = [
        corner + along * (at + across) + inwards * deep
        for at, width, depth in cuts
        for across, deep in ((0.0, 0.0), (0.0, depth), (width, depth), (width, 0.0))
    ]
    return [LineTo(point) for point in points]


def groove_lines(part: Board, placed: PlacedGroove) -> list[tuple[complex, complex]]:
    """Return a groove's lines on the front, from the near end to the far end."""
    length, width = part.length_mm, part.width_mm
    fall = width - part.far_width_mm
    groove = placed.groove
    if groove.face == "bottom-edge":
        deep = groove.depth_mm * math.hypot(1.0, fall / length)
        return [(complex(0.0, deep), complex(length, fall + deep))]
    if groove.face == "top-edge":
        heights = [width - groove.depth_mm]
    else:
        heights = [width - placed.from_mm, width - placed.from_mm - groove.width_mm]
    return [(complex(0.0, height), complex(length, height)) for height in heights]


def groove_mouth(part: Board, placed: PlacedGroove) -> complex:
    """Return the middle of a groove's mouth on the section at the near end."""
    middle = placed.from_mm + placed.groove.width_mm / 2
    match placed.groove.face:
        case "front":
            return complex(middle, part.thickness_mm - placed.groove.depth_mm)
        case "back":
            return complex(middle, placed.groove.depth_mm)
        case "top-edge":
            return complex(placed.groove.depth_mm / 2, part.thickness_mm - middle)
        case _:
            return complex(part.width_mm - placed.groove.depth_mm / 2, part.thickness_mm - middle)

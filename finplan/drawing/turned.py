"""Turned parts: lying, the top end at the left, with the length of every element below and its diameters above."""

from __future__ import annotations

from collections.abc import Sequence
from functools import singledispatch
from itertools import pairwise

from finplan.drawing.callout import Callout, callout_height, size_at
from finplan.drawing.canvas import Canvas, Pen
from finplan.drawing.dimension import OFF_MM, chain, level_size
from finplan.drawing.ends import END_MM, draw_ends, room_for_ends
from finplan.drawing.lettering import across, said, size
from finplan.drawing.silhouette import silhouette, starts_mm
from finplan.drawing.subject import Subject
from finplan.drawing.told import Told, told, told_of
from finplan.drawing.view import place_view
from finplan.geometry import Pose, bounds, flattened, line
from finplan.inputs.shapes import Bead, Block, Cove, Curve, Cylinder, Element, Taper, Turned
from finplan.quantity import Units

_HIGHEST_MM = 42.0
_MAX_POINTS = 5
"""A curve through more points is written out below the drawing."""
_MAX_LISTED = 60
ITS_KIND = "*"
"""In a path to an element's field, for what the file calls the element: a fillet is a cylinder."""


def turned_words(part: Turned, units: Units) -> str:
    """Return a turned part in words."""
    return f"turned, {said(starts_mm(part)[-1], units=units)} long, drawn lying, top end left"


def draw_turned(part: Turned, subject: Subject, canvas: Canvas) -> None:
    """Draw a turned part."""
    box = bounds(flattened(silhouette(part)))
    names = _face_callouts(part, subject)
    sizes = _diameters(part, subject.units)
    complete = callout_height([*names, *sizes]) is not None
    placed = place_view(
        canvas,
        "from the side",
        box,
        [*names, *sizes] if complete else names,
        highest=_HIGHEST_MM,
        before=END_MM,
        behind=END_MM,
        clear=room_for_ends(box[2], box[3] - box[1], _HIGHEST_MM),
    )
    _draw_outline(part, placed, canvas)
    draw_ends(canvas, placed.at(0j), placed.at(complex(box[2], 0.0)))
    low = box[1]
    complete &= not _draw_lengths(part, subject.units, placed, low, canvas)
    if not complete or any(isinstance(element, Curve) and _is_long(element) for element in part.elements):
        canvas.notes(_list(part, subject.units))
    covered = [name for name in ("top-end", "foot-end") if name in subject.covered]
    if covered:
        canvas.notes([f"covered: {', '.join(covered)}"])


def _draw_outline(part: Turned, placed: Pose, canvas: Canvas) -> None:
    starts = starts_mm(part)
    for (start, end), element in zip(pairwise(starts), part.elements, strict=True):
        if isinstance(element, Block):
            half = element.side_mm / 2
            for side in (half, -half):
                canvas.line(placed.at(complex(start, -side)), placed.at(complex(end, side)), pen=Pen.DIMENSION)
    for x, (before, after) in zip(starts[1:], pairwise(part.elements), strict=False):
        half = min(before.foot_section.across_mm, after.top_section.across_mm) / 2
        canvas.line(placed.at(complex(x, -half)), placed.at(complex(x, half)), pen=Pen.VISIBLE)
    canvas.path(placed.path(silhouette(part)), Pen.OUTLINE)
    canvas.path(line(placed.at(0j) - 1.5, placed.at(complex(starts[-1], 0.0)) + 1.5), Pen.CENTRE)


def _draw_lengths(part: Turned, units: Units, placed: Pose, low: float, canvas: Canvas) -> list[str]:
    """Draw the chain of lengths and the whole length, and return what found no room in the chain."""
    stops = _stops(part)
    y = placed.at(complex(0.0, low)).imag + OFF_MM
    missing: list[str] = []
    if len(stops) > 2:
        points = [placed.at(complex(stop, -_radius_at(part, stop))) for stop in stops]
        missing = chain(canvas, points, _lengths(part, stops, units), y)
        y = canvas.bottom + OFF_MM - 0.8
    ends = [placed.at(complex(stop, -_radius_at(part, stop))) for stop in (stops[0], stops[-1])]
    level_size(canvas, ends[0], ends[1], y, size(stops[-1], units))
    return missing


def _stops(part: Turned) -> list[float]:
    """Return where the chain of lengths stops: at the ends of all elements and at the points of short curves."""
    stops = [0.0]
    for start, element in zip(starts_mm(part), part.elements, strict=False):
        if isinstance(element, Curve) and not _is_long(element):
            stops += [start + distance for distance, _ in element.points_mm[1:]]
        else:
            stops.append(start + element.length_mm)
    return stops


def _lengths(part: Turned, stops: Sequence[float], units: Units) -> list[str]:
    """Return the lengths between stops; those of a curve of more than one stretch are no fields, but differences."""
    texts: list[str] = []
    for number, element in enumerate(part.elements):
        if isinstance(element, Curve) and not _is_long(element):
            points = [distance for distance, _ in element.points_mm]
            first, *others = (size(b - a, units) for a, b in pairwise(points))
            texts += [told(first, "elements", number, ITS_KIND, "points", 1, 0), *others]
        else:
            length = size(element.length_mm, units)
            of_curve = isinstance(element, Curve)
            texts.append(length if of_curve else told(length, "elements", number, ITS_KIND, "length"))
    return texts if len(texts) == len(stops) - 1 else [size(b - a, units) for a, b in pairwise(stops)]


def _square(side_mm: float, units: Units) -> Told:
    return told_of(told(size(side_mm, units), "side"), f" × {size(side_mm, units)}")


def _is_long(element: Curve) -> bool:
    return len(element.points_mm) > _MAX_POINTS


def _radius_at(part: Turned, stop: float) -> float:
    """Return the radius where a length is taken from. [mm]"""
    for start, element in zip(starts_mm(part), part.elements, strict=False):
        if isinstance(element, Curve):
            for distance, diameter in element.points_mm:
                if abs(start + distance - stop) <= 1e-9 * (1 + stop):
                    return diameter / 2
        if abs(start - stop) <= 1e-9 * (1 + stop):
            return element.top_section.across_mm / 2
    return part.elements[-1].foot_section.across_mm / 2


def _face_callouts(part: Turned, subject: Subject) -> list[Callout]:
    """Return the names of the faces along the part, each where most of it or the first of it is."""
    starts = starts_mm(part)
    callouts: list[Callout] = []
    for name, blocks in (("blocks", True), ("turning", False)):
        among = [index for index, element in enumerate(part.elements) if isinstance(element, Block) is blocks]
        if among:
            longest = max(among, key=lambda index: part.elements[index].length_mm)
            element = part.elements[longest]
            # Off the middle, where the diameter is taken.
            x = starts[longest] + element.length_mm * 0.3
            half = min(element.top_section.across_mm, element.foot_section.across_mm) / 2
            callouts.append(Callout(subject.face(name), complex(x, half * 0.5)))
    for x, (before, after) in zip(starts[1:], pairwise(part.elements), strict=False):
        if not before.foot_section.fits(after.top_section):
            middle = (before.foot_section.across_mm + after.top_section.across_mm) / 4
            callouts.append(Callout(subject.face("shoulders"), complex(x, middle)))
            break
    return callouts


def _diameters(part: Turned, units: Units) -> list[Callout]:
    """Return the diameters of all elements, each above where it is taken."""
    callouts: list[Callout] = []
    for number, (start, element) in enumerate(zip(starts_mm(part), part.elements, strict=False)):
        for x, half, text in _taken(element, units):
            callouts.append(size_at(text.within("elements", number, ITS_KIND), complex(start + x, half)))
    return callouts


@singledispatch
def _taken(element: Element, units: Units) -> Sequence[tuple[float, float, Told]]:
    """Return where along an element a diameter is taken, how high its outline is there, and what is written."""
    raise NotImplementedError(type(element))


@_taken.register
def _(element: Block, units: Units) -> Sequence[tuple[float, float, Told]]:
    return [(element.length_mm / 2, element.side_mm / 2, _square(element.side_mm, units))]


@_taken.register
def _(element: Cylinder, units: Units) -> Sequence[tuple[float, float, Told]]:
    return [(element.length_mm / 2, element.diameter_mm / 2, across(element.diameter_mm, units, "diameter"))]


@_taken.register
def _(element: Taper, units: Units) -> Sequence[tuple[float, float, Told]]:
    ends = ((0.03, element.from_mm, "from"), (0.97, element.to_mm, "to"))
    return [(share * element.length_mm, diameter / 2, across(diameter, units, end)) for share, diameter, end in ends]


@_taken.register
def _(element: Bead, units: Units) -> Sequence[tuple[float, float, Told]]:
    text = told_of(across(element.diameter_mm, units, "diameter"), " neck ", told(size(element.neck_mm, units), "neck"))
    return [(element.length_mm / 2, element.diameter_mm / 2, text)]


@_taken.register
def _(element: Cove, units: Units) -> Sequence[tuple[float, float, Told]]:
    text = told_of(across(element.diameter_mm, units, "diameter"), " rim ", told(size(element.rim_mm, units), "rim"))
    return [(element.length_mm / 2, element.diameter_mm / 2, text)]


@_taken.register
def _(element: Curve, units: Units) -> Sequence[tuple[float, float, Told]]:
    if _is_long(element):
        return []
    last = element.length_mm
    # A little inside both ends, so that neighbours' leaders do not run into one another.
    return [
        (min(max(distance, 0.03 * last), 0.97 * last), diameter / 2, across(diameter, units, "points", number, 1))
        for number, (distance, diameter) in enumerate(element.points_mm)
    ]


def _list(part: Turned, units: Units) -> list[str]:
    """Return every element in a line of text, for parts whose sizes find no room in the drawing."""
    lines = ["From the top end:"]
    for number, element in enumerate(part.elements[:_MAX_LISTED], start=1):
        lines.append(f"{number}. {_element_words(element, units)}")
    if len(part.elements) > _MAX_LISTED:
        lines.append(f"and {len(part.elements) - _MAX_LISTED} more elements")
    return lines


def _element_words(element: Element, units: Units) -> str:
    length = f"{size(element.length_mm, units)} long"
    if isinstance(element, Curve):
        listed = ", ".join(f"{across(d, units)} at {size(x, units) if x else '0'}" for x, d in element.points_mm[:40])
        more = f" and {len(element.points_mm) - 40} more points" if len(element.points_mm) > 40 else ""
        return f"curve, {length}: {listed}{more}"
    sizes = " to ".join(text for _, _, text in _taken(element, units))
    return f"{type(element).__name__.lower()} {sizes}, {length}"

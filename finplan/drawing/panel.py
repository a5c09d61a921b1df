"""Panels: the plan with holes and where the flat face begins, and a section through the edge."""

from __future__ import annotations

from functools import singledispatch

from finplan.drawing.callout import Callout, size_at
from finplan.drawing.canvas import WIDTH_MM, Canvas, Pen
from finplan.drawing.dimension import OFF_MM, level_size, room_at_left
from finplan.drawing.edge import draw_edge
from finplan.drawing.grain import arrow_size, draw_grain, draw_grain_beside
from finplan.drawing.lettering import LINE_GAP_MM, across, said, size, text_width
from finplan.drawing.panel_lines import PanelLines, panel_lines
from finplan.drawing.room import room_for
from finplan.drawing.scale import scale_for
from finplan.drawing.section import draw_height, draw_width
from finplan.drawing.subject import Subject
from finplan.drawing.told import told, told_of
from finplan.drawing.view import SIDE_MM, place_view
from finplan.geometry import Pose, bounds, flattened, rectangle
from finplan.inputs.shapes import Disc, Ellipse, OutlinePanel, Panel, Polygon, Rectangle, Stadium
from finplan.quantity import Units

_HIGHEST_MM = 52.0
_FAR_MM = 1e6


def panel_words(part: Panel, units: Units) -> str:
    """Return a panel in words."""
    return f"{_form(part, units)}, {said(part.thickness_mm, units=units)} thick, plan and section through the edge"


def draw_panel(part: Panel, subject: Subject, canvas: Canvas) -> None:
    """Draw a panel."""
    lines = panel_lines(part)
    box = left, bottom, right, top = bounds(flattened(lines.outline))
    before = SIDE_MM if isinstance(part, Disc) else room_at_left(size(top - bottom, subject.units))
    scale = scale_for((right - left, WIDTH_MM - before - SIDE_MM), (top - bottom, _HIGHEST_MM))
    callouts = _callouts(part, lines, subject)
    label = subject.face("top")
    place = _room_for_name(part, label, lines, callouts, scale.factor)
    if place is None:
        inside = room_for(0.0, 0.0, [flattened(path) for path in lines.top])
        callouts.append(Callout(label, complex((left + right) / 2, (bottom + top) / 2) if inside is None else inside))
    placed = place_view(canvas, "plan", box, callouts, highest=_HIGHEST_MM, before=before)
    _draw_lines(lines, subject, placed, canvas)
    if place is None:
        draw_grain_beside(canvas, upright=part.grain == "width")
    else:
        _draw_name(part, label, placed.at(place), canvas)
    _draw_sizes(part, placed, box, subject.units, canvas)
    draw_edge(part, subject, canvas)


def _room_for_name(
    part: Panel, label: str, lines: PanelLines, callouts: list[Callout], factor: float
) -> complex | None:
    """Return where on the part the name of its face and the grain arrow have room inside, if they have."""
    leaders = [[item.target, item.target + 1j * _FAR_MM] for item in callouts]
    along, high = arrow_size(upright=part.grain == "width")
    width, height = max(text_width(label), along) + 2.0, high + LINE_GAP_MM + 1.0
    return room_for(width / factor, height / factor, [flattened(path) for path in lines.top], leaders)


def _draw_lines(lines: PanelLines, subject: Subject, placed: Pose, canvas: Canvas) -> None:
    if "top" in subject.covered:
        canvas.cross_hatch([placed.path(path) for path in lines.top])
    for path in (lines.outline, *lines.holes):
        canvas.path(placed.path(path), Pen.OUTLINE)
    if lines.flat_face:
        canvas.path(placed.path(lines.flat_face), Pen.VISIBLE)


def _draw_name(part: Panel, label: str, middle: complex, canvas: Canvas) -> None:
    """Set the name of the face, the grain arrow below it."""
    upright = part.grain == "width"
    high = arrow_size(upright=upright)[1]
    foot = middle.imag + (LINE_GAP_MM + high) / 2
    canvas.text(middle.real, foot - high - 1.2, label, role="face", clear=True)
    draw_grain(canvas, complex(middle.real, foot - high / 2), upright=upright)


def _draw_sizes(
    part: Panel, placed: Pose, box: tuple[float, float, float, float], units: Units, canvas: Canvas
) -> None:
    left, bottom, right, top = box
    around = placed.path(rectangle(*box))
    if isinstance(part, Disc):
        ends = placed.at(complex(left, 0.0)), placed.at(complex(right, 0.0))
        y = placed.at(complex(0.0, bottom)).imag + OFF_MM
        level_size(canvas, *ends, y, across(part.diameter_mm, units, "diameter"))
    else:
        draw_height(canvas, around, _told(part, size(top - bottom, units), "width"))
        draw_width(canvas, around, _told(part, size(right - left, units), "length"))


def _told(part: Panel, text: str, field: str) -> str:
    """Return a size of the whole panel, which is a field's where the file gives the panel by length and width."""
    return told(text, field) if isinstance(part, (Ellipse, Rectangle, Stadium)) else text


@singledispatch
def _form(part: Panel, units: Units) -> str:
    """Return the outline in words."""
    raise NotImplementedError(type(part))


@_form.register
def _(part: Disc, units: Units) -> str:
    hole = f" with a hole {said(part.hole.diameter_mm, units=units)} across" if part.hole else ""
    return f"disc {said(part.diameter_mm, units=units)} across{hole}"


@_form.register(Ellipse)
@_form.register(Rectangle)
@_form.register(Stadium)
def _(part: Ellipse | Rectangle | Stadium, units: Units) -> str:
    rounded = isinstance(part, Rectangle) and part.corners_mm
    corners = f" with corners of radius {said(rounded, units=units)}" if rounded else ""
    return f"{part.shape} {said(part.length_mm, part.width_mm, units=units)}{corners}"


@_form.register
def _(part: Polygon, units: Units) -> str:
    length_mm, between = _given(part)
    return f"regular polygon of {part.sides} sides, {said(length_mm, units=units)} across {between}"


@_form.register
def _(part: OutlinePanel, units: Units) -> str:
    if part.drawn_by != "path":
        return f"outline by {'a smooth line' if part.smooth else 'straight lines'} through {part.drawn_by}"
    holes = len(part.path) - 1
    return "outline" + (f" with {holes} hole{'s' if holes > 1 else ''}" if holes else "")


def _given(part: Polygon) -> tuple[float, str]:
    """Return the size by which a polygon is given [mm], and what it lies between."""
    if part.across_flats_mm is not None:
        return part.across_flats_mm, "flats"
    return part.across_corners_mm or 0.0, "corners"


def _callouts(part: Panel, lines: PanelLines, subject: Subject) -> list[Callout]:
    """Return what a leader says about the plan, at its place on the part."""
    callouts: list[Callout] = []
    points = flattened(lines.outline)
    if isinstance(part, Rectangle) and part.corners_mm:
        radius = part.corners_mm
        corner = complex(part.length_mm / 2 - radius, part.width_mm / 2 - radius) + radius * (1 + 1j) / abs(1 + 1j)
        callouts.append(size_at(told_of("R", told(size(radius, subject.units), "corners")), corner))
    if isinstance(part, Polygon):
        length_mm, between = _given(part)
        sides, across_them = told(f"{part.sides}", "sides"), told(size(length_mm, subject.units), f"across-{between}")
        words = told_of(sides, " sides, ", across_them, f" across {between}")
        callouts.append(size_at(words, max(points, key=lambda point: point.imag)))
    for number, hole in enumerate(lines.holes):
        left, _, right, top = bounds(flattened(hole))
        if isinstance(part, Disc):
            text: str = told_of(subject.face("hole"), " ", across(right - left, subject.units, "hole", "diameter"))
        else:
            text = subject.face("hole")
        if number == 0:
            callouts.append(Callout(text, complex((left + right) / 2, top), "face", "arrow"))
    return callouts

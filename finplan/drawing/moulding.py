"""Mouldings: the section, with the radius of every arc."""

from __future__ import annotations

import cmath

from finplan.drawing.callout import Callout, size_at
from finplan.drawing.canvas import Canvas
from finplan.drawing.dimension import room_at_left
from finplan.drawing.lettering import said, size
from finplan.drawing.room import room_for
from finplan.drawing.section import draw_cut, draw_height, draw_width
from finplan.drawing.subject import Subject
from finplan.drawing.view import place_view
from finplan.geometry import Subpath, arc, bounds, closed_of, flattened, line
from finplan.inputs.shapes import Moulding, Point, SectionLine
from finplan.quantity import Units

_HIGHEST_MM = 50.0
_MOST_RADII = 12
"""A profile with more arcs is drawn without their radii."""


def moulding_words(part: Moulding, units: Units) -> str:
    """Return a moulding in words."""
    left, bottom, right, top = bounds(flattened(section_path(part)))
    section = said(right - left, top - bottom, units=units)
    return f"moulding, section {section}, {said(part.length_mm, units=units)} long"


def section_path(part: Moulding) -> Subpath:
    """Return the section as the file gives it, y upwards, closed by its back."""
    return closed_of(*(_stretch(stretch) for stretch in part.profile.face))


def _at(point: Point) -> complex:
    return complex(point.x, point.y)


def _stretch(stretch: SectionLine) -> Subpath:
    start, end = _at(stretch.start), _at(stretch.end)
    # A rise to the right of the way goes round counter-clockwise.
    return arc(start, _at(stretch.centre), stretch.turn_rad) if stretch.rise_mm else line(start, end)


def _on(stretch: SectionLine, share: float) -> complex:
    """Return the point a share of the way along a stretch."""
    start, end = _at(stretch.start), _at(stretch.end)
    if not stretch.rise_mm:
        return start + share * (end - start)
    centre = _at(stretch.centre)
    return centre + (start - centre) * cmath.rect(1.0, stretch.turn_rad * share)


def draw_moulding(part: Moulding, subject: Subject, canvas: Canvas) -> None:
    """Draw a moulding."""
    section = section_path(part)
    left, bottom, right, top = bounds(flattened(section))
    wide, high = size(right - left, subject.units), size(top - bottom, subject.units)
    margin = room_at_left(high) + 2.0
    box = (left, bottom, right, top)
    placed = place_view(
        canvas, "section", box, _callouts(part, subject), highest=_HIGHEST_MM, before=margin, behind=margin
    )
    path = placed.path(section)
    draw_cut(canvas, [path])
    draw_width(canvas, path, wide)
    draw_height(canvas, path, high)
    canvas.notes([f"{size(part.length_mm, subject.units)} long"])


def _callouts(part: Moulding, subject: Subject) -> list[Callout]:
    profile = part.profile
    arcs = [stretch for stretch in profile.face if stretch.rise_mm]
    longest = max(profile.face, key=lambda stretch: stretch.length_mm)
    callouts = [
        Callout(subject.face("face"), _on(longest, 0.3)),
        Callout(subject.face("back"), _on(profile.back, 0.4)),
    ]
    inside = room_for(0.0, 0.0, [flattened(section_path(part))])
    if inside is not None:
        callouts.append(Callout(subject.face("ends"), inside))
    if len(arcs) <= _MOST_RADII:
        callouts += [size_at(f"R{size(bend.radius_mm, subject.units)}", _on(bend, 0.55)) for bend in arcs]
    return callouts

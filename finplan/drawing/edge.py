"""The section through a panel's edge, enlarged: both profiles as they are cut."""

from __future__ import annotations

import math

from finplan.drawing.canvas import Canvas, Pen
from finplan.drawing.column import Label, draw_column
from finplan.drawing.dimension import OFF_MM, UPRIGHT_OFF_MM, level_size, room_at_left, upright_size
from finplan.drawing.lettering import by, size
from finplan.drawing.scale import scale_for
from finplan.drawing.subject import Subject
from finplan.drawing.told import told
from finplan.geometry import ArcTo, LineTo, Pose, Segment, Subpath, backwards, closed_of, line, on_paper
from finplan.inputs.shapes import Panel, Profile
from finplan.quantity import Units
from finplan.surface import Quarter, strokes

_WIDE_MM, _HIGH_MM = 26.0, 26.0
_LOWER_MM = 2.0
"""By how much the set-back lies lower than other sizes, off the name of the underside."""
_BREAK_MM = 1.5
"""What the line that breaks the panel off stands beyond it."""


def edge_profiles(part: Panel) -> tuple[Profile, Profile]:
    """Return the profiles above and below; a bullnose is two quarter circles."""
    if part.edge.bullnose:
        half_mm = part.thickness_mm / 2
        return Profile("roundover", half_mm, half_mm), Profile("roundover", half_mm, half_mm)
    return part.edge.top, part.edge.bottom


def profile_words(profile: Profile, units: Units) -> str:
    """Return a profile as the maker wrote it.

    >>> profile_words(Profile("ogee", 16.0, 16.0), "metric"), profile_words(Profile("bevel", 10.0, 5.0), "metric")
    ('ogee 8', 'bevel 10 × 5')
    """
    if profile.kind == "bevel":
        return f"bevel {by(profile.set_back_mm, profile.height_mm, units=units)}"
    radius_mm = profile.set_back_mm / 2 if profile.kind == "ogee" else profile.set_back_mm
    return f"{profile.kind} {size(radius_mm, units)}"


def profile_path(profile: Profile) -> Subpath:
    """Return an upper profile, open, from the outline at x = 0 to the flat face at y = 0; inwards x is negative."""
    segments: list[Segment] = []
    here = start = complex(0.0, -profile.height_mm)
    for stroke in strokes(profile):
        if isinstance(stroke, Quarter):
            here += stroke.radius_mm * (-1 + 1j)
            # Convex, it leaves the outline upwards and bends inwards, to the left; concave, the other way.
            segments.append(ArcTo((stroke.radius_mm, stroke.radius_mm), 0.0, False, stroke.convex, here))
        else:
            here += complex(stroke.near_mm - stroke.far_mm, profile.height_mm)
            segments.append(LineTo(here))
    return Subpath(start, tuple(segments))


def edge_section(part: Panel, depth_mm: float) -> Subpath:
    """Return the section from the outline, x = 0, to a depth inside the panel; its underside is y = 0."""
    top, bottom = edge_profiles(part)
    upper = Pose(offset=1j * part.thickness_mm).path(profile_path(top))
    lower = Pose(mirrored=True).path(profile_path(bottom))
    return closed_of(line(complex(-depth_mm, part.thickness_mm), complex(-depth_mm, 0.0)), backwards(lower), upper)


def _point_on(profile: Profile) -> complex:
    """Return the point half way along a profile, placed as ``profile_path`` is."""
    path = profile_path(profile)
    first = path.segments[0]
    if len(path.segments) > 1:
        return first.end
    middle = (path.start + first.end) / 2
    if isinstance(first, ArcTo):
        bulge = first.radii[0] * (math.sqrt(0.5) - 0.5)
        middle += bulge * (1 + 1j) if first.sweep else -bulge * (1 + 1j)
    return middle


def draw_edge(part: Panel, subject: Subject, canvas: Canvas) -> None:
    """Draw the section through the edge below what is on the paper."""
    top, bottom = edge_profiles(part)
    thick, set_back = part.thickness_mm, max(top.set_back_mm, bottom.set_back_mm)
    depth = set_back + max(0.4 * thick, 0.25 * set_back)
    text = told(size(thick, subject.units), "thickness")
    margin = room_at_left(text) + _BREAK_MM
    scale = scale_for((depth, _WIDE_MM), (thick, _HIGH_MM))
    head = canvas.caption("section through the edge", scale) + 5.0
    placed = on_paper(scale.factor, complex(margin, head), complex(-depth, thick))
    path = placed.path(edge_section(part, depth))
    canvas.hatch([path])
    canvas.path(path, Pen.OUTLINE)
    corner, foot = placed.at(complex(-depth, thick)), placed.at(complex(-depth, 0.0))
    canvas.break_line(corner, foot)
    upright_size(canvas, corner - _BREAK_MM, foot - _BREAK_MM, margin - _BREAK_MM - UPRIGHT_OFF_MM, text)
    outer = placed.at(0j)
    if set_back:
        deeper = top if top.set_back_mm >= bottom.set_back_mm else bottom
        start = complex(outer.real - deeper.set_back_mm * scale.factor, outer.imag)
        level_size(canvas, start, outer, outer.imag + OFF_MM + _LOWER_MM, size(set_back, subject.units))
    labels = [
        Label(subject.face("top"), placed.at(complex(_near(top.set_back_mm, depth), thick)), rise=2.2),
        *_profile_label(part, top, subject, placed, mirrored=False),
        Label(subject.face("edge"), placed.at(complex(0.0, (thick - top.height_mm + bottom.height_mm) / 2))),
        *_profile_label(part, bottom, subject, placed, mirrored=True),
        Label(subject.face("underside"), placed.at(complex(_near(bottom.set_back_mm, depth), 0.0)), rise=-1.5),
    ]
    draw_column(canvas, labels, outer.real + 5.0, head - 3.8)


def _near(set_back_mm: float, depth_mm: float) -> float:
    """Return where the name of a flat face points to: a little behind where it begins."""
    return -0.7 * set_back_mm - 0.3 * depth_mm


def _profile_label(part: Panel, profile: Profile, subject: Subject, placed: Pose, *, mirrored: bool) -> list[Label]:
    """Return what is said of a profile, if there is one; a bullnose is said once."""
    if profile.kind == "square" or (part.edge.bullnose and mirrored):
        return []
    point = _point_on(profile)
    target = point.conjugate() if mirrored else point + 1j * part.thickness_mm
    words = "bullnose" if part.edge.bullnose else profile_words(profile, subject.units)
    field = told(words, "edge") if part.edge.bullnose else told(words, "edge", "bottom" if mirrored else "top")
    return [Label(field, placed.at(target), role="size")]

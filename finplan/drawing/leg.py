"""Square legs: from the side, lying, the top end at the left, and the sections at both ends."""

from __future__ import annotations

from finplan.drawing.callout import Callout
from finplan.drawing.canvas import WIDTH_MM, Canvas, Pen
from finplan.drawing.dimension import OFF_MM, chain, level_size, room_at_left
from finplan.drawing.ends import END_MM, draw_ends, room_for_ends
from finplan.drawing.lettering import said, size
from finplan.drawing.scale import scale_for
from finplan.drawing.section import draw_cut, draw_height, draw_width
from finplan.drawing.subject import Subject
from finplan.drawing.told import told
from finplan.drawing.view import place_view
from finplan.geometry import Subpath, closed, rectangle
from finplan.inputs.shapes import SquareLeg
from finplan.quantity import Units

_HIGHEST_MM = 30.0
_SECTION_MM = 16.0


def leg_words(part: SquareLeg, units: Units) -> str:
    """Return a square leg in words."""
    tapered = f", {_taper_words(part)} to {said(part.taper.to_mm, units=units)}" if part.taper else ""
    return (
        f"square leg of side {said(part.side_mm, units=units)}{tapered}, {said(part.length_mm, units=units)} long,"
        " drawn lying, top end left, with the sections at both ends"
    )


def _taper_words(part: SquareLeg) -> str:
    two = part.taper is not None and part.taper.sides == 2
    return "tapered on two adjacent sides" if two else "tapered on four sides"


def leg_outline(part: SquareLeg) -> Subpath:
    """Return a tapered side as it is seen, lying along x with the top end at x = 0, from y = 0 up to the side."""
    side, length = part.side_mm, part.length_mm
    if part.taper is None:
        return rectangle(0.0, 0.0, length, side)
    fall, straight = side - part.taper.to_mm, part.taper.from_length_mm
    above = fall / 2 if part.taper.sides == 4 else 0.0
    lower = [complex(straight, 0.0), complex(length, fall - above)]
    upper = [complex(length, side - above), complex(straight, side)]
    return closed(0j, *lower, *upper, 1j * side) if straight else closed(*lower, *upper)


def draw_leg(part: SquareLeg, subject: Subject, canvas: Canvas) -> None:
    """Draw a square leg."""
    side, length, units = part.side_mm, part.length_mm, subject.units
    names = [Callout(subject.face("sides"), complex(length * 0.4, side * 0.5))]
    box = (0.0, 0.0, length, side)
    clear = room_for_ends(length, side, _HIGHEST_MM)
    placed = place_view(
        canvas, "from the side", box, names, highest=_HIGHEST_MM, before=END_MM, behind=END_MM, clear=clear
    )
    outline = placed.path(leg_outline(part))
    if "sides" in subject.covered:
        canvas.cross_hatch([outline])
    canvas.path(outline, Pen.OUTLINE)
    draw_ends(canvas, placed.at(1j * side / 2), placed.at(complex(length, side / 2)))
    low, far = placed.at(0j), placed.at(complex(length, 0.0))
    y = low.imag + OFF_MM
    straight = part.taper.from_length_mm if part.taper else None
    if straight:
        bend = placed.at(complex(straight, 0.0))
        canvas.line(bend, placed.at(complex(straight, side)), pen=Pen.VISIBLE)
        chain(
            canvas,
            [low, bend, far],
            [told(size(straight, units), "taper", "from-length"), size(length - straight, units)],
            y,
        )
        y = canvas.bottom + OFF_MM - 0.8
    level_size(canvas, low, far, y, told(size(length, units), "length"))
    _draw_sections(part, units, canvas)
    notes = [_taper_words(part)] if part.taper else []
    covered = [name for name in ("top-end", "foot-end") if name in subject.covered]
    if covered:
        notes.append(f"covered: {', '.join(covered)}")
    canvas.notes(notes)


def _draw_sections(part: SquareLeg, units: Units, canvas: Canvas) -> None:
    """Draw the sections at both ends beside each other, at the same scale."""
    scale = scale_for((part.side_mm, _SECTION_MM))
    foot = part.taper.to_mm if part.taper else part.side_mm
    low = canvas.caption("sections at top and foot", scale) + 2.8 + part.side_mm * scale.factor
    left = room_at_left(size(part.side_mm, units)) + 4.0
    of_foot = ("taper", "to") if part.taper else ("side",)
    for side, x, path in ((part.side_mm, left, ("side",)), (foot, WIDTH_MM / 2 + left, of_foot)):
        square = rectangle(x, low - side * scale.factor, x + side * scale.factor, low)
        draw_cut(canvas, [square])
        draw_width(canvas, square, told(size(side, units), *path))
        draw_height(canvas, square, size(side, units))

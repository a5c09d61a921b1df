"""Boards: the front, the section at the near end and, where they are bent, the plan."""

from __future__ import annotations

import cmath
import math

from finplan.drawing.bend import bend_size, bend_words
from finplan.drawing.board_lines import (
    PlacedGroove,
    bent_plan,
    end_section,
    flat_plan,
    front_path,
    groove_lines,
    groove_mouth,
    placed_grooves,
)
from finplan.drawing.callout import Callout, draw_callouts, fitting, size_at
from finplan.drawing.canvas import Canvas, Pen
from finplan.drawing.dimension import OFF_MM, level_size, room_at_left, upright_size
from finplan.drawing.edge import profile_words
from finplan.drawing.grain import draw_grain_beside
from finplan.drawing.lettering import LINE_GAP_MM, by, said, size
from finplan.drawing.section import draw_cut, draw_height, draw_width
from finplan.drawing.subject import Subject
from finplan.drawing.told import told, told_of
from finplan.drawing.view import SIDE_MM, place_view
from finplan.geometry import Pose, bounds, flattened, line, rectangle
from finplan.inputs.shapes import Board
from finplan.quantity import Units

_HIGHEST_MM = 40.0
_SECTION_MM = 20.0
_PLAN_MM = 40.0
_SPREAD = "The file does not say where across the board a groove lies: they are drawn evenly spread."


def board_words(part: Board, units: Units) -> str:
    """Return a board in words."""
    words = f"board {said(part.length_mm, part.width_mm, part.thickness_mm, units=units)}"
    if part.arch:
        words += f", bottom edge arched by {said(part.arch.rise_mm, units=units)}"
    if part.taper and part.taper.to_mm is not None:
        words += f", tapered to {said(part.taper.to_mm, units=units)}"
    if part.thins:
        words += f", thinner to {said(part.far_thickness_mm, units=units)}"
    if part.radius_mm is not None:
        words += f", bent to {bend_words(part.bend, part.radius_mm, units)}"
    if part.radius_mm is not None or part.thins:
        words += ", plan,"
    return f"{words}{'' if words.endswith(',') else ','} front and section at the near end"


def draw_board(part: Board, subject: Subject, canvas: Canvas) -> None:
    """Draw a board."""
    if part.radius_mm is not None:
        _draw_plan(part, part.radius_mm, subject, canvas)
    elif part.thins:
        _draw_flat_plan(part, subject, canvas)
    _draw_front(part, subject, canvas)
    _draw_end(part, subject, canvas)
    if any(groove.face in ("front", "back") for groove in part.grooves):
        canvas.notes([_SPREAD])


def _draw_plan(part: Board, radius_mm: float, subject: Subject, canvas: Canvas) -> None:
    """Draw a bent board from above."""
    path, units = bent_plan(part), subject.units
    left, bottom, right, top = bounds(flattened(path))
    angle = min(part.length_mm / radius_mm / 5, 0.5)
    inner = radius_mm - part.thickness_mm
    notes = [
        size_at(bend_size(part.bend, radius_mm, units), 1j * radius_mm),
        Callout(subject.face("front"), cmath.rect(radius_mm, math.pi / 2 - angle)),
        Callout(subject.face("back"), cmath.rect(inner, math.pi / 2 + angle)),
    ]
    if part.thins:
        half = part.length_mm / radius_mm / 2
        for turn, thick in ((half, part.thickness_mm), (-half, part.far_thickness_mm)):
            middle = cmath.rect(radius_mm - thick / 2, math.pi / 2 + turn)
            notes.append(size_at(f"{size(thick, units)} thick", middle))
    placed = place_view(canvas, "from above", (left, bottom, right, top), notes, highest=_PLAN_MM)
    canvas.path(placed.path(path), Pen.OUTLINE)
    low = placed.at(complex(0.0, bottom)).imag
    ends = placed.at(complex(left, bottom)), placed.at(complex(right, bottom))
    level_size(canvas, ends[0], ends[1], low + OFF_MM, size(right - left, units))


def _draw_flat_plan(part: Board, subject: Subject, canvas: Canvas) -> None:
    """Draw a straight board that gets thinner, from above."""
    length, thick, far, units = part.length_mm, part.thickness_mm, part.far_thickness_mm, subject.units
    notes = [
        size_at(f"{size(thick, units)} thick", complex(0.0, thick / 2)),
        Callout(subject.face("front"), complex(length * 0.4, thick)),
        Callout(subject.face("back"), complex(length * 0.6, 0.6 * (thick - far))),
        size_at(f"{size(far, units)} thick", complex(length, thick - far / 2)),
    ]
    placed = place_view(canvas, "from above", (0.0, 0.0, length, thick), notes, highest=_SECTION_MM)
    canvas.path(placed.path(flat_plan(part)), Pen.OUTLINE)


def _draw_front(part: Board, subject: Subject, canvas: Canvas) -> None:
    length, width, units = part.length_mm, part.width_mm, subject.units
    tapered = part.far_width_mm < width
    behind = SIDE_MM + (room_at_left(size(part.far_width_mm, units)) if tapered else 0.0)
    flat = "front, bent flat" if part.radius_mm is not None else "front"
    notes = [
        Callout(subject.face("front"), complex(length * 0.12, width * 0.8)),
        Callout(subject.face("top-edge"), complex(length * 0.7, width)),
    ]
    if part.arch:
        notes.append(
            size_at(
                told_of("rise ", told(size(part.arch.rise_mm, units), "arch", "rise")),
                complex(length / 2, part.arch.rise_mm),
            )
        )
    box = (0.0, 0.0, length, width)
    before = room_at_left(size(width, units))
    placed = place_view(canvas, flat, box, notes, highest=_HIGHEST_MM, before=before, behind=behind)
    draw_grain_beside(canvas, upright=part.grain == "width")
    _front_lines(part, subject, placed, canvas)
    around = placed.path(rectangle(*box))
    draw_height(canvas, around, told(size(width, units), "width"))
    far = placed.at(complex(length, width))
    if tapered:
        text = told(size(part.far_width_mm, units), "taper", "to")
        x = far.real + room_at_left(text) - 1.6
        upright_size(canvas, far, placed.at(complex(length, width - part.far_width_mm)), x, text)
    below = placed.at(complex(length * 0.5, 0.0)) + 3.4j
    canvas.text(below.real, below.imag, subject.face("bottom-edge"), role="face")
    draw_width(canvas, around, told(size(length, units), "length"), lower=LINE_GAP_MM)


def _front_lines(part: Board, subject: Subject, placed: Pose, canvas: Canvas) -> None:
    outline = placed.path(front_path(part))
    if "front" in subject.covered:
        canvas.cross_hatch([outline])
    canvas.path(outline, Pen.OUTLINE)
    if part.eased_mm:
        canvas.path(placed.path(front_path(part, part.eased_mm)), Pen.VISIBLE)
    for groove in placed_grooves(part):
        pen = Pen.VISIBLE if groove.groove.face == "front" else Pen.HIDDEN
        for start, end in groove_lines(part, groove):
            canvas.path(line(placed.at(start), placed.at(end)), pen)


def _draw_end(part: Board, subject: Subject, canvas: Canvas) -> None:
    """Draw the section at the near end, lying, the front above and the top edge at the left."""
    text = told(size(part.thickness_mm, subject.units), "thickness")
    above, below = _end_callouts(part, subject)
    box = (0.0, 0.0, part.width_mm, part.thickness_mm)
    before = room_at_left(text)
    placed = place_view(canvas, "near end, front up", box, above, highest=_SECTION_MM, before=before)
    path = placed.path(end_section(part))
    draw_cut(canvas, [path])
    draw_height(canvas, path, text)
    kept, put_off = fitting(below)
    canvas.put_off += [f"{item.text} in the back" for item in put_off]
    draw_callouts(canvas, kept, placed.at(0j).imag + 1.0, placed=placed, down=True)


def _end_callouts(part: Board, subject: Subject) -> tuple[list[Callout], list[Callout]]:
    """Return what is said above and below the section at the near end."""
    wide, thick, units = part.width_mm, part.thickness_mm, subject.units
    above = [Callout(subject.face("ends"), complex(wide * 0.36, thick * 0.55))]
    below = [Callout(subject.face("back"), complex(wide * 0.12, 0.0))]
    if part.eased_mm and part.arris:
        words = told_of(subject.face("arrises"), ": ", told(profile_words(part.arris, units), "arris"))
        inset = part.eased_mm * (0.5 if part.arris.kind == "chamfer" else 1 - 0.5**0.5)
        above.append(Callout(words, complex(wide - inset, thick - inset)))
    seen: dict[tuple[str, float, float], list[PlacedGroove]] = {}
    for placed in placed_grooves(part):
        groove = placed.groove
        seen.setdefault((groove.face, groove.width_mm, groove.depth_mm), []).append(placed)
    for (face, width_mm, depth_mm), alike in seen.items():
        count = f"{len(alike)} grooves" if len(alike) > 1 else "groove"
        note = Callout(f"{count} {by(width_mm, depth_mm, units=units)}", groove_mouth(part, alike[0]), "size")
        (below if face == "back" else above).append(note)
    return above, below

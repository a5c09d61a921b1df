"""Carcases: from the front, and the section from front to rear at the same scale. Shelves are drawn evenly spread."""

from __future__ import annotations

from finplan.drawing.callout import Callout
from finplan.drawing.canvas import WIDTH_MM, Canvas, Pen
from finplan.drawing.dimension import room_at_left
from finplan.drawing.lettering import LINE_GAP_MM, said, size, text_width
from finplan.drawing.scale import scale_for
from finplan.drawing.section import draw_cut, draw_height, draw_width
from finplan.drawing.subject import Subject
from finplan.drawing.told import told
from finplan.drawing.view import SIDE_MM, place_view
from finplan.geometry import Pose, Subpath, rectangle
from finplan.inputs.shapes import Carcase
from finplan.quantity import Units

_HIGHEST_MM = 70.0
_GAP_MM = 8.0


def carcase_words(part: Carcase, units: Units) -> str:
    """Return a carcase in words."""
    sizes = said(part.width_mm, part.height_mm, part.depth_mm, units=units)
    return f"carcase {sizes}, {part.front} in front, from the front and in section, {_boards(part, units)}"


def _boards(part: Carcase, units: Units) -> str:
    back = f"back {size(part.back_mm, units)}" if part.back_mm is not None else "no back"
    shelves = f"{part.shelves or 'no'} shel{'f' if part.shelves == 1 else 'ves'}"
    return f"boards {size(part.thickness_mm, units)} thick, {back}, {shelves}"


def draw_carcase(part: Carcase, subject: Subject, canvas: Canvas) -> None:
    """Draw a carcase."""
    wide, high, deep = part.width_mm, part.height_mm, part.depth_mm
    text = told(size(high, subject.units), "height")
    margin = room_at_left(text)
    # The section stands at the right of the front, in one view of both.
    gap = _GAP_MM / scale_for((wide + deep, WIDTH_MM - margin - _GAP_MM - SIDE_MM), (high, _HIGHEST_MM)).factor
    beside = wide + gap
    placed = place_view(
        canvas,
        "front, and section",
        (0.0, 0.0, beside + deep, high),
        _callouts(part, subject, beside),
        highest=_HIGHEST_MM,
        before=margin,
    )
    front = placed.path(rectangle(0.0, 0.0, wide, high))
    section = placed.path(rectangle(beside, 0.0, beside + deep, high))
    canvas.path([placed.path(board) for board in _front_boards(part)], Pen.VISIBLE)
    canvas.path(front, Pen.OUTLINE)
    canvas.path(section, Pen.VISIBLE)
    moved = Pose(offset=complex(beside, 0.0))
    draw_cut(canvas, [placed.path(moved.path(board)) for board in _cut_boards(part)], Pen.VISIBLE)
    canvas.path(section, Pen.VISIBLE)
    draw_height(canvas, front, text)
    widths = (
        (front, wide, told(size(wide, subject.units), "width")),
        (section, deep, told(size(deep, subject.units), "depth")),
    )
    # A text that is wider than what it measures stands beside or below its line: then the lines lie apart.
    crowded = any(text_width(words) + 1.0 > length * placed.factor.real for _, length, words in widths)
    for index, (path, _, words) in enumerate(widths):
        draw_width(canvas, path, words, lower=2 * LINE_GAP_MM * index * crowded)
    canvas.notes([_boards(part, subject.units)])


def _callouts(part: Carcase, subject: Subject, beside: float) -> list[Callout]:
    """Return the names of the faces: the edges on the front, the others on the section *beside* it."""
    high, deep, thick = part.height_mm, part.depth_mm, part.thickness_mm
    clear_mm = deep - (part.back_mm or 0.0)
    shelf = _shelf_heights(part)[-1] + thick if part.shelves else thick
    callouts = [
        Callout(subject.face("edges"), complex(thick / 2, high * 0.8)),
        Callout(subject.face("inside"), complex(beside + clear_mm * 0.35, (high - thick + shelf) / 2)),
        Callout(subject.face("outside"), complex(beside + deep * 0.55, high)),
        Callout(subject.face("rear"), complex(beside + deep, high * 0.93)),
    ]
    if part.shelves:
        callouts.append(Callout(subject.face("shelves"), complex(beside + clear_mm * 0.75, shelf)))
    return callouts


def _shelf_heights(part: Carcase) -> list[float]:
    """Return the heights of the shelves' under sides, evenly spread."""
    thick = part.thickness_mm
    gap = (part.height_mm - (2 + part.shelves) * thick) / (part.shelves + 1)
    return [thick + gap + index * (thick + gap) for index in range(part.shelves)]


def _front_boards(part: Carcase) -> list[Subpath]:
    """Return the boards as they are seen from the front."""
    wide, high, thick = part.width_mm, part.height_mm, part.thickness_mm
    boards = [
        rectangle(0.0, 0.0, thick, high),
        rectangle(wide - thick, 0.0, wide, high),
        rectangle(thick, 0.0, wide - thick, thick),
        rectangle(thick, high - thick, wide - thick, high),
    ]
    if part.front == "open":
        boards += [rectangle(thick, at, wide - thick, at + thick) for at in _shelf_heights(part)]
    return boards


def _cut_boards(part: Carcase) -> list[Subpath]:
    """Return the boards that the section cuts, the front at x = 0."""
    high, deep, thick = part.height_mm, part.depth_mm, part.thickness_mm
    back = part.back_mm or 0.0
    front = thick if part.front == "closed" else 0.0
    boards = [rectangle(0.0, high - thick, deep, high), rectangle(0.0, 0.0, deep, thick)]
    boards += [rectangle(front, at, deep - back, at + thick) for at in _shelf_heights(part)]
    if back:
        boards.append(rectangle(deep - back, thick, deep, high - thick))
    if front:
        boards.append(rectangle(0.0, thick, front, high - thick))
    return boards

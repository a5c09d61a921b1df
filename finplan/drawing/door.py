"""Doors: the front, and a level section through one side, enlarged."""

from __future__ import annotations

from finplan.drawing.callout import Callout
from finplan.drawing.canvas import Canvas, Pen
from finplan.drawing.column import Label, draw_column
from finplan.drawing.dimension import room_at_left
from finplan.drawing.grain import draw_grain_beside
from finplan.drawing.lettering import by, said, size
from finplan.drawing.scale import scale_for
from finplan.drawing.section import draw_cut, draw_height, draw_width
from finplan.drawing.subject import Subject
from finplan.drawing.told import told, told_of
from finplan.drawing.view import place_view
from finplan.geometry import Pose, Subpath, closed, line, on_paper, rectangle
from finplan.inputs.shapes import Door, DoorOpening, DoorPanel, Frame
from finplan.quantity import Units

_HIGHEST_MM = 70.0
_SECTION_WIDE_MM, _SECTION_HIGH_MM = 34.0, 24.0


def door_words(part: Door, units: Units) -> str:
    """Return a door in words."""
    made = "one board"
    if isinstance(part.panel, DoorOpening):
        made = "frame round glass" if part.panel.kept_for == "glass" else "frame with nothing in it"
    elif part.frame and part.panel:
        raised = "raised" if part.panel.raised else "flat"
        made = f"frame with a {raised} panel"
    sizes = said(part.width_mm, part.height_mm, part.thickness_mm, units=units)
    return f"door {sizes}, {made}, front and level section through one side"


def draw_door(part: Door, subject: Subject, canvas: Canvas) -> None:
    """Draw a door."""
    wide, high, units = part.width_mm, part.height_mm, subject.units
    text = told(size(high, units), "height")
    box = (0.0, 0.0, wide, high)
    placed = place_view(canvas, "front", box, _callouts(part, subject), highest=_HIGHEST_MM, before=room_at_left(text))
    # The grain of a door runs upwards unless its panel is turned.
    draw_grain_beside(canvas, upright=part.grain == "length")
    outline = placed.path(rectangle(*box))
    if "front" in subject.covered:
        canvas.cross_hatch([outline])
    canvas.path([placed.path(edge) for edge in _front_lines(part)], Pen.VISIBLE)
    canvas.path(outline, Pen.OUTLINE)
    draw_height(canvas, outline, text)
    draw_width(canvas, outline, told(size(wide, units), "width"))
    _draw_section(part, subject, canvas)


def _callouts(part: Door, subject: Subject) -> list[Callout]:
    wide, high, units = part.width_mm, part.height_mm, subject.units
    opening = part.panel if isinstance(part.panel, DoorOpening) and part.frame else None
    level = high * 0.6 if opening is None or part.frame is None else part.frame.rail_mm / 2
    callouts = [
        Callout(subject.face("front"), complex(wide * 0.42, level)),
        Callout(subject.face("edges"), complex(wide * 0.8, high)),
    ]
    if opening is not None:
        callouts.append(
            Callout("glass" if opening.kept_for == "glass" else "open", complex(wide / 2, high / 2), "size")
        )
    if part.frame:
        stile, rail = part.frame.stile_mm, part.frame.rail_mm
        callouts.append(
            Callout(
                told_of("stile ", told(size(stile, units), "frame", "stile")), complex(stile / 2, high * 0.9), "size"
            )
        )
        callouts.append(
            Callout(
                told_of("rail ", told(size(rail, units), "frame", "rail")), complex(wide * 0.6, high - rail / 2), "size"
            )
        )
    return callouts


def _front_lines(part: Door) -> list[Subpath]:
    """Return the joints of the frame, and where the field of a raised panel begins."""
    if part.frame is None or part.panel is None:
        return []
    wide, high, stile, rail = part.width_mm, part.height_mm, part.frame.stile_mm, part.frame.rail_mm
    lines = [line(complex(x, 0.0), complex(x, high)) for x in (stile, wide - stile)]
    lines += [line(complex(stile, y), complex(wide - stile, y)) for y in (rail, high - rail)]
    if part.panel.raised:
        slope = part.panel.raised.width_mm
        inner = (stile + slope, rail + slope, wide - stile - slope, high - rail - slope)
        lines.append(rectangle(*inner))
        for x, out_x in ((inner[0], stile), (inner[2], wide - stile)):
            lines += [line(complex(x, inner[1]), complex(out_x, rail)),
                      line(complex(x, inner[3]), complex(out_x, high - rail))]  # fmt: skip
    return lines


def _draw_section(part: Door, subject: Subject, canvas: Canvas) -> None:
    """Draw the level section from one edge to a little way into the panel, the front above."""
    thick, units = part.thickness_mm, subject.units
    deep = _section_depth(part)
    text = told(size(thick, units), "thickness")
    margin = room_at_left(text)
    scale = scale_for((deep, _SECTION_WIDE_MM), (thick, _SECTION_HIGH_MM))
    head = canvas.caption("level section, front up", scale)
    placed = on_paper(scale.factor, complex(margin, head + 5.0), complex(0.0, thick))
    boards = [rectangle(0.0, 0.0, deep, thick)]
    opening = isinstance(part.panel, DoorOpening)
    if part.frame and opening:
        boards = [_stile(part, part.frame)]
    elif part.frame and part.panel:
        boards = [rectangle(0.0, 0.0, part.frame.stile_mm, thick), _panel(part, part.frame, part.panel, deep)]
    draw_cut(canvas, [placed.path(board) for board in boards])
    labels = [Label(subject.face("front"), placed.at(complex(deep * 0.4, thick)), rise=2.2)]
    top, foot = thick, 0.0
    if part.frame and part.frame.rebate:
        rebate = part.frame.rebate
        said_ = by(rebate.width_mm, rebate.depth_mm, units=units)
        at = complex(part.frame.stile_mm - rebate.width_mm / 2, rebate.depth_mm)
        labels.append(Label(f"rebate {said_}", placed.at(at), role="size"))
    if part.frame and part.panel and not opening:
        top = (thick + part.panel.thickness_mm) / 2
        foot = top - part.panel.thickness_mm
        labels += _panel_labels(part, part.frame, part.panel, placed, units)
    labels.append(Label(subject.face("back"), placed.at(complex(deep * 0.4, 0.0)), rise=-1.5))
    if not opening:
        canvas.break_line(placed.at(complex(deep, top)), placed.at(complex(deep, foot)))
    draw_height(canvas, placed.path(boards[0]), text)
    if part.frame:
        draw_width(canvas, placed.path(boards[0]), size(part.frame.stile_mm, units))
    draw_column(canvas, labels, margin + deep * scale.factor + 5.0, head + 2.5)


def _section_depth(part: Door) -> float:
    """Return how far into the door the section goes. [mm]"""
    if part.frame is None or part.panel is None:
        return min(1.5 * part.thickness_mm, part.width_mm)
    if isinstance(part.panel, DoorOpening):
        return part.frame.stile_mm
    slope = part.panel.raised.width_mm if part.panel.raised else 0.0
    return min(part.frame.stile_mm + slope + part.thickness_mm, part.width_mm / 2)


def _stile(part: Door, frame: Frame) -> Subpath:
    """Return the section of a stile round an opening, with its rebate from behind."""
    stile, thick = frame.stile_mm, part.thickness_mm
    if frame.rebate is None:
        return rectangle(0.0, 0.0, stile, thick)
    step, deep = frame.rebate.width_mm, frame.rebate.depth_mm
    points = [0j, complex(stile - step, 0.0), complex(stile - step, deep), complex(stile, deep)]
    return closed(*points, complex(stile, thick), complex(0.0, thick))


def _panel(part: Door, frame: Frame, panel: DoorPanel, deep: float) -> Subpath:
    """Return the section of the panel, in the middle of the frame's thickness."""
    foot = (part.thickness_mm - panel.thickness_mm) / 2
    top, stile = foot + panel.thickness_mm, frame.stile_mm
    points = [complex(stile, foot), complex(deep, foot), complex(deep, top)]
    if panel.raised:
        points += [complex(stile + panel.raised.width_mm, top), complex(stile, top - panel.raised.fall_mm)]
    else:
        points.append(complex(stile, top))
    return closed(*points)


def _panel_labels(part: Door, frame: Frame, panel: DoorPanel, placed: Pose, units: Units) -> list[Label]:
    middle, deep = part.thickness_mm / 2, _section_depth(part)
    labels = [Label(f"panel {size(panel.thickness_mm, units)}", placed.at(complex(deep * 0.95, middle)), role="size")]
    if panel.raised:
        at = complex(frame.stile_mm + panel.raised.width_mm / 2, middle + panel.thickness_mm / 2)
        at -= 0.5j * panel.raised.fall_mm
        raised = by(panel.raised.width_mm, panel.raised.fall_mm, units=units)
        labels.insert(0, Label(f"raised {raised}", placed.at(at), role="size"))
    return labels

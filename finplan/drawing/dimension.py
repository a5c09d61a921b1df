"""Dimension lines: a size between two extension lines, its text where it fits."""

from __future__ import annotations

from collections.abc import Sequence

from finplan.drawing.callout import WHOLE_WIDTH, Callout, callout_height, draw_callouts
from finplan.drawing.canvas import Canvas, Pen
from finplan.drawing.lettering import ARROWS_MM, CAPITAL_MM, LINE_GAP_MM, text_width

OFF_MM = 5.4
"""From a view to its first dimension line, and from one to the next: room for a text between them."""
UPRIGHT_OFF_MM = 3.8
"""From a view to a dimension line at its left, whose text lies beyond it."""
_GAP_MM = 0.8
_BEYOND_MM = 1.0
_TAIL_MM = 3.5


def level_size(canvas: Canvas, left: complex, right: complex, y: float, text: str) -> None:
    """Draw the distance between two points along x, the dimension line at *y*, its text above it or beside it."""
    for point in (left, right):
        _extension(canvas, point, complex(point.real, y))
    from_x, to_x = left.real, right.real
    outside = to_x - from_x < ARROWS_MM
    _arrows(canvas, complex(from_x, y), complex(to_x, y), 1 + 0j, outside=outside)
    if text_width(text) <= to_x - from_x - _GAP_MM:
        canvas.text((from_x + to_x) / 2, y - _GAP_MM, text)
    elif outside:
        _beside(canvas, from_x, to_x, y, text)
    else:
        canvas.text((from_x + to_x) / 2, y + _GAP_MM + CAPITAL_MM, text)


def _beside(canvas: Canvas, from_x: float, to_x: float, y: float, text: str) -> None:
    """Set a text at the end of an outside arrow: at the right or, where there is no room, at the left."""
    fits = to_x + _TAIL_MM + _GAP_MM + text_width(text) <= canvas.right
    if fits:
        canvas.text(to_x + _TAIL_MM + _GAP_MM, y + CAPITAL_MM / 2, text, anchor="start")
    else:
        canvas.text(from_x - _TAIL_MM - _GAP_MM, y + CAPITAL_MM / 2, text, anchor="end")


def upright_size(canvas: Canvas, top: complex, foot: complex, x: float, text: str) -> None:
    """Draw the distance between two points along y, the dimension line at *x*, its text to the left of it."""
    for point in (top, foot):
        _extension(canvas, point, complex(x, point.imag))
    from_y, to_y = top.imag, foot.imag
    _arrows(canvas, complex(x, from_y), complex(x, to_y), 1j, outside=to_y - from_y < ARROWS_MM)
    if text_width(text) <= to_y - from_y - _GAP_MM:
        canvas.upright_text(x - _GAP_MM, (from_y + to_y) / 2, text)
    else:
        canvas.text(x - _GAP_MM, (from_y + to_y + CAPITAL_MM) / 2, text, anchor="end")


def room_at_left(text: str) -> float:
    """Return how far to the right a view begins that has an upright size with this text at its left. [mm]"""
    return UPRIGHT_OFF_MM + max(text_width(text) + 3 * _GAP_MM, LINE_GAP_MM)


def _extension(canvas: Canvas, start: complex, end: complex) -> None:
    run = end - start
    if abs(run) <= _GAP_MM:
        return
    along = run / abs(run)
    canvas.line(start + along * _GAP_MM, end + along * _BEYOND_MM)


def _arrows(canvas: Canvas, start: complex, end: complex, along: complex, *, outside: bool) -> None:
    """Draw a dimension line with its arrow heads, between its ends or outside them."""
    if outside:
        canvas.line(start - _TAIL_MM * along, end + _TAIL_MM * along)
        canvas.arrow(start, along)
        canvas.arrow(end, -along)
    else:
        canvas.line(start, end)
        canvas.arrow(start, -along)
        canvas.arrow(end, along)


def chain(canvas: Canvas, points: Sequence[complex], texts: Sequence[str], y: float) -> list[str]:
    """Draw the distances between neighbouring points along one line at *y*, and return the texts that found no room.

    A text that is wider than its distance stands in a row below, at the end of a leader.
    """
    for point in points:
        _extension(canvas, point, complex(point.real, y))
    canvas.line(complex(points[0].real, y), complex(points[-1].real, y))
    below: list[Callout] = []
    for start, end, text in zip(points[:-1], points[1:], texts, strict=True):
        middle = (start.real + end.real) / 2
        if text_width(text) <= end.real - start.real - _GAP_MM:
            canvas.text(middle, y - _GAP_MM, text)
        else:
            below.append(Callout(text, complex(middle, y), "size", "plain"))
    for point in points:
        _tick(canvas, complex(point.real, y))
    inside = (points[0].real + _BEYOND_MM, points[-1].real - _BEYOND_MM)
    for rows in (inside, WHOLE_WIDTH):
        if callout_height(below, rows) is not None:
            draw_callouts(canvas, below, y + _BEYOND_MM, rows=rows, down=True)
            return []
    return [item.text for item in below]


def _tick(canvas: Canvas, centre: complex) -> None:
    slant = 0.7 - 0.7j
    canvas.line(centre - slant, centre + slant, pen=Pen.VISIBLE)

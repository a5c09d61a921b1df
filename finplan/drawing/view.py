"""A view on the paper: its caption, its scale, its place, and the callouts above it."""

from __future__ import annotations

from collections.abc import Sequence

from finplan.drawing.callout import WHOLE_WIDTH, Callout, callout_height, draw_callouts, fitting
from finplan.drawing.canvas import MARGIN_MM, WIDTH_MM, Canvas
from finplan.drawing.lettering import ARROWS_MM
from finplan.drawing.scale import scale_for
from finplan.geometry import Pose, on_paper

SIDE_MM = 3.0
"""What is left free beside a view that has nothing there."""
_BELOW_CAPTION_MM = 2.8
_CLEAR_MM = 1.0
ViewBox = tuple[float, float, float, float]
"""The least x, the least y, the greatest x and the greatest y. [mm]"""


def place_view(
    canvas: Canvas,
    words: str,
    box: ViewBox,
    callouts: Sequence[Callout] = (),
    *,
    highest: float,
    before: float = SIDE_MM,
    behind: float = SIDE_MM,
    clear: float = 0.0,
) -> Pose:
    """Caption a view, draw its callouts, and return where the part comes to lie below them.

    Parameters
    ----------
    canvas
        The paper
    words
        What the view shows
    box
        What holds the part, y upwards. [mm]
    callouts
        What is said above it, at points of the part
    highest
        How high it may be on paper. [mm]
    before, behind
        What is kept free at its left and at its right. [mm]
    clear
        How much farther above it the callouts begin. [mm]
    """
    left, bottom, right, top = box
    room = WIDTH_MM - before - behind
    scale = scale_for((right - left, room), (top - bottom, highest))
    baseline = canvas.caption(words, scale)
    start = before + (room - (right - left) * scale.factor) / 2
    # The arrows of a small height stand outside it: callouts keep off them where there is room.
    small = before > SIDE_MM and (top - bottom) * scale.factor < ARROWS_MM
    rows = (start - _CLEAR_MM if small else MARGIN_MM, WIDTH_MM - MARGIN_MM)
    if callout_height(callouts, rows) is None:
        rows = WHOLE_WIDTH
    kept, put_off = fitting(callouts, rows)
    canvas.put_off += [item.text for item in put_off]
    upper = baseline + _BELOW_CAPTION_MM + clear + (callout_height(kept, rows) or 0.0)
    placed = on_paper(scale.factor, complex(start, upper), complex(left, top))
    draw_callouts(canvas, kept, upper - clear - _CLEAR_MM, placed=placed, rows=rows)
    return placed

"""The names of a lying part's two ends, which read upwards beside it."""

from __future__ import annotations

from finplan.drawing.canvas import WIDTH_MM, Canvas
from finplan.drawing.lettering import LINE_GAP_MM, text_width
from finplan.drawing.scale import scale_for
from finplan.drawing.told import told

END_MM = LINE_GAP_MM + 1.5
"""The room that a name takes beside the part."""
_NAMES = ("top-end", "foot-end")


def room_for_ends(length_mm: float, high_mm: float, highest: float) -> float:
    """Return by how much the names stand above the part, on paper. [mm]"""
    scale = scale_for((length_mm, WIDTH_MM - 2 * END_MM), (high_mm, highest))
    return max(0.0, (max(map(text_width, _NAMES)) - high_mm * scale.factor) / 2)


def draw_ends(canvas: Canvas, top: complex, foot: complex) -> None:
    """Set the names beside the middles of both ends, the top end at the left."""
    canvas.upright_text(top.real - 2.2, top.imag, told(_NAMES[0], "faces", _NAMES[0]), role="face")
    canvas.upright_text(foot.real + LINE_GAP_MM + 0.6, foot.imag, told(_NAMES[1], "faces", _NAMES[1]), role="face")

"""Sections of cut wood, and the sizes of a view."""

from __future__ import annotations

from collections.abc import Sequence

from finplan.drawing.canvas import Canvas, Pen
from finplan.drawing.dimension import OFF_MM, UPRIGHT_OFF_MM, level_size, upright_size
from finplan.geometry import Subpath, bounds, flattened


def draw_cut(canvas: Canvas, paths: Sequence[Subpath], pen: Pen = Pen.OUTLINE) -> None:
    """Draw cut wood: each outline and its hatching."""
    for path in paths:
        canvas.hatch([path])
        canvas.path(path, pen)


def draw_width(canvas: Canvas, path: Subpath, text: str, *, lower: float = 0.0) -> None:
    """Draw the width of a path below it; *lower* by that much. [mm]"""
    left, _, right, bottom = bounds(flattened(path))
    level_size(canvas, complex(left, bottom), complex(right, bottom), bottom + OFF_MM + lower, text)


def draw_height(canvas: Canvas, path: Subpath, text: str) -> None:
    """Draw the height of a path at its left."""
    left, top, _, bottom = bounds(flattened(path))
    upright_size(canvas, complex(left, top), complex(left, bottom), left - UPRIGHT_OFF_MM, text)

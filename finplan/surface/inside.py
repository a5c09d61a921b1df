"""How much room there is inside a carcase or a drawer for whatever works on its inner faces."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.inputs.shapes import Carcase, Drawer, Part

INNER = frozenset({"inside", "shelves"})
"""The faces that lie inside."""


@dataclass(frozen=True, slots=True)
class Inside:
    """What a tool finds inside something. Lengths in mm."""

    width_mm: float
    """How wide the narrowest surface is."""
    clear_mm: float
    """How far from a surface the nearest one opposite is."""


def inside_of(part: Part) -> Inside | None:
    """Return the room inside a part; None of one that has no inner faces.

    Notes
    -----
    A file says how many shelves there are and not where: they are taken to stand at equal distances.

    Examples
    --------
    >>> from finplan.reading import validate
    >>> sizes = {"width": 400, "height": 100, "depth": 300, "thickness": 12, "bottom": 6}
    >>> drawer, _ = validate(Drawer, {"shape": "drawer", **sizes}, lengths="mm")
    >>> inside_of(drawer)
    Inside(width_mm=94.0, clear_mm=276.0)
    """
    match part:
        case Carcase():
            thick = part.thickness_mm
            closed = part.front == "closed"
            wide, high = part.width_mm - 2 * thick, part.height_mm - 2 * thick
            deep = part.depth_mm - (part.back_mm or 0.0) - (thick if closed else 0.0)
            between = (high - part.shelves * thick) / (part.shelves + 1)
            opposite = (wide, between, deep) if closed and part.back_mm is not None else (wide, between)
            return Inside(min(wide, between, deep), min(opposite))
        case Drawer():
            wide, deep = part.width_mm - 2 * part.thickness_mm, part.depth_mm - 2 * part.thickness_mm
            return Inside(min(wide, deep, part.height_mm - part.bottom_mm), min(wide, deep))
        case _:
            return None

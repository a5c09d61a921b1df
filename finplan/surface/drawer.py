"""Drawers: which surface of which board belongs to which face.

Drawn in ``finplan/guide/drawer.svg``. Width, height and depth are over all; front, sides and back are equally thick
and high.

- The front runs the full width; the sides run from it to the rear; the back stands between the sides.
- The bottom lies between all four, flush with their lower edges.

====================  =================================================================================================
``front``             the outer face of the front
``outside``           what shows from both sides and from the rear, and the under side of the bottom
``inside``            the inner faces of front, sides and back above the bottom, and the upper face of the bottom
``edges``             the upper and lower edges of front, sides and back
====================  =================================================================================================

The grain runs along each board: front, back and bottom along the width, sides along the depth. So the front's ends,
seen from the sides, and the sides' ends, seen from the rear, are end grain in ``outside``. With ``grain: width`` every
board is turned in its own plane: the upright ones run upwards, so that all ``edges`` are end grain, and no others.
"""

from __future__ import annotations

from finplan.inputs.shapes import Drawer
from finplan.surface.face import BareFace
from finplan.surface.tally import Tally


def drawer_faces(part: Drawer) -> list[BareFace]:
    """Return the faces of a drawer, as described at the head of this module.

    Examples
    --------
    >>> from finplan.reading import validate
    >>> sizes = {"width": 400, "height": 100, "depth": 300, "thickness": 12, "bottom": 6}
    >>> drawer, _ = validate(Drawer, {"shape": "drawer", **sizes}, lengths="mm")
    >>> [(face.face, face.area_mm2) for face in drawer_faces(drawer)]
    [('front', 40000.0), ('outside', 203776.0), ('inside', 226352.0), ('edges', 32448.0)]
    """
    wide, high, deep, thick = part.width_mm, part.height_mm, part.depth_mm, part.thickness_mm
    clear_wide, clear_deep, clear_high = wide - 2 * thick, deep - 2 * thick, high - part.bottom_mm
    across = part.grain == "width"
    bottom_mm2 = clear_wide * clear_deep
    ends_mm2 = 4 * thick * high
    edges_mm2 = 2 * (wide * deep - bottom_mm2)
    tally = Tally(part.face_names())
    tally.add("front", wide * high)
    tally.add("outside", (wide + 2 * deep) * high - ends_mm2 + bottom_mm2)
    tally.add("outside", ends_mm2, 0.0 if across else ends_mm2)
    tally.add("inside", 2 * (clear_wide + clear_deep) * clear_high + bottom_mm2)
    tally.add("edges", edges_mm2, edges_mm2 if across else 0.0)
    return tally.faces()

"""Doors: which surface of which board belongs to which face.

Drawn in ``finplan/guide/door.svg``.

- Without a frame a door is one board, its grain upwards.
- With one, the stiles run the full height and the rails stand between them. The panel lies in the middle of the
  frame's thickness. Its flat back is as far below the back of the frame as its field is below the front.
- A frame round glass or round nothing (``panel: glass`` or ``none``) has its inner edges bare: half of their depth is
  of the front and half of the back. With a ``rebate`` along them from behind the front has what is before it, and the
  back its wall and its floor, on which the glass comes to lie when all is dry.
- A raised panel, ``raised: W x H``, slopes all round its front: from the field outwards over a width W, seen from the
  front, down by a fall H, to where it meets the frame. The slopes mitre in the corners.

====================  =================================================================================================
``front``             the front of the frame, its inner edges as far down as the panel or a rebate, and the panel
``back``              the same from behind, with a rebate
``edges``             the four outer edges
====================  =================================================================================================

The grain of stiles and panel runs upwards, that of the rails along the width; so the stiles' ends are the end grain of
``edges``, and the slopes above and below the field show some in ``front``. With ``grain: width`` the panel, or the
plain door, is turned in its plane.
"""

from __future__ import annotations

import math

from finplan.inputs.shapes import Door, DoorOpening
from finplan.surface.face import BareFace
from finplan.surface.tally import Tally


def door_faces(part: Door) -> list[BareFace]:
    """Return the faces of a door, as described at the head of this module.

    Examples
    --------
    >>> from finplan.reading import validate
    >>> fields = {"frame": {"stile": 60, "rail": 80}, "panel": {"thickness": 10, "raised": "40 x 4"}}
    >>> sizes = {"shape": "door", "width": 400, "height": 600, "thickness": 20}
    >>> door, _ = validate(Door, {**sizes, **fields}, lengths="mm")
    >>> [(face.face, face.area_mm2, face.end_grain) for face in door_faces(door)]
    [('front', 253215.4, 0.0075825), ('back', 247200.0, 0.0), ('edges', 40000.0, 0.12)]
    """
    wide, high, thick = part.width_mm, part.height_mm, part.thickness_mm
    across = part.grain == "width"
    tally = Tally(part.face_names())
    edges_mm2 = 2 * (wide + high) * thick
    if part.frame is None or part.panel is None:
        for face in ("front", "back"):
            tally.add(face, wide * high)
        tally.add("edges", edges_mm2, 2 * (high if across else wide) * thick)
        return tally.faces()

    tally.add("edges", edges_mm2, 4 * part.frame.stile_mm * thick, of="frame")
    panel_wide, panel_high = wide - 2 * part.frame.stile_mm, high - 2 * part.frame.rail_mm
    round_mm = 2 * (panel_wide + panel_high)
    if isinstance(part.panel, DoorOpening):
        rebate = part.frame.rebate
        wall, step = (thick / 2, 0.0) if rebate is None else (rebate.depth_mm, rebate.width_mm)
        for face in ("front", "back"):
            tally.add(face, wide * high - panel_wide * panel_high, of="frame")
        tally.add("front", round_mm * (thick - wall), of="frame")
        # Its floor is as large as what it takes from the back of the frame, and lies in the same plane.
        tally.add("back", (round_mm + 8 * step) * wall, of="frame")
        return tally.faces()
    recess = (thick - part.panel.thickness_mm) / 2
    for face in ("front", "back"):
        tally.add(face, wide * high - panel_wide * panel_high, of="frame")
        tally.add(face, panel_wide * panel_high, of="panel")
        tally.add(face, round_mm * recess, of="frame")
    if part.panel.raised:
        slope, fall = part.panel.raised.width_mm, part.panel.raised.fall_mm
        plan_mm2 = slope * (round_mm - 4 * slope)
        across_grain = panel_high if across else panel_wide
        tally.add("front", round_mm * fall, of="panel")
        tally.add(
            "front", plan_mm2 * (math.hypot(slope, fall) / slope - 1), 2 * fall * (across_grain - slope), of="panel"
        )
    return tally.faces()

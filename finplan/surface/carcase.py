"""Carcases: which surface of which board belongs to which face.

Drawn in ``finplan/guide/carcase.svg``. Width, height and depth are over all.

- Both sides run the full height and depth. Top and bottom stand between them, over the full depth.
- The back stands between sides, top and bottom, flush with their rear edges. Without a back the carcase is open there.
- ``front: closed`` is a fixed board, as thick as the rest, between sides, top and bottom and flush with their front
  edges. Doors and drawers are parts of their own: for them the front stays open.
- Shelves stand between the sides, from the back (or the rear edges) to the closed front (or the front edges). What
  they stand against is glued and belongs to no face.

====================  =================================================================================================
``outside``           what shows from the two sides, from above and from below, with the sides' ends; a closed front
``inside``            the inner faces of sides, top, bottom, back and closed front, less where shelves stand
``shelves``           the upper and lower faces of the shelves
``edges``             the front edges of sides, top, bottom and, in an open front, shelves
``rear``              the outer face of the back and the rear edges round it; without a back all rear edges
====================  =================================================================================================

The grain of sides, back and closed front runs upwards, that of top, bottom and shelves along the width; so only the
sides' ends, above and below, are end grain. With ``grain: width`` every board is turned in its own plane: sides, top,
bottom and shelves run from front to rear, so that all front and rear edges are end grain; back and closed front run
along the width.
"""

from __future__ import annotations

from finplan.inputs.shapes import Carcase
from finplan.surface.face import BareFace
from finplan.surface.tally import Tally


def carcase_faces(part: Carcase) -> list[BareFace]:
    """Return the faces of a carcase, as described at the head of this module.

    Examples
    --------
    >>> from finplan.reading import validate
    >>> sizes = {"width": 800, "height": 1200, "depth": 300, "thickness": 20, "back": 6, "shelves": 2}
    >>> carcase, _ = validate(Carcase, {"shape": "carcase", **sizes}, lengths="mm")
    >>> [(face.face, face.area_mm2) for face in carcase_faces(carcase)][:2]
    [('outside', 1200000.0), ('inside', 1956640.0)]
    """
    wide, high, deep, thick = part.width_mm, part.height_mm, part.depth_mm, part.thickness_mm
    clear_wide, clear_high = wide - 2 * thick, high - 2 * thick
    closed = part.front == "closed"
    clear_deep = deep - (part.back_mm or 0.0) - (thick if closed else 0.0)
    across = part.grain == "width"
    tally = Tally(part.face_names())

    tally.add("outside", 2 * high * deep, of="sides")
    tally.add("outside", 2 * clear_wide * deep, of="sides")
    tally.add("outside", 4 * thick * deep, 0.0 if across else 4 * thick * deep, of="sides")
    tally.add("inside", 2 * (clear_wide + clear_high) * clear_deep, of="sides")
    frame_mm2 = wide * high - clear_wide * clear_high
    upright_mm2 = clear_wide * clear_high
    shelf_edge_mm2 = part.shelves * clear_wide * thick
    tally.add("edges", frame_mm2, frame_mm2 if across else 0.0, of="sides")
    tally.add("rear", frame_mm2, frame_mm2 if across else 0.0, of="sides")
    if part.shelves:
        tally.add("shelves", 2 * part.shelves * clear_wide * clear_deep, of="shelves")
        tally.add("inside", -2 * part.shelves * thick * clear_deep, of="sides")
    if closed:
        tally.add("outside", upright_mm2, of="sides")
        tally.add("inside", upright_mm2 - shelf_edge_mm2, of="sides")
    elif part.shelves:
        tally.add("edges", shelf_edge_mm2, shelf_edge_mm2 if across else 0.0, of="shelves")
    if part.back_mm is not None:
        tally.add("rear", upright_mm2, of="back")
        tally.add("inside", upright_mm2 - shelf_edge_mm2, of="back")
    elif part.shelves:
        tally.add("rear", shelf_edge_mm2, shelf_edge_mm2 if across else 0.0, of="shelves")
    return tally.faces()

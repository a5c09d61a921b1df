"""The drawings of a whole piece."""

from __future__ import annotations

from finplan.drawing.part import part_drawing
from finplan.inputs import Piece
from finplan.quantity import Units
from finplan.surface import piece_surface


def piece_drawings(piece: Piece, units: Units | None = None) -> dict[str, str]:
    """Return the drawing of every part of a piece by the part's name.

    Parameters
    ----------
    piece
        As the file describes it
    units
        How sizes are shown; without them as the file says, else in millimetres

    Raises
    ------
    FindingsError
        Anything that is wrong with any part or joint; paths start at the top of the file.
    """
    shown: Units = units or piece.units or "metric"
    exposures = {part.part: {face.face: face.exposure for face in part.faces} for part in piece_surface(piece).parts}
    return {
        name: part_drawing(
            name,
            part,
            shown,
            glued={face for face, exposure in exposures[name].items() if exposure == "covered"},
        )
        for name, part in piece.parts.items()
    }

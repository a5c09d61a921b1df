"""Boards that get thinner towards the far end, straight or bent; their front is as that of a board that does not.

The front is flat, or lies on the bend; the back nears it in a straight line. All is measured on the front while the
board is flat. With ``grain: width`` the grain runs along the ends.
"""

from __future__ import annotations

import math

from finplan.geometry import integrate
from finplan.inputs.shapes import Board
from finplan.surface.face import BareFace
from finplan.surface.tally import Tally


def thinned_board_faces(part: Board) -> list[BareFace]:
    """Return the faces of a board whose thickness falls.

    Notes
    -----
    With s along the front, w and t the width and the thickness there, and κ one over the radius of the bend, a strip
    ``ds`` of the back has the area ``w·sqrt((1 − κt)² + t'²)·ds``, of the bottom edge at the depth d
    ``sqrt((1 − κd)² + w'²)·ds·dd``, and of the top edge, which stays level, ``(1 − κd)·ds·dd``. Seen along the grain
    they are ``w·|t'|``, ``|w'|`` and nothing; across it, with ``grain: width``, nothing, ``1 − κd`` and all of it.
    """
    return _Thinning(part).faces()


class _Thinning:
    """Collects the surfaces of one such board."""

    def __init__(self, board: Board) -> None:
        self.board = board
        self.curvature = 0.0 if board.radius_mm is None else 1 / board.radius_mm
        self.narrowing = (board.width_mm - board.far_width_mm) / board.length_mm
        self.thinning = (board.thickness_mm - board.far_thickness_mm) / board.length_mm
        self.tally = Tally(board.face_names())

    def _width(self, along_mm: float) -> float:
        return self.board.width_mm - self.narrowing * along_mm

    def _thickness(self, along_mm: float) -> float:
        return self.board.thickness_mm - self.thinning * along_mm

    def faces(self) -> list[BareFace]:
        board, across_grain = self.board, self.board.grain == "width"
        front_mm2 = board.length_mm * (board.width_mm + board.far_width_mm) / 2
        self.tally.add("front", front_mm2)
        back_mm2 = integrate(self._back_mm, 0.0, board.length_mm)
        self.tally.add("back", back_mm2, 0.0 if across_grain else front_mm2 * self.thinning)
        level_mm2 = integrate(self._level_mm, 0.0, board.length_mm)
        self.tally.add("top-edge", level_mm2, level_mm2 if across_grain else 0.0)
        middle_mm = (board.thickness_mm + board.far_thickness_mm) / 2
        lengthwise_mm2 = board.length_mm * middle_mm * self.narrowing
        bottom_mm2 = integrate(self._sloping_mm, 0.0, board.length_mm)
        self.tally.add("bottom-edge", bottom_mm2, level_mm2 if across_grain else lengthwise_mm2)
        ends_mm2 = board.width_mm * board.thickness_mm + board.far_width_mm * board.far_thickness_mm
        self.tally.add("ends", ends_mm2, 0.0 if across_grain else ends_mm2)
        return self.tally.faces()

    def _back_mm(self, along_mm: float) -> float:
        shortened = 1 - self.curvature * self._thickness(along_mm)
        return self._width(along_mm) * math.hypot(shortened, self.thinning)

    def _level_mm(self, along_mm: float) -> float:
        thickness = self._thickness(along_mm)
        return thickness * (1 - self.curvature * thickness / 2)

    def _sloping_mm(self, along_mm: float) -> float:
        thickness = self._thickness(along_mm)
        if not self.curvature:
            return thickness * math.hypot(1.0, self.narrowing)
        return integrate(lambda d: math.hypot(1 - self.curvature * d, self.narrowing), 0.0, thickness)

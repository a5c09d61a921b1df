"""Boards: straight, arched, tapered or bent, with grooves and eased arrises.

What the piece file leaves open is settled here:

- Set-backs, and the depth of a groove in an edge, are measured square to the edge they belong to, as a cutter guided
  along that edge works. Along a tapered board's sloping edge the grooves and arrises follow the slope; along an arch
  the arrises follow the arc.
- A groove in the front or the back runs parallel to the top edge. A groove in an edge runs in the middle of the
  thickness, which tells only where the board is bent; several are taken as spread evenly about it.
- A bent board is shaped flat, measured on its front, and then bent. A tapered one's bottom edge becomes a helicoid.
- With ``grain: width`` the grain runs along the ends, parallel to a bent board's axis.
"""

from __future__ import annotations

from finplan.inputs.shapes import Board, Groove, Profile
from finplan.surface.face import BareFace
from finplan.surface.long_edge import ArchedEdge, BentEdge, FlatEdge, LongEdge
from finplan.surface.tally import Tally
from finplan.surface.thinned_board import thinned_board_faces


def board_faces(part: Board) -> list[BareFace]:
    """Return the faces of a board.

    Examples
    --------
    >>> from finplan.reading import validate
    >>> board, _ = validate(Board, {"shape": "board", "length": 620, "width": 100, "thickness": 22}, lengths="mm")
    >>> [(face.face, face.area_mm2, face.end_grain) for face in board_faces(board)][2:]
    [('top-edge', 13640.0, 0.0), ('bottom-edge', 13640.0, 0.0), ('ends', 4400.0, 1.0)]
    """
    return thinned_board_faces(part) if part.thins else _Shaping(part).faces()


class _Shaping:
    """Collects the surfaces of one board."""

    def __init__(self, board: Board) -> None:
        self.board = board
        self.thickness = board.thickness_mm
        self.eased = board.eased_mm
        self.far_width = board.far_width_mm
        self.across_grain = board.grain == "width"
        slope = (board.width_mm - self.far_width) / board.length_mm
        self.top: LongEdge
        self.bottom: LongEdge
        self.radius = board.radius_mm
        if self.radius is not None:
            angle = board.length_mm / self.radius
            self.top, self.bottom = BentEdge(self.radius, angle), BentEdge(self.radius, angle, slope)
        elif board.arch:
            self.top, self.bottom = FlatEdge(board.length_mm), ArchedEdge(board.length_mm, board.arch.rise_mm)
        else:
            self.top, self.bottom = FlatEdge(board.length_mm), FlatEdge(board.length_mm, slope)
        self.tally = Tally(board.face_names())

    def faces(self) -> list[BareFace]:
        self._long_faces()
        self._ends()
        for groove in self.board.grooves:
            if groove.face in ("front", "back"):
                self._groove_in_face(groove)
            else:
                self._groove_in_edge(groove)
        if self.board.arris and self.eased:
            self._arrises(self.board.arris)
        return self.tally.faces()

    def _end_grain(self, edge: LongEdge, near_mm: float, far_mm: float) -> float:
        """Return the integral of |n·g| over the edge between two depths."""
        if self.across_grain:
            return edge.through_widthwise_mm2(near_mm, far_mm)
        return edge.through_lengthwise_mm2(near_mm, far_mm)

    def _long_faces(self) -> None:
        for face, depth in (("front", 0.0), ("back", self.thickness)):
            self.tally.add(face, self._whole_face_mm2(depth))
            for edge in (self.top, self.bottom):
                self.tally.add(face, -edge.across_mm2(self.eased, depth))
        for face, edge in (("top-edge", self.top), ("bottom-edge", self.bottom)):
            strip = (self.eased, self.thickness - self.eased)
            self.tally.add(face, edge.through_mm2(*strip), self._end_grain(edge, *strip))

    def _whole_face_mm2(self, depth_mm: float) -> float:
        board = self.board
        area = board.length_mm * (board.width_mm + self.far_width) / 2
        if self.radius is not None:
            area *= (self.radius - depth_mm) / self.radius
        return area - (self.bottom.hollow_mm2() if isinstance(self.bottom, ArchedEdge) else 0.0)

    def _ends(self) -> None:
        area = (self.board.width_mm + self.far_width) * self.thickness
        if self.board.arris and self.eased:
            area -= 4 * (self.top.end_loss_mm2(self.board.arris) + self.bottom.end_loss_mm2(self.board.arris))
        self._add_ends(area)

    def _add_ends(self, area_mm2: float) -> None:
        self.tally.add("ends", area_mm2, 0.0 if self.across_grain else area_mm2)

    def _groove_in_face(self, groove: Groove) -> None:
        at_back = groove.face == "back"
        mouth, floor = (self.thickness, self.thickness - groove.depth_mm) if at_back else (0.0, groove.depth_mm)
        wall = self.top.through_mm2(min(mouth, floor), max(mouth, floor))
        self.tally.add(groove.face, -self.top.across_mm2(groove.width_mm, mouth))
        self.tally.add("grooves", self.top.across_mm2(groove.width_mm, floor))
        self.tally.add("grooves", 2 * wall, 2 * wall if self.across_grain else 0.0)
        self._add_ends(-2 * groove.width_mm * groove.depth_mm)

    def _groove_in_edge(self, groove: Groove) -> None:
        edge = self.top if groove.face == "top-edge" else self.bottom
        near, far = (self.thickness - groove.width_mm) / 2, (self.thickness + groove.width_mm) / 2
        turned = self._end_grain(edge, near, far)
        self.tally.add(groove.face, -edge.through_mm2(near, far), -turned)
        self.tally.add("grooves", edge.through_mm2(near, far), turned)
        for depth in (near, far):
            self.tally.add("grooves", edge.across_mm2(groove.depth_mm, depth))
        self._add_ends(-2 * groove.width_mm * groove.depth_mm * edge.stretch)

    def _arrises(self, arris: Profile) -> None:
        for edge in (self.top, self.bottom):
            for at_back in (None, self.thickness):
                if self.across_grain:
                    near, far = (0.0, self.eased) if at_back is None else (at_back - self.eased, at_back)
                    turned = edge.through_widthwise_mm2(near, far)
                else:
                    turned = edge.arris_lengthwise_mm2(arris)
                self.tally.add("arrises", edge.arris_mm2(arris, at_back_mm=at_back), turned)

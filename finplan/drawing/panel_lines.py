"""The lines of a panel's plan, from the outline that gives its areas."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.drawing.edge import edge_profiles
from finplan.geometry import ParallelCurves, Pose, Subpath, flattened, outline_path, strands_path
from finplan.inputs.shapes import OutlinePanel, Panel
from finplan.surface import plan_view


@dataclass(frozen=True, slots=True)
class PanelLines:
    """What a plan shows, in mm, as the maker gave it: the length along x, y upwards."""

    outline: Subpath
    holes: tuple[Subpath, ...]
    flat_face: Subpath | None
    """Where the flat face above begins, if the edge sets it back and leaves any."""

    @property
    def top(self) -> tuple[Subpath, ...]:
        """What bounds the flat face above: its outline and the holes."""
        return (self.flat_face or self.outline, *self.holes)


def panel_lines(part: Panel) -> PanelLines:
    """Return the lines of the plan of a panel that there is."""
    seen = plan_view(part)
    # The areas are taken with the grain along x; the y axis of a path points down.
    downwards = isinstance(part, OutlinePanel) and part.drawn_by == "path"
    turn = Pose(-1j) if part.grain == "width" else Pose(mirrored=downwards)
    set_back_mm = edge_profiles(part)[0].set_back_mm
    flat_face = None
    if set_back_mm:
        curves = ParallelCurves(seen.outline)
        curves.corners(set_back_mm)  # follows the outline so far
        flat_face = turn.path(strands_path(curves.front_at(set_back_mm).strands(set_back_mm)))
        flat_face = flat_face if flattened(flat_face) else None
    holes = tuple(turn.path(outline_path(hole)) for hole in seen.holes)
    return PanelLines(turn.path(outline_path(seen.outline)), holes, flat_face)

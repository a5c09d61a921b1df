"""Which faces are treated alike: by how they are worked, how they are seen, and what the file says of them."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.inputs import Piece
from finplan.inputs.shapes import Exposure, Panel, Part
from finplan.surface import Face, PartSurface
from finplan.system.treatment import FaceGroup, FaceKind

_FLAT = frozenset({"top", "underside", "front", "back", "outside", "inside", "shelves", "rear", "sides", "blocks"})
_MOSTLY = 0.9
"""A face whose mean end grain is above this is worked as an end; a disc's edge (0.64) is not, an end (1) is."""


@dataclass(frozen=True, slots=True)
class _Alike:
    """What faces of one part have to share to be treated together."""

    system: str | None
    kind: FaceKind
    exposure: Exposure
    surface: str
    coats: int | None


def face_kind(face: Face) -> FaceKind:
    """Return how a face is worked."""
    if face.end_grain > _MOSTLY:
        return "end"
    return "flat" if face.face in _FLAT else "profile"


def incoming_surface(part: Part, face: Face) -> str:
    """Return how a face comes to the bench: as the file says, else as such a face usually does."""
    if part.surface:
        return part.surface
    if face.face in ("turning", "shoulders"):
        return "turned"
    if face.face == "edge" and isinstance(part, Panel) and (part.edge.bullnose or part.edge.top.kind != "square"):
        return "routed"
    return "planed"


def face_groups(piece: Piece, surface: PartSurface, default_system: str | None) -> dict[str | None, list[FaceGroup]]:
    """Return the finished faces of a part in groups that are treated alike, by the system they get.

    Parameters
    ----------
    piece
        The piece that the part belongs to
    surface
        The part's faces
    default_system
        The system of faces for which the file names no other
    """
    part = piece.parts[surface.part]
    together: dict[_Alike, list[Face]] = {}
    for face in surface.faces:
        if face.finished_m2 <= 0:
            continue
        rule = part.faces.get(face.face)
        alike = _Alike(
            system=(rule.system if rule else None) or default_system,
            kind=face_kind(face),
            exposure=face.exposure,
            surface=incoming_surface(part, face),
            coats=rule.coats if rule else None,
        )
        together.setdefault(alike, []).append(face)
    groups: dict[str | None, list[FaceGroup]] = {}
    for alike, faces in together.items():
        group = FaceGroup(
            part=surface.part,
            shape=surface.shape,
            count=surface.count,
            timber=surface.timber or "",
            faces=tuple(face.face for face in faces),
            kind=alike.kind,
            exposure=alike.exposure,
            area_m2=surface.count * sum(face.area_m2 for face in faces),
            end_grain_m2=surface.count * sum(face.area_m2 * face.end_grain for face in faces),
            surface=alike.surface,
            coats=alike.coats,
        )
        groups.setdefault(alike.system, []).append(group)
    return groups

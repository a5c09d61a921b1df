"""Which faces are treated alike: by how they are worked, how they are seen, and what the file says of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from finplan.catalogue import Catalogue, SheetGoods
from finplan.inputs import Piece
from finplan.inputs.shapes import Board, Exposure, Panel, Part
from finplan.surface import INNER, Face, Inside, PartSurface, inside_of
from finplan.system.treatment import FaceGroup, FaceKind

_FLAT = frozenset({"top", "underside", "front", "back", "outside", "inside", "shelves", "rear", "sides", "blocks"})
_STRAIGHT = frozenset({"rectangle", "polygon"})
"""Panels whose edge comes off a circular saw; that of others comes off the bandsaw."""
_NOTHING_LEFT = 1e-9
"""Of a face, what is no board of its own."""
OLD_FILM = "stripped"
"""The surface of what an old coating was taken off: a name in the catalogue's surfaces."""
_HOLLOW = "back"
"""The face of a bent board that is hollow: its front lies outside."""
_MOSTLY = 0.9
"""A face whose mean end grain is above this is worked as an end; a disc's edge (0.64) is not, an end (1) is."""


@dataclass(frozen=True, slots=True)
class _Alike:
    """What faces of one part have to share to be treated together."""

    system: str | None
    board: str
    timber: str
    kind: FaceKind
    exposure: Exposure
    surface: str
    coats: int | None
    veneer_mm: float | None
    start_grit: str | None
    stop_grit: str | None
    inside: Inside | None
    hollow_mm: float | None


def face_kind(face: Face) -> FaceKind:
    """Return how a face is worked."""
    if face.end_grain > _MOSTLY:
        return "end"
    return "flat" if face.face in _FLAT else "profile"


def veneer_of(part: Part, surface: PartSurface, face: Face, sheet: SheetGoods | None = None) -> float | None:
    """Return how thick the veneer on a face is, None where it has none. [mm]

    A part's own veneer lies on its wide flat faces; where it has none, on all but the ends. That of a sheet lies on its
    flat faces.
    """
    rule = part.faces.get(face.face)
    if rule is not None and rule.veneer_mm is not None:
        return rule.veneer_mm or None
    kinds = {face_kind(side) for side in surface.faces}
    lies_on = "flat" if "flat" in kinds else "profile"
    if part.veneer_mm is not None:
        return part.veneer_mm or None if face_kind(face) == lies_on else None
    return sheet.veneer_mm if sheet is not None and face_kind(face) == "flat" else None


def incoming_surface(
    part: Part, face: Face, veneer_mm: float | None = None, sheet: SheetGoods | None = None, *, stripped: bool = False
) -> str:
    """Return how a face comes to the bench: as the file says, else as such a face usually does.

    Parameters
    ----------
    part, face
        The face, and what it belongs to
    veneer_mm
        How thick its veneer is. [mm]
    sheet
        What is otherwise where it is of a sheet
    stripped
        Whether an old coating is taken off the piece
    """
    rule = part.faces.get(face.face)
    said = (rule.surface if rule else None) or part.surface
    if said:
        return said
    if stripped:
        return OLD_FILM
    if sheet is not None and not (veneer_mm and face_kind(face) != "flat"):
        return sheet.faces if face_kind(face) == "flat" else sheet.edges
    if veneer_mm:
        return "veneered"
    if face.face in ("turning", "shoulders"):
        return "turned"
    if face.face == "edge" and isinstance(part, Panel):
        if part.edge.bullnose or part.edge.top.kind != "square":
            return "routed"
        return "saw-cut" if part.shape in _STRAIGHT else "band-sawn"
    arched = face.face == "bottom-edge" and isinstance(part, Board) and part.arch is not None
    if arched or (face.face == "hole" and isinstance(part, Panel)):
        return "band-sawn"
    return "saw-cut" if face_kind(face) == "end" else "planed"


def face_groups(
    piece: Piece, surface: PartSurface, default_system: str | None, catalogue: Catalogue
) -> dict[str | None, list[FaceGroup]]:
    """Return the finished faces of a part in groups that are treated alike, by the system they get.

    Parameters
    ----------
    piece
        The piece that the part belongs to
    surface
        The part's faces
    default_system
        The system of faces for which the file names no other
    catalogue
        Where its timbers are: a sheet comes otherwise than solid wood
    """
    groups: dict[str | None, list[FaceGroup]] = {}
    for alike, faces in _together(piece, surface, default_system, catalogue).items():
        groups.setdefault(alike.system, []).append(_group(surface, alike, faces))
    return groups


def _together(
    piece: Piece, surface: PartSurface, default_system: str | None, catalogue: Catalogue
) -> dict[_Alike, list[tuple[Face, float]]]:
    """Return what is treated alike with its faces, of each the share that is."""
    part = piece.parts[surface.part]
    tight, hollow_mm = _tight(part, catalogue), _hollow_mm(part, catalogue)
    together: dict[_Alike, list[tuple[Face, float]]] = {}
    for face in surface.faces:
        for board, timber, share in _boards(part, face, surface.timber or "") if face.finished_m2 > 0 else ():
            rule = part.faces.get(face.face)
            sheet = catalogue.timbers[timber].sheet if timber in catalogue.timbers else None
            veneer_mm = veneer_of(part, surface, face, sheet)
            alike = _Alike(
                system=(rule.system if rule else None) or default_system,
                board=board,
                timber=timber,
                kind=face_kind(face),
                exposure=face.exposure,
                surface=incoming_surface(part, face, veneer_mm, sheet, stripped=piece.strip is not None),
                coats=rule.coats if rule else None,
                veneer_mm=veneer_mm,
                start_grit=(rule.start_grit if rule else None) or part.start_grit,
                stop_grit=(rule.stop_grit if rule else None) or part.stop_grit,
                inside=tight if face.face in INNER else None,
                hollow_mm=hollow_mm if face.face == _HOLLOW else None,
            )
            together.setdefault(alike, []).append((face, share))
    return together


def _group(surface: PartSurface, alike: _Alike, faces: Sequence[tuple[Face, float]]) -> FaceGroup:
    return FaceGroup(
        part=surface.part,
        shape=surface.shape,
        count=surface.count,
        timber=alike.timber,
        faces=tuple(face.face for face, _ in faces),
        kind=alike.kind,
        exposure=alike.exposure,
        area_m2=surface.count * sum(face.area_m2 * share for face, share in faces),
        inside_m2=surface.count * sum(face.area_m2 * share for face, share in faces if face.face in INNER),
        end_grain_m2=surface.count * sum(face.area_m2 * share * face.end_grain for face, share in faces),
        surface=alike.surface,
        coats=alike.coats,
        veneer_mm=alike.veneer_mm,
        board=alike.board,
        start_grit=alike.start_grit,
        stop_grit=alike.stop_grit,
        inside=alike.inside,
        hollow_mm=alike.hollow_mm,
    )


def _tight(part: Part, catalogue: Catalogue) -> Inside | None:
    """Return the room inside a part where not every way of sanding there is finds enough of it."""
    room = inside_of(part)
    ways = catalogue.sanding_methods.values()
    return None if room is None or all(way.fits_inside(room.width_mm, room.clear_mm) for way in ways) else room


def _hollow_mm(part: Part, catalogue: Catalogue) -> float | None:
    """Return the radius of the hollow of a bent board where not every way of sanding follows it. [mm]"""
    if not isinstance(part, Board) or part.radius_mm is None:
        return None
    radius_mm = part.radius_mm - part.thickness_mm
    return None if all(way.follows(radius_mm) for way in catalogue.sanding_methods.values()) else radius_mm


def _boards(part: Part, face: Face, timber: str) -> list[tuple[str, str, float]]:
    """Return the boards of a face that are of other timbers, and the rest: what each is, its timber and its share.

    Boards of the timber of the part are not told apart. A patch is taken off all of them alike.
    """
    named = part.board_timbers()
    others = [(board, named[board], share) for board, share in face.boards if named.get(board, timber) != timber]
    rest = 1.0 - sum(share for _, _, share in others) if others else 1.0
    return [*([("", timber, rest)] if rest > _NOTHING_LEFT else []), *others]

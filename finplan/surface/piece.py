"""The faces of a whole piece, with its joints, and everything that is wrong with them."""

from __future__ import annotations

from collections.abc import Mapping

from finplan.inputs import Piece, Sizes, doubtful_build, unlikely_sizes
from finplan.problems import Finding, FindingsError
from finplan.surface.face import BareFace, PartSurface, PieceSurface, finish_faces
from finplan.surface.joint import Joined, join
from finplan.surface.large_joint import large_joints
from finplan.surface.part import bare_faces


def piece_surface(piece: Piece) -> PieceSurface:
    """Return the faces of all parts of a piece, after patches and joints.

    Raises
    ------
    FindingsError
        Anything that is wrong with any part or joint, all of it; paths start at the top of the file.
    """
    surface, findings = _surface(piece)
    errors = [finding for finding in findings if finding.severity == "error"]
    if errors:
        raise FindingsError(errors)
    return surface


def surface_findings(piece: Piece, sizes: Sizes) -> list[Finding]:
    """Return everything there is to say of a piece's sizes: what cannot be, and what is unlikely to be meant."""
    return measured(piece, sizes)[1]


def measured(piece: Piece, sizes: Sizes) -> tuple[PieceSurface, list[Finding]]:
    """Return the faces of all parts that are sound, and all that ``surface_findings`` says."""
    surface, findings = _surface(piece)
    return surface, [*findings, *unlikely_sizes(piece, sizes), *doubtful_build(piece)]


def _surface(piece: Piece) -> tuple[PieceSurface, list[Finding]]:
    bare: dict[str, dict[str, BareFace]] = {}
    findings: list[Finding] = []
    for name, part in piece.parts.items():
        try:
            bare[name] = {face.face: face for face in bare_faces(part)}
        except FindingsError as error:
            findings += [finding.within("parts", name) for finding in error.findings]
    joined = join(piece, bare)
    findings += joined.findings
    findings += large_joints(piece, bare, joined)
    parts: list[PartSurface] = []
    for name, faces in bare.items():
        try:
            parts.append(_part(piece, name, faces, joined))
        except FindingsError as error:
            findings += [finding.within("parts", name) for finding in error.findings]
    return PieceSurface(piece.name, tuple(parts), joined.joints, piece.alike), findings


def _part(piece: Piece, name: str, faces: Mapping[str, BareFace], joined: Joined) -> PartSurface:
    return finish_faces(
        name,
        piece.parts[name],
        list(faces.values()),
        piece.timber_of(name),
        joined_mm2={face: joined.taken_mm2.get((name, face), 0.0) for face in faces},
        glued={face for face in faces if (name, face) in joined.glued},
    )

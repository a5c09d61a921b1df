"""The faces of a whole piece, with its joints, and everything that is wrong with them."""

from __future__ import annotations

from collections.abc import Mapping

from finplan.inputs import Piece, Sizes, doubtful_build, unlikely_sizes
from finplan.problems import Finding, FindingsError
from finplan.surface.face import BareFace, PartSurface, PieceSurface, finish_faces
from finplan.surface.joint import Joined, join
from finplan.surface.large_joint import large_joints
from finplan.surface.part import bare_faces

_Bare = dict[str, dict[str, BareFace]]
"""The faces by part and name, before patches and joints."""


def piece_surface(piece: Piece) -> PieceSurface:
    """Return the faces of all parts of a piece, after patches and joints.

    Raises
    ------
    FindingsError
        Anything that is wrong with any part or joint, all of it; paths start at the top of the file.
    """
    bare, joined, findings = _joined(piece)
    surface, wrong = _surface(piece, bare, joined)
    errors = [finding for finding in (*findings, *wrong) if finding.severity == "error"]
    if errors:
        raise FindingsError(errors)
    return surface


def measured(piece: Piece, sizes: Sizes) -> tuple[PieceSurface, list[Finding]]:
    """Return the faces of all parts that are sound, and what there is to say of sizes: wrong, or hardly meant."""
    bare, joined, findings = _joined(piece)
    surface, wrong = _surface(piece, bare, joined)
    unlikely = [*large_joints(piece, bare, joined, most_pct=sizes.joined.most_pct), *unlikely_sizes(piece, sizes)]
    return surface, [*findings, *wrong, *unlikely, *doubtful_build(piece)]


def _joined(piece: Piece) -> tuple[_Bare, Joined, list[Finding]]:
    bare: _Bare = {}
    findings: list[Finding] = []
    for name, part in piece.parts.items():
        try:
            bare[name] = {face.face: face for face in bare_faces(part)}
        except FindingsError as error:
            findings += [finding.within("parts", name) for finding in error.findings]
    joined = join(piece, bare)
    return bare, joined, [*findings, *joined.findings]


def _surface(piece: Piece, bare: _Bare, joined: Joined) -> tuple[PieceSurface, list[Finding]]:
    findings: list[Finding] = []
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

"""Joints that cover more of a slender part than a joint can."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from finplan.inputs import Piece
from finplan.inputs.shapes import Rod, SquareLeg, Turned
from finplan.problems import Finding, Where
from finplan.surface.face import BareFace, patches_mm2
from finplan.surface.joint import Joined


def large_joints(
    piece: Piece, faces: Mapping[str, Mapping[str, BareFace]], joined: Joined, *, most_pct: float
) -> Iterator[Finding]:
    """Give a warning for every turned part, rod and leg of which joints cover more than *most_pct*.

    Parameters
    ----------
    piece
        With its joints
    faces
        The bare faces by part and name
    joined
        What the joints do to them
    most_pct
        The most of such a part that joints cover in practice, %
    """
    for name, bare in faces.items():
        if not isinstance(piece.parts[name], (Turned, Rod, SquareLeg)):
            continue
        glued = [face.face for face in bare.values() if (name, face.face) in joined.glued]
        part = piece.parts[name]
        covered = sum(
            face.area_mm2
            if face.face in glued
            else joined.taken_mm2.get((name, face.face), 0.0) + patches_mm2(part, face.face)
            for face in bare.values()
        )
        share = covered / sum(face.area_mm2 for face in bare.values())
        if not most_pct / 100 < share <= 1:  # more than all of it is an error of its own
            continue
        joints = enumerate(piece.joints)
        index = next(
            (i for i, joint in joints if (joint.from_ == name and joint.face in glued) or joint.to == name), None
        )
        if index is None:
            face = max(part.faces, key=lambda candidate: patches_mm2(part, candidate))
            wrong = f"the patches under 'less' cover {share * 100:.0f} % of '{name}', which then gets no finish there"
            where: Where = ("parts", name, "faces", face, "less")
            yield Finding(where, wrong, "are their sizes right?", severity="warning", name="large-joint")
            continue
        wrong = f"joints cover {share * 100:.0f} % of '{name}', which then gets no finish there"
        expected = f"a joint glues all of its 'face'{_glued(glued)}: was another face meant, or the other part first?"
        yield Finding(("joints", index), wrong, expected, severity="warning", name="large-joint")


def _glued(faces: list[str]) -> str:
    return f", here {' and '.join(faces)}" if faces else ""

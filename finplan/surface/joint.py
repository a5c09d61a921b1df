"""Joints: what is glued to what, and how much of either that covers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from finplan.inputs import Joint, Piece
from finplan.inputs.shapes import Board
from finplan.problems import Finding
from finplan.surface.face import ROUNDING, BareFace, PartJoint, patches_mm2

_PAIRED = "ends"
"""The face that stands for two equal ones, so that two joints can share it."""

FaceOfPart = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Joined:
    """What the joints of a piece do to its faces, each given by part and face."""

    glued: frozenset[FaceOfPart]
    taken_mm2: Mapping[FaceOfPart, float]
    """The area that each loses, of one part. [mm²]"""
    findings: tuple[Finding, ...] = ()
    joints: tuple[PartJoint, ...] = ()


@dataclass(slots=True)
class _Joining:
    piece: Piece
    faces: Mapping[str, Mapping[str, BareFace]]
    taken_mm2: dict[FaceOfPart, float] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)

    def find(self, index: int, wrong: str, expected: str, *steps: str) -> None:
        self.findings.append(Finding(("joints", index, *steps), wrong, expected))

    def check_exposure(self, joint: Joint) -> None:
        rule = self.piece.parts[joint.from_].faces.get(joint.face)
        if rule and rule.exposure not in (None, "covered"):
            path = ("parts", joint.from_, "faces", joint.face, "exposure")
            wrong = f"the face is called '{rule.exposure}', but a joint glues it to '{joint.to}'"
            self.findings.append(Finding(path, wrong, "leave one of them out"))

    def shares(self, joint: Joint, index: int, alike: Sequence[int]) -> int:
        """Return how many joints share the face that this one glues: only a pair of equal ends can be shared."""
        if len(alike) == 1:
            return 1
        part = self.piece.parts[joint.from_]
        tapered = isinstance(part, Board) and part.taper is not None
        if joint.face != _PAIRED or len(alike) > 2:
            most = "two joints, one for each end" if joint.face == _PAIRED else "one joint"
            self.find(index, f"'{joint.from_}' is glued by its {joint.face} in {len(alike)} joints", f"expected {most}")
        elif tapered:
            self.find(index, f"the ends of '{joint.from_}' differ, and each is in a joint", "expected both in one")
        return len(alike)

    def take(self, joint: Joint, index: int, shares: int) -> None:
        """Take the glued patches off the other part."""
        joined, on = self.piece.parts[joint.from_], self.piece.parts[joint.to]
        patch_mm2 = self.faces[joint.from_][joint.face].area_mm2 / shares * joined.count / on.count
        target = (joint.to, joint.on)
        self.taken_mm2[target] = self.taken_mm2.get(target, 0.0) + patch_mm2
        whole_mm2 = self.faces[joint.to][joint.on].area_mm2
        taken_mm2 = self.taken_mm2[target] + patches_mm2(on, joint.on)
        if taken_mm2 > whole_mm2 * ROUNDING:
            self.find(
                index,
                f"with this joint {taken_mm2 / 100:.4g} cm² are taken off the {joint.on} of '{joint.to}',"
                f" which have {whole_mm2 / 100:.4g} cm²",
                "expected joints and patches that fit on the face",
            )


def join(piece: Piece, faces: Mapping[str, Mapping[str, BareFace]]) -> Joined:
    """Return what the joints of a piece do to its faces.

    A joint glues the whole face, as geometry gives it, of every part of that name. The patches are shared out evenly
    over the parts they stand on. Where the ends of a part are named in two joints, each joint has one end.

    Parameters
    ----------
    piece
        With its joints, whose names are known
    faces
        The bare faces by part and name; joints with parts that are not in it are left out
    """
    joining = _Joining(piece, faces)
    uses: dict[FaceOfPart, list[int]] = {}
    for index, joint in enumerate(piece.joints):
        uses.setdefault((joint.from_, joint.face), []).append(index)
    glued: set[FaceOfPart] = set()
    joints: list[PartJoint] = []
    for index, joint in enumerate(piece.joints):
        source, target = (joint.from_, joint.face), (joint.to, joint.on)
        if joint.face not in faces.get(joint.from_, {}) or joint.on not in faces.get(joint.to, {}):
            continue
        if source == target:
            joining.find(index, f"the {joint.face} of '{joint.from_}' are glued to themselves", "expected another face")
            continue
        if source not in glued:
            joining.check_exposure(joint)
        glued.add(source)
        shares = joining.shares(joint, index, uses[source])
        joining.take(joint, index, shares)
        ends = 2 // min(shares, 2) if joint.face == _PAIRED else 1
        joints.append(PartJoint(joint.from_, joint.to, piece.parts[joint.from_].count * ends))
    return Joined(frozenset(glued), joining.taken_mm2, tuple(joining.findings), tuple(sorted(joints)))

"""What the surface engine answers: the faces of a part, and of a piece."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from finplan.inputs.shapes import Exposure, Part
from finplan.problems import Finding, FindingsError

_MM2_PER_M2 = 1e6
ROUNDING = 1 + 1e-9
"""By how much sums of areas that should be equal may differ."""


@dataclass(frozen=True, slots=True)
class BareFace:
    """A face as geometry gives it, before the file takes patches off. Area in mm²."""

    face: str
    area_mm2: float
    end_grain: float
    """The mean over the face of |n·g|, surface normal against grain direction: 0 along the grain, 1 on an end."""
    boards: tuple[tuple[str, float], ...] = ()
    """Of a face that is of several boards: which, and the share of each; they make one. None of most shapes."""


@dataclass(frozen=True, slots=True)
class Face:
    """A face of one part as it will be finished. Areas in m²."""

    face: str
    area_m2: float
    """After the patches taken off it."""
    whole_m2: float
    """Before."""
    exposure: Exposure
    end_grain: float
    boards: tuple[tuple[str, float], ...] = ()
    """Of a face that is of several boards: which, and the share of each."""

    @property
    def finished_m2(self) -> float:
        """The area that gets finish: none where the face is covered."""
        return 0.0 if self.exposure == "covered" else self.area_m2


@dataclass(frozen=True, slots=True)
class PartSurface:
    """The faces of one part; ``count`` such parts are in the piece. Areas in m², of one part."""

    part: str
    shape: str
    count: int
    timber: str | None
    faces: tuple[Face, ...]

    @property
    def area_m2(self) -> float:
        """All faces of one part."""
        return sum(face.area_m2 for face in self.faces)

    @property
    def finished_m2(self) -> float:
        """The faces of one part that are not covered."""
        return sum(face.finished_m2 for face in self.faces)


@dataclass(frozen=True, slots=True, order=True)
class PartJoint:
    """Joints of the file between two parts, all of these parts together."""

    from_: str
    to: str
    number: int


@dataclass(frozen=True, slots=True)
class PieceSurface:
    """The parts of a piece, of a set those of one. Totals count every part ``count`` times. Areas in m²."""

    piece: str
    parts: tuple[PartSurface, ...]
    joints: tuple[PartJoint, ...] = ()
    """Those that the file names."""
    alike: int = 1
    """How many such pieces there are."""

    @property
    def area_m2(self) -> float:
        """All faces of all parts."""
        return sum(part.count * part.area_m2 for part in self.parts)

    @property
    def finished_m2(self) -> float:
        """All faces that are not covered."""
        return sum(part.count * part.finished_m2 for part in self.parts)


def finish_faces(
    name: str,
    part: Part,
    bare: Sequence[BareFace],
    timber: str | None,
    *,
    joined_mm2: Mapping[str, float] | None = None,
    glued: Collection[str] = (),
) -> PartSurface:
    """Return the part's faces after patches and joints, with their exposure.

    Parameters
    ----------
    name
        How the file calls the part
    part
        As the file describes it
    bare
        Its faces as geometry gives them
    timber
        What it is made of
    joined_mm2
        What other parts glued to a face of this one take off it. [mm²]
    glued
        The faces that are covered because they are glued to other parts

    Raises
    ------
    FindingsError
        Patches together exceed a face.
    """
    joined_mm2 = joined_mm2 or {}
    faces: list[Face] = []
    findings: list[Finding] = []
    for face in bare:
        less_mm2 = patches_mm2(part, face.face)
        if less_mm2 > face.area_mm2 * ROUNDING:
            findings.append(
                Finding(
                    ("faces", face.face, "less"),
                    f"the patches take {less_mm2 / 100:.4g} cm² off a face of {face.area_mm2 / 100:.4g} cm²",
                    "expected patches that fit on the face",
                )
            )
        area_mm2 = max(0.0, face.area_mm2 - less_mm2 - joined_mm2.get(face.face, 0.0))
        faces.append(
            Face(
                face=face.face,
                area_m2=area_mm2 / _MM2_PER_M2,
                whole_m2=face.area_mm2 / _MM2_PER_M2,
                exposure="covered" if face.face in glued else part.exposure(face.face),
                end_grain=face.end_grain,
                boards=face.boards,
            )
        )
    if findings:
        raise FindingsError(findings)
    return PartSurface(name, part.shape, part.count, timber, tuple(faces))


def patches_mm2(part: Part, face: str) -> float:
    """Return what the file takes off a face by ``less``. [mm²]"""
    rule = part.faces.get(face)
    return sum(patch.area_mm2 for patch in rule.less) if rule else 0.0

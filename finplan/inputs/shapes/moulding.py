"""Mouldings: the section as points and arcs, and its length.

::

    cornice:
      shape: moulding
      profile:                    # from one end of the back round the face to the other
        - [0, 0]
        - [18, 0]                 # a straight line to this point
        - {arc: [30, 12], rise: -3.5}     # a hollow
        - {arc: [30, 20], rise: 4}        # a round: half a circle, since its rise is half the distance
        - [0, 20]
      length: 1400

The numbers of a point are lengths along and square to any line the maker likes. An arc goes from the point before to
the one it names, and rises so far above the straight line between them: a positive ``rise`` swells out of the wood, a
negative one hollows it. The straight line from the last point back to the first is the face ``back``. Walked either
way round, the section is the same.
"""

from dataclasses import dataclass
from itertools import pairwise
from typing import Annotated, ClassVar, Literal

from pydantic import ValidationInfo
from pydantic_core import PydanticCustomError

from finplan.inputs.shapes.pair import coordinate_mm, pair_mm
from finplan.inputs.shapes.part import Part
from finplan.inputs.shapes.section import Point, Section, SectionLine, crossing
from finplan.problems import Finding, Where, did_you_mean, shown
from finplan.reading import (
    MIN_LENGTH_MM,
    Form,
    LengthMm,
    Reads,
    fail,
    fail_each,
    finding_of,
)

MAX_POINTS = 200
_LEAST_MM = MIN_LENGTH_MM
_LEAST_MM2 = 1e-6

_EXAMPLE = "expected points such as [18, 0] and arcs such as {arc: [30, 12], rise: -3.5}"


@dataclass(frozen=True, slots=True)
class _Step:
    """One entry of the profile: where it goes, and how far it rises above the straight line there."""

    to: Point
    rise_mm: float


def _point(value: object, bare_unit: str | None, path: Where) -> Point:
    return Point(*pair_mm(value, bare_unit, path, "two lengths: [18, 0]"))


def _step(value: object, bare_unit: str | None, index: int) -> _Step:
    if not isinstance(value, dict):
        return _Step(_point(value, bare_unit, (index,)), 0.0)
    for name in value:
        if name not in ("arc", "rise"):
            fail(f"field {shown(name)} is unknown", did_you_mean(name, ["arc", "rise"]), (index, name), at_key=True)
    for name, meaning in (("arc", "the point it goes to: [30, 12]"), ("rise", "how far it rises above its chord")):
        if name not in value:
            fail(f"field '{name}' is missing", f"expected {meaning}", (index, name))
    rise = coordinate_mm(value["rise"], bare_unit, (index, "rise"))
    if abs(rise) < _LEAST_MM:
        fail("the arc does not rise", "give the point alone for a straight line", (index, "rise"))
    return _Step(_point(value["arc"], bare_unit, (index, "arc")), rise)


def _section(value: object, info: ValidationInfo) -> Section:
    if not isinstance(value, list) or not 2 <= len(value) <= MAX_POINTS:
        fail("this is not a profile", f"{_EXAMPLE}, 2 to {MAX_POINTS} of them")
    bare_unit = (info.context or {}).get("lengths")
    if isinstance(value[0], dict):
        fail("the profile starts with an arc", "expected a point first, from which the arc can go", (0,))
    steps: list[_Step] = []
    findings: list[Finding] = []
    for index, item in enumerate(value):
        try:
            steps.append(_step(item, bare_unit, index))
        except PydanticCustomError as error:
            findings.append(finding_of(error))
    if findings:
        fail_each(findings)
    points = [step.to for step in steps]
    for index in range(1, len(points)):
        if points[index].distance(points[index - 1]) < _LEAST_MM:
            fail("this point is where the one before is", "expected it elsewhere", (index,))
    if points[0].distance(points[-1]) < _LEAST_MM:
        fail("the profile ends where it starts, which leaves no back", "leave the back's straight line out")
    # The wood lies where the points' polygon does; where they are in one line, as for a half round, on either side.
    side = -1.0 if Section(tuple(SectionLine(a, b) for a, b in pairwise(points))).signed_mm2 < 0 else 1.0
    outward = [side * step.rise_mm for step in steps[1:]]
    section = Section(tuple(SectionLine(a, b, rise) for (a, b), rise in zip(pairwise(points), outward, strict=True)))
    _check(section, side)
    return section


def _check(section: Section, side: float) -> None:
    crossed = crossing(section)
    if crossed is not None:
        first, second = crossed
        other = f"stretch {second + 1}" if second < len(section.face) else "the back"
        wrong = f"stretch {first + 1} of the profile meets {other}"
        fail(wrong, "expected a line that does not cross or touch itself", (first + 1,))
    if side * section.signed_mm2 <= _LEAST_MM2:
        fail("the profile encloses no wood", "expected points that leave its back, or an arc with a positive rise")


_PROFILE_FORM = "points and arcs: [[0, 0], [18, 0], {arc: [30, 12], rise: -3.5}, [30, 20], [0, 20]]"
_LENGTH_SCHEMA = {"$ref": "#/$defs/signed-length"}
_POINT_SCHEMA = {"type": "array", "items": _LENGTH_SCHEMA, "minItems": 2, "maxItems": 2}
_ARC_SCHEMA = {
    "type": "object",
    "properties": {"arc": _POINT_SCHEMA, "rise": _LENGTH_SCHEMA},
    "required": ["arc", "rise"],
    "additionalProperties": False,
}
_PROFILE_SCHEMA = {"type": "array", "items": {"anyOf": [_POINT_SCHEMA, _ARC_SCHEMA]}, "minItems": 2}


class Moulding(Part):
    """A moulding: the same section all along.

    It is described at the head of this module.
    """

    FACES: ClassVar[tuple[str, ...]] = ("face", "back", "ends")
    shape: Literal["moulding"]
    profile: Annotated[Section, Reads(_section, in_context=True), Form(_PROFILE_FORM, _PROFILE_SCHEMA)]
    """Its section: points and arcs from one end of the back round the face to the other."""
    length_mm: LengthMm
    """How long it is."""

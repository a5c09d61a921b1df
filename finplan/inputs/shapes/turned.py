"""Turned parts: elements along the axis, from the top end to the foot."""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import ValidationError, ValidationInfo, model_validator
from pydantic_core import PydanticCustomError

from finplan.inputs.shapes.circle import Circle
from finplan.inputs.shapes.pair import pair_mm
from finplan.inputs.shapes.part import OptionalLength, Part
from finplan.problems import Finding, did_you_mean, shown
from finplan.reading import (
    MIN_LENGTH_MM,
    Form,
    LengthMm,
    Reads,
    Record,
    fail,
    fail_each,
    finding_of,
    findings_of,
)

MAX_ELEMENTS = 500
MAX_POINTS = 1000
LENGTH_TOLERANCE_MM = 0.5
MIN_DISTANCE_MM = 1e-4
"""Between two points of a curve: nearer ones are one, and a slope between them is no number."""
_ROUNDING = 1 + 1e-9


@dataclass(frozen=True, slots=True)
class CrossSection:
    """The cross-section at one end of an element: a round of this diameter or a square of this side."""

    across_mm: float
    square: bool = False

    def fits(self, other: "CrossSection") -> bool:
        """Return whether the two meet without a step."""
        return self.square == other.square and math.isclose(self.across_mm, other.across_mm, rel_tol=1e-9)


class Block(Record):
    """A square part left unturned."""

    side_mm: LengthMm
    """How thick it is."""
    length_mm: LengthMm
    """How long it is."""

    @property
    def top_section(self) -> CrossSection:
        """The square, all along."""
        return CrossSection(self.side_mm, square=True)

    @property
    def foot_section(self) -> CrossSection:
        """The same as at the top."""
        return self.top_section


class Cylinder(Circle):
    """A straight round part; a fillet is a short one."""

    length_mm: LengthMm
    """How long it is."""

    @property
    def top_section(self) -> CrossSection:
        """The round, all along."""
        return CrossSection(self.diameter_mm)

    @property
    def foot_section(self) -> CrossSection:
        """The same as at the top."""
        return self.top_section


class Taper(Record):
    """A cone frustum between two diameters."""

    from_mm: LengthMm
    """Its diameter nearer to the top end."""
    to_mm: LengthMm
    """Its diameter nearer to the foot."""
    length_mm: LengthMm
    """How long it is."""

    @property
    def top_section(self) -> CrossSection:
        """The round it starts from."""
        return CrossSection(self.from_mm)

    @property
    def foot_section(self) -> CrossSection:
        """The round it ends in."""
        return CrossSection(self.to_mm)


class Bead(Record):
    """A convex circular arc through neck/2, diameter/2 at mid length, neck/2."""

    diameter_mm: LengthMm
    """Where it is thickest, at mid length."""
    neck_mm: LengthMm
    """Its diameter at both ends."""
    length_mm: LengthMm
    """How long it is."""

    @model_validator(mode="after")
    def _arc_exists(self) -> Self:
        _check_arc("bead", "neck", self.diameter_mm, self.neck_mm, self.length_mm)
        return self

    @property
    def top_section(self) -> CrossSection:
        """The neck, as at its other end."""
        return CrossSection(self.neck_mm)

    @property
    def foot_section(self) -> CrossSection:
        """The same as at the top."""
        return self.top_section


class Cove(Record):
    """The concave arc: rim/2, diameter/2 at mid length, rim/2."""

    diameter_mm: LengthMm
    """Where it is thinnest, at mid length."""
    rim_mm: LengthMm
    """Its diameter at both ends."""
    length_mm: LengthMm
    """How long it is."""

    @model_validator(mode="after")
    def _arc_exists(self) -> Self:
        _check_arc("cove", "rim", self.rim_mm, self.diameter_mm, self.length_mm)
        return self

    @property
    def top_section(self) -> CrossSection:
        """The rim, as at its other end."""
        return CrossSection(self.rim_mm)

    @property
    def foot_section(self) -> CrossSection:
        """The same as at the top."""
        return self.top_section


def _check_arc(name: str, at_ends: str, wide_mm: float, narrow_mm: float, length_mm: float) -> None:
    rise = (wide_mm - narrow_mm) / 2
    if rise < 0:
        if name == "bead":
            fail(
                f"the neck is {narrow_mm:g} mm, wider than the bead's {wide_mm:g} mm",
                "expected a narrower neck",
                (at_ends,),
            )
        fail(
            f"the rim is {wide_mm:g} mm, narrower than the cove's {narrow_mm:g} mm", "expected a wider rim", (at_ends,)
        )
    if rise > length_mm / 2 * _ROUNDING:
        verb = "rises" if name == "bead" else "sinks"
        fail(
            f"the {name} {verb} by {rise:g} mm over a length of {length_mm:g} mm",
            f"expected at most half its length, {length_mm / 2:g} mm: a half circle",
        )


def _points(value: object, info: ValidationInfo) -> tuple[tuple[float, float], ...]:
    expected = "expected a list of [distance, diameter] such as [[0, 48], [150, 62]]"
    if not isinstance(value, list) or not 2 <= len(value) <= MAX_POINTS:
        fail("these are not the points of a curve", f"{expected}, 2 to {MAX_POINTS} of them")
    bare = (info.context or {}).get("lengths")
    points: list[tuple[float, float]] = []
    findings: list[Finding] = []
    for index, item in enumerate(value):
        try:
            distance, diameter = pair_mm(item, bare, (index,), "[distance, diameter]")
        except PydanticCustomError as error:
            findings.append(finding_of(error))
            continue
        if diameter < MIN_LENGTH_MM:
            wrong = f"a point has the diameter {diameter:g} mm at {distance:g} mm"
            findings.append(Finding((index,), wrong, "expected a diameter above zero"))
        if index == 0 and distance != 0:
            wrong = f"the curve starts at distance {distance:g} mm"
            findings.append(Finding((index,), wrong, "expected the first distance to be 0"))
        if points and distance < points[-1][0] + MIN_DISTANCE_MM:
            wrong = f"distance {distance:g} mm does not follow {points[-1][0]:g} mm"
            expected = f"expected growing distances, at least {MIN_DISTANCE_MM:g} mm apart"
            findings.append(Finding((index,), wrong, expected))
        points.append((distance, diameter))
    if findings:
        fail_each(findings)
    return tuple(points)


_POINTS_FORM = "points, each the distance along and the diameter there: [[0, 48], [150, 62], [420, 36]]"
_PLACE_SCHEMA = [{"$ref": "#/$defs/signed-length"}, {"$ref": "#/$defs/length"}]
_POINT_SCHEMA = {"type": "array", "prefixItems": _PLACE_SCHEMA, "minItems": 2, "maxItems": 2}
_POINTS_SCHEMA = {"type": "array", "items": _POINT_SCHEMA, "minItems": 2, "maxItems": MAX_POINTS}


class Curve(Record):
    """A smooth shape-preserving curve through points of [distance along the axis, diameter]."""

    points_mm: Annotated[
        tuple[tuple[float, float], ...], Reads(_points, in_context=True), Form(_POINTS_FORM, _POINTS_SCHEMA)
    ]
    """Points of a smooth curve: how far along, and the diameter there; the first at 0."""

    @property
    def length_mm(self) -> float:
        """The distance of the last point. [mm]"""
        return self.points_mm[-1][0]

    @property
    def top_section(self) -> CrossSection:
        """The round at the first point."""
        return CrossSection(self.points_mm[0][1])

    @property
    def foot_section(self) -> CrossSection:
        """The round at the last point."""
        return CrossSection(self.points_mm[-1][1])


Element = Block | Cylinder | Taper | Bead | Cove | Curve

ELEMENTS: dict[str, type[Record]] = {
    "block": Block,
    "cylinder": Cylinder,
    "fillet": Cylinder,
    "taper": Taper,
    "bead": Bead,
    "cove": Cove,
    "curve": Curve,
}


def _element(item: object, context: Any) -> tuple[str, Any]:
    if not isinstance(item, dict) or len(item) != 1:
        fail(
            "this is not an element",
            f"expected one of {', '.join(ELEMENTS)}, such as 'taper: {{from: 36, to: 30, length: 102}}'",
        )
    name, data = next(iter(item.items()))
    if name not in ELEMENTS:
        fail(f"element {shown(name)} is unknown", did_you_mean(name, ELEMENTS), (name,), at_key=True)
    if not isinstance(data, dict):
        fail(f"{shown(name)} has no fields", "expected fields such as {diameter: 52, length: 8}", (name,))
    return name, ELEMENTS[name].model_validate(data, context=context)


def _read_elements(value: object, info: ValidationInfo) -> tuple[Element, ...]:
    if not isinstance(value, list) or not value:
        fail("there are no elements", f"expected a list of {', '.join(ELEMENTS)} from the top end to the foot")
    if len(value) > MAX_ELEMENTS:
        fail(f"{len(value)} elements are too many", f"expected at most {MAX_ELEMENTS}")
    elements: list[Element] = []
    findings: list[Finding] = []
    for index, item in enumerate(value):
        name = next(iter(item)) if isinstance(item, dict) and len(item) == 1 else None
        try:
            elements.append(_element(item, info.context)[1])
        except PydanticCustomError as error:
            findings.append(finding_of(error).within(index))
        except ValidationError as error:
            findings += [finding.within(index, str(name)) for finding in findings_of(error, ELEMENTS[str(name)])]
    if findings:
        fail_each(findings)
    return tuple(elements)


_ELEMENTS_FORM = "a list of elements, each with its fields: [taper: {from: 36, to: 30, length: 102}]"


class Turned(Part):
    """A part turned on the lathe, with square blocks left where joints go."""

    FACES: ClassVar[tuple[str, ...]] = ("turning", "shoulders", "blocks", "top-end", "foot-end")
    shape: Literal["turned"]
    elements: Annotated[tuple[Element, ...], Reads(_read_elements, in_context=True), Form(_ELEMENTS_FORM)]
    """What it is turned to, from the top end to the foot: block, cylinder, fillet, taper, bead, cove, curve."""
    length_mm: OptionalLength = None
    """How long it is in all, to check the elements by; it may be left out."""

    def face_names(self) -> tuple[str, ...]:
        """Those that occur: a part without blocks has no face of that name."""
        blocks = [isinstance(element, Block) for element in self.elements]
        steps = any(not above.foot_section.fits(below.top_section) for above, below in pairwise(self.elements))
        occurs = {"turning": not all(blocks), "shoulders": steps, "blocks": any(blocks)}
        return tuple(name for name in self.FACES if occurs.get(name, True))

    @model_validator(mode="after")
    def _length_agrees(self) -> Self:
        total = sum(element.length_mm for element in self.elements)
        if self.length_mm is not None and abs(self.length_mm - total) > LENGTH_TOLERANCE_MM:
            fail(
                f"the length is given as {self.length_mm:g} mm, but the elements add up to {total:g} mm",
                f"expected them to agree within {LENGTH_TOLERANCE_MM:g} mm",
                ("length",),
            )
        return self

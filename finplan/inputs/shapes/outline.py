"""Panels of any outline: drawn as an SVG path, given by points on it, or by offsets from a straight line.

::

    foot:
      shape: outline
      points: [{corner: [0, 0]}, [180, 95], {corner: [420, 120]}, {corner: [420, 165]}, [170, 150], {corner: [0, 90]}]
      smooth: true                # as a batten bent round pins; it ends at each corner, and begins anew
      thickness: 34

    slat:
      shape: outline
      offsets: {every: 50, widths: [62, 68, 71, 68, 62]}      # measured across, from one end to the other
      thickness: 12
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import Annotated, Literal, Self

from pydantic import Field, ValidationInfo, model_validator
from pydantic_core import PydanticCustomError

from finplan.geometry import LineTo, PathError, Segment, Subpath, batten, read_path
from finplan.inputs.shapes.pair import coordinate_mm, pair_mm
from finplan.inputs.shapes.panel import Panel
from finplan.problems import Finding, did_you_mean, shown
from finplan.quantity import LENGTH, QuantityError, read_quantity
from finplan.reading import (
    MAX_LENGTH_MM,
    MIN_LENGTH_MM,
    Form,
    LengthMm,
    Reads,
    Record,
    check_all,
    fail,
    fail_each,
    finding_of,
)

MAX_POINTS = 500
_FEWEST_POINTS = 3
_POINTS_FORM = (
    "points in order round the part: [[0, 0], [400, 0], [400, 300]]; a corner in a smooth line is {corner: [0, 0]}"
)
_PAIR_SCHEMA = {"type": "array", "items": {"$ref": "#/$defs/signed-length"}, "minItems": 2, "maxItems": 2}
_CORNER_SCHEMA = {
    "type": "object",
    "properties": {"corner": _PAIR_SCHEMA},
    "required": ["corner"],
    "additionalProperties": False,
}
_POINTS_SCHEMA = {"type": "array", "items": {"anyOf": [_PAIR_SCHEMA, _CORNER_SCHEMA]}, "minItems": _FEWEST_POINTS}
_OFFSETS_SCHEMA = {"type": "array", "items": {"$ref": "#/$defs/signed-length"}, "minItems": 2}
_OFFSETS_FORM = "lengths in order along the part: [62, 68, 71, 68, 62]"

OutlinePoint = tuple[complex, bool]
"""A point on the line, x + iy in mm, and whether a smooth line breaks off there."""


def _path(value: object) -> tuple[Subpath, ...]:
    if not isinstance(value, str):
        fail("this is not a path", "expected SVG path data such as 'M0 0 H600 V400 H0 Z'")
    try:
        return read_path(value)
    except PathError as error:
        fail(error.wrong, error.expected)


def _path_unit(value: object) -> float:
    text = str(value).strip()
    try:
        length_mm = read_quantity(text if any(map(str.isdigit, text)) else f"1 {text}", LENGTH)
    except QuantityError:
        fail(f"'{text[:40]}' is not a unit of length", "expected mm, cm, in, or a length such as 0.5 mm")
    if not MIN_LENGTH_MM <= length_mm <= MAX_LENGTH_MM:
        fail(f"one path unit of {length_mm:g} mm makes no sense", "expected mm, cm, in, or a length such as 0.5 mm")
    return length_mm


def _truth(value: object) -> bool:
    if not isinstance(value, bool):
        fail(f"{shown(value)} is neither true nor false", "expected true or false")
    return value


def _point(item: object, bare_unit: str | None, index: int) -> OutlinePoint:
    if not isinstance(item, dict):
        return complex(*pair_mm(item, bare_unit, (index,))), False
    name = next(iter(item), "")
    if name != "corner":
        fail(f"field {shown(name)} is unknown", did_you_mean(str(name), ["corner"]), (index, name), at_key=True)
    if len(item) > 1:
        fail("this is not a corner", "expected {corner: [x, y]}", (index,))
    return complex(*pair_mm(item["corner"], bare_unit, (index, "corner"))), True


def _points(value: object, info: ValidationInfo) -> tuple[OutlinePoint, ...]:
    if not isinstance(value, list) or not _FEWEST_POINTS <= len(value) <= MAX_POINTS:
        fail("these are not the points of an outline", f"expected {_FEWEST_POINTS} to {MAX_POINTS} {_POINTS_FORM}")
    bare = (info.context or {}).get("lengths")
    points: list[OutlinePoint] = []
    findings: list[Finding] = []
    for index, item in enumerate(value):
        try:
            points.append(_point(item, bare, index))
        except PydanticCustomError as error:
            findings.append(finding_of(error))
    if findings:
        fail_each(findings)
    for index, (before, after) in enumerate(pairwise([points[-1], *points])):
        if abs(after[0] - before[0]) < MIN_LENGTH_MM:
            wrong = "the last point is where the first is" if index == 0 else "this point is where the one before is"
            expected = "leave it out: the outline closes by itself" if index == 0 else "expected it elsewhere"
            fail(wrong, expected, (index or len(points) - 1,))
    return tuple(points)


def _offsets(value: object, info: ValidationInfo) -> tuple[float, ...]:
    if not isinstance(value, list) or not 2 <= len(value) <= MAX_POINTS // 2:
        fail("these are not offsets", f"expected 2 to {MAX_POINTS // 2} {_OFFSETS_FORM}")
    bare = (info.context or {}).get("lengths")
    offsets: list[float] = []
    findings: list[Finding] = []
    for index, item in enumerate(value):
        try:
            offsets.append(coordinate_mm(item, bare, (index,)))
        except PydanticCustomError as error:
            findings.append(finding_of(error))
    if findings:
        fail_each(findings)
    return tuple(offsets)


OffsetsField = Annotated[tuple[float, ...], Reads(_offsets, in_context=True), Form(_OFFSETS_FORM, _OFFSETS_SCHEMA)]


class Offsets(Record):
    """A template: how wide the part is, or where its two edges are, at equal distances along a straight line."""

    every_mm: LengthMm
    """The distance between two offsets, along the part."""
    widths_mm: OffsetsField | None = None
    """The width at each; zero at an end makes a point."""
    from_: Literal["edge", "middle"] = "edge"
    """Widths are measured from a straight edge, or lie half on either side of the middle."""
    upper_mm: OffsetsField | None = None
    """Of a part without a straight edge: how far above the line its upper edge is at each; below it, a minus."""
    lower_mm: OffsetsField | None = None
    """The same of its lower edge."""

    @model_validator(mode="after")
    def _make_an_outline(self) -> Self:
        check_all(self._check_given)
        check_all(self._check_wide, self._check_long)
        return self

    def _check_given(self) -> None:
        expected = "give widths, or upper and lower"
        if (self.upper_mm is None) != (self.lower_mm is None):
            fail(f"{'lower' if self.lower_mm is None else 'upper'} is missing", expected)
        if (self.widths_mm is None) == (self.upper_mm is None):
            fail("the offsets are given twice" if self.widths_mm else "there are no offsets", expected)
        if self.upper_mm is not None and self.lower_mm is not None:
            if len(self.upper_mm) != len(self.lower_mm):
                wrong = f"there are {len(self.upper_mm)} offsets above and {len(self.lower_mm)} below"
                fail(wrong, "expected as many", ("lower",))
            if "from_" in self.model_fields_set:
                fail("'from' belongs to widths", "leave it out", ("from",), at_key=True)

    def _check_wide(self) -> None:
        name = "widths" if self.widths_mm is not None else "upper"
        last = len(self.edges_mm) - 1
        findings = [
            Finding((name, index), f"the part is {upper - lower:g} mm wide there", "expected a width above zero")
            for index, (lower, upper) in enumerate(self.edges_mm)
            if upper - lower < MIN_LENGTH_MM and not (index in (0, last) and upper == lower)
        ]
        if findings:
            fail_each(findings)

    def _check_long(self) -> None:
        length_mm = self.every_mm * (len(self.edges_mm) - 1)
        if length_mm > MAX_LENGTH_MM:
            fail(f"the part is {length_mm / 1000:g} m long", f"expected at most {MAX_LENGTH_MM / 1000:g} m", ("every",))

    @property
    def edges_mm(self) -> list[tuple[float, float]]:
        """The lower and the upper edge at each offset, above the line. [mm]"""
        if self.upper_mm is not None and self.lower_mm is not None:
            return list(zip(self.lower_mm, self.upper_mm, strict=True))
        if self.from_ == "middle":
            return [(-width / 2, width / 2) for width in self.widths_mm or ()]
        return [(0.0, width) for width in self.widths_mm or ()]

    def points(self) -> list[OutlinePoint]:
        """Return the points round the part: a corner at either end of both edges."""
        edges = self.edges_mm
        last = len(edges) - 1
        lower = [(complex(i * self.every_mm, low), i in (0, last)) for i, (low, _) in enumerate(edges)]
        upper = [(complex(i * self.every_mm, up), i in (0, last)) for i, (_, up) in enumerate(edges)]
        ends = [edges[i][1] - edges[i][0] >= MIN_LENGTH_MM for i in (0, last)]
        return [*lower, *upper[0 if ends[0] else 1 : None if ends[1] else -1][::-1]]


_POINTS_AS = Form(_POINTS_FORM, _POINTS_SCHEMA)
_PATH_FORM = Form("closed paths as SVG writes them: M0 0 H600 V400 H0 Z", {"type": "string"})
_PATH_UNIT_FORM = Form("what one unit of the path is, a unit or a length: mm", {"type": "string"})


class OutlinePanel(Panel):
    """A panel of any outline; the grain runs along x, the line along which offsets are measured."""

    shape: Literal["outline"]
    given_path: Annotated[tuple[Subpath, ...] | None, Reads(_path), _PATH_FORM] = Field(
        None, alias="path", description="SVG path data such as 'M0 0 H600 V400 H0 Z'; further closed paths are holes"
    )
    """The outline as a drawing program writes it; further closed paths inside are holes."""
    given_unit_mm: Annotated[float | None, Reads(_path_unit), _PATH_UNIT_FORM] = Field(
        None, alias="unit", description="of a path: what one of its units is: mm, in, or a length"
    )
    """Of a path: how long one of its units is."""
    points_mm: Annotated[tuple[OutlinePoint, ...] | None, Reads(_points, in_context=True), _POINTS_AS] = None
    """The outline by points on it, in order; it closes by itself."""
    offsets: Offsets | None = None
    """The outline by a template of offsets."""
    smooth: Annotated[bool, Reads(_truth), Form("true or false", {"type": "boolean"})] = False
    """Whether points or offsets lie on a smooth line, as of a batten bent round pins; straight from one to the next
    otherwise."""

    @model_validator(mode="after")
    def _drawn_once(self) -> Self:
        drawn = {"path": self.given_path, "points": self.points_mm, "offsets": self.offsets}
        given = [name for name, value in drawn.items() if value is not None]
        if not given:
            fail("the outline is not drawn", "give one of path, points, offsets")
        if len(given) > 1:
            wrong = f"the outline is drawn by {' and '.join(given)}"
            fail(wrong, "give exactly one of path, points, offsets", (given[1],), at_key=True)
        if self.given_path is not None and self.given_unit_mm is None:
            fail("field 'unit' is missing", "expected what one path unit is: mm, in, or a length", ("unit",))
        if self.given_path is None and self.given_unit_mm is not None:
            fail("'unit' belongs to a path", f"leave it out: {given[0]} have their own units", ("unit",), at_key=True)
        if self.given_path is not None and self.smooth:
            fail("'smooth' belongs to points and offsets", "leave it out: a path has curves", ("smooth",), at_key=True)
        return self

    @property
    def drawn_by(self) -> Literal["path", "points", "offsets"]:
        """The field that draws it."""
        if self.given_path is not None:
            return "path"
        return "points" if self.points_mm is not None else "offsets"

    @property
    def path(self) -> tuple[Subpath, ...]:
        """The closed paths that draw it, the largest its outline, in units of ``unit_mm``."""
        if self.given_path is not None:
            return self.given_path
        points = self.points_mm if self.points_mm is not None else self.offsets.points() if self.offsets else ()
        return (_closed(points, smooth=self.smooth),)

    @property
    def unit_mm(self) -> float:
        """What one unit of the path is. [mm]"""
        return self.given_unit_mm or 1.0

    def face_names(self) -> tuple[str, ...]:
        """Top, underside, edge and, where there are closed paths inside, hole."""
        return (*self.FACES, "hole") if self.given_path is not None and len(self.given_path) > 1 else self.FACES


def _closed(points: Sequence[OutlinePoint], *, smooth: bool) -> Subpath:
    """Return the closed line through points."""
    places = [place for place, _ in points]
    if not smooth:
        return Subpath(places[0], tuple(LineTo(place) for place in (*places[1:], places[0])))
    corners = [index for index, (_, corner) in enumerate(points) if corner]
    if not corners:
        return Subpath(places[0], tuple(batten(places, closed=True)))
    segments: list[Segment] = []
    for first, last in pairwise([*corners, corners[0] + len(places)]):
        run = [places[index % len(places)] for index in range(first, last + 1)]
        segments += [LineTo(run[1])] if len(run) == 2 else batten(run)
    return Subpath(places[corners[0]], tuple(segments))

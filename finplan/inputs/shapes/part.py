"""What every part has, whatever its shape."""

import re
from typing import Annotated, Any, ClassVar, Literal

from pydantic import Field, ValidationInfo
from pydantic_core import PydanticCustomError

from finplan import quantity
from finplan.inputs.asked_step import AfterSteps, BeforeSteps
from finplan.inputs.grade import Grade
from finplan.problems import Finding, shown
from finplan.quantity import QuantityError
from finplan.reading import (
    OR_ZERO,
    Count,
    Form,
    LengthMm,
    Name,
    Reads,
    Record,
    fail,
    fail_each,
    finding_of,
    length_mm,
    whole_number,
)

Exposure = Literal["show", "secondary", "covered"]

SECONDARY_FACES = frozenset({"underside", "rear", "inside", "top-end", "foot-end"})
COVERED_FACES = frozenset({"grooves"})
MAX_PATCHES = 100
MAX_VENEER_MM = 6.0
"""What is thicker is sawn like solid wood and sanded like it."""


def default_exposure(face: str) -> Exposure:
    """Return how a face is exposed where the file does not say."""
    if face in COVERED_FACES:
        return "covered"
    return "secondary" if face in SECONDARY_FACES else "show"


class Patch(Record):
    """A rectangle taken off a face: where another part stands on it, for example."""

    count: int
    width_mm: float
    length_mm: float

    @property
    def area_mm2(self) -> float:
        """The area of all of them together. [mm²]"""
        return self.count * self.width_mm * self.length_mm


def lengths_of(text: str, bare_unit: str | None) -> list[float]:
    """Return the lengths in *text* of the form ``A x B``. [mm]

    A unit behind holds for the numbers before it that have none.

    >>> lengths_of("100 x 22 mm", None)
    [100.0, 22.0]
    """
    if len(text) > quantity.MAX_TEXT:
        fail(f"{shown(text)} is too long", "expected lengths such as 100 x 22 mm")
    unit = bare_unit
    lengths: list[float] = []
    for piece in reversed(_factors(text)):
        own = _OWN_UNIT.search(piece)
        if own:
            unit = own.group(0)
        lengths.insert(0, length_mm(piece, unit))
    return lengths


_OWN_UNIT = re.compile(r"[^\d\s./⁄½⅓⅔¼¾⅕⅛⅜⅝⅞+-].*")


def _factors(text: str) -> list[str]:
    """Return what stands between the signs for 'by' or 'times' in a text."""
    return [piece.strip() for piece in text.replace("×", "x").split("x")]


def _patch(value: object, info: ValidationInfo) -> Patch:
    expected = "expected 'W x L' or 'COUNT x W x L', such as 2 x 100 mm x 22 mm"
    if not isinstance(value, str) or len(value) > quantity.MAX_TEXT:
        fail("this is not a patch", expected)
    pieces = _factors(value)
    if len(pieces) not in (2, 3) or not all(pieces):
        fail(f"{shown(value)} is not a patch", expected)
    count = 1
    if len(pieces) == 3:
        if not re.fullmatch(r"[1-9]\d{0,3}", pieces[0]):
            fail(f"'{pieces[0]}' is not a whole number of patches", expected)
        count = int(pieces[0])
    width, length = lengths_of(" x ".join(pieces[-2:]), (info.context or {}).get("lengths"))
    return Patch.model_construct(count=count, width_mm=width, length_mm=length)


def _patches(value: object, info: ValidationInfo) -> tuple[Patch, ...]:
    listed = value if isinstance(value, list) else [value]
    if len(listed) > MAX_PATCHES:
        fail(f"{len(listed)} patches are too many", f"expected at most {MAX_PATCHES}; give equal ones with a count")
    patches: list[Patch] = []
    findings: list[Finding] = []
    for index, item in enumerate(listed):
        try:
            patches.append(_patch(item, info))
        except PydanticCustomError as error:
            finding = finding_of(error)
            findings.append(finding.within(index) if isinstance(value, list) else finding)
    if findings:
        fail_each(findings)
    return tuple(patches)


_PATCHES_FORM = "patches, each width x length, with a number in front of several: [2 x 100 mm x 22 mm]"
_PATCH_SCHEMA = {"type": "string", "pattern": r"^[^x×]+([x×][^x×]+){1,2}$"}
_PATCHES_SCHEMA = {"anyOf": [_PATCH_SCHEMA, {"type": "array", "items": _PATCH_SCHEMA, "maxItems": MAX_PATCHES}]}
Patches = Annotated[tuple[Patch, ...], Reads(_patches, in_context=True), Form(_PATCHES_FORM, _PATCHES_SCHEMA)]


def _coats(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= 20:
        fail(f"{shown(value)} is not a number of coats", "expected 0 to 20")
    return value


def _veneer(value: object, info: ValidationInfo) -> float:
    bare = (info.context or {}).get("lengths")
    expected = f"expected its thickness, such as 0.6 mm, at most {MAX_VENEER_MM:g} mm, or 0 where there is none"
    if value == 0 and not isinstance(value, bool):
        return 0.0
    try:
        thickness_mm = quantity.read_quantity(value, quantity.LENGTH, bare_unit=bare)
    except QuantityError as error:
        fail(error.wrong, error.expected)
    if not 0 <= thickness_mm <= MAX_VENEER_MM:
        fail(f"'{str(value)[:20]}' is no veneer", expected)
    return thickness_mm


VeneerThickness = Annotated[float, Reads(_veneer, in_context=True), Form("a thickness, or 0: 0.6 mm", OR_ZERO)]


class FaceRule(Record):
    """What a file says about one face."""

    exposure: Exposure | None = None
    """Whether it shows, is finished though nobody looks at it, or is glued, masked or bare and gets no finish."""
    less: Patches = ()
    """Patches taken off it, each width x length, with a number in front of several: where another part stands on it."""
    coats: Annotated[int | None, Reads(_coats), whole_number(0, 20)] = None
    """How many coats it gets, where it is fewer than its system has."""
    system: Name | None = None
    """Its coating system, where it is not the part's."""
    surface: Name | None = None
    """How it comes to the bench."""
    veneer_mm: VeneerThickness | None = None
    """How thick its veneer is; 0 where it has none though the part is veneered."""
    start_grit: Grade | None = None
    """The first grade, where it is not that of the part."""
    stop_grit: Grade | None = None
    """The last grade, where it is not that of the part."""


class Part(Record):
    """A part of a piece: the fields that all shapes share. Lengths are in mm."""

    FACES: ClassVar[tuple[str, ...]] = ()
    """The names of the faces that a file may speak of."""
    HAS_WIDTH: ClassVar[bool] = False
    """Whether the grain can run across, along the width."""

    shape: str
    """What it is: the other fields depend on it."""
    count: Count = 1
    """How many there are of it, all alike."""
    timber: Name | None = None
    """Its wood, where it is not the piece's."""
    system: Name | None = None
    """Its coating system, where it is not the piece's or its assembly's."""
    grain: Literal["length", "width"] = "length"
    """Along what the grain runs."""
    surface: Name | None = None
    """How it comes to the bench, all faces that say nothing else."""
    veneer_mm: VeneerThickness | None = None
    """How thick the veneer on its wide faces is; on all but the ends, where none is wide and flat."""
    start_grit: Grade | None = None
    """The first grade, where it is not that of the surface."""
    stop_grit: Grade | None = None
    """The last grade, where it is not that of the system."""
    before: BeforeSteps | None = None
    """Steps beside the coats that it gets before its first coat, where they are not the piece's or its assembly's."""
    after: AfterSteps | None = None
    """Steps beside the coats that it gets after its last coat, where they are not the piece's or its assembly's."""
    faces: dict[str, FaceRule] = Field(default_factory=dict)
    """What is said of single faces, by their names."""

    def face_names(self) -> tuple[str, ...]:
        """The faces that this part can have."""
        return self.FACES

    def board_timbers(self) -> dict[str, str]:
        """The timbers of its single boards, by what they are, where the file names them; of most shapes none."""
        return {}

    def exposure(self, face: str) -> Exposure:
        """How *face* is exposed: as the file says, else as its name says."""
        rule = self.faces.get(face)
        return rule.exposure if rule and rule.exposure else default_exposure(face)


def given_once(names: dict[str, Any], what: str) -> str:
    """Return the only name in *names* with a value; none or several is an error about *what*."""
    given = [name for name, value in names.items() if value is not None]
    known = ", ".join(names)
    if not given:
        fail(f"{what} has no size", f"give one of {known}")
    if len(given) > 1:
        fail(f"{what} is given by {' and '.join(given)}", f"give exactly one of {known}", (given[1],), at_key=True)
    return given[0]


OptionalLength = Annotated[float | None, *LengthMm.__metadata__]

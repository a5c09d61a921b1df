"""Boards, straight and bent."""

import math
from typing import Annotated, ClassVar, Literal, Self

from pydantic import Field, ValidationInfo, model_validator

from finplan.inputs.shapes.bend import Bend
from finplan.inputs.shapes.edge import Profile, profile
from finplan.inputs.shapes.part import OptionalLength, Part
from finplan.problems import Finding
from finplan.reading import (
    Form,
    LengthMm,
    Reads,
    Record,
    check_all,
    fail,
    fail_each,
)

_ROUNDING = 1 + 1e-9
MAX_GROOVES = 100


class Arch(Record):
    """The bottom edge is an arc that rises by this much at mid length."""

    rise_mm: LengthMm
    """How far the bottom edge rises at mid length."""


class BoardTaper(Record):
    """What falls in a straight line to the far end: the width, the thickness or both."""

    to_mm: OptionalLength = None
    """The width at the far end; the top edge stays straight."""
    thickness_to_mm: OptionalLength = None
    """The thickness at the far end; the front stays flat, or on its bend."""

    @model_validator(mode="after")
    def _says_something(self) -> Self:
        if self.to_mm is None and self.thickness_to_mm is None:
            fail("the taper has no size", "give to: for the width, thickness-to: for the thickness, or both")
        return self


class Groove(Record):
    """A groove of full length."""

    face: Literal["front", "back", "top-edge", "bottom-edge"]
    """The face in which it is."""
    width_mm: LengthMm
    """How wide it is."""
    depth_mm: LengthMm
    """How deep it is."""


def _arris(value: object, info: ValidationInfo) -> Profile:
    arris = profile(value, (info.context or {}).get("lengths"))
    if arris.kind not in ("roundover", "chamfer", "square"):
        fail(f"a board's arris cannot be a {arris.kind}", "expected roundover R or chamfer C")
    return arris


_ARRIS_SCHEMA = {"type": "string", "pattern": "^(square|(roundover|chamfer) .+)$"}
_ARRIS_FORM = Form("roundover R or chamfer C: roundover 2", _ARRIS_SCHEMA)


class Board(Part):
    """A board: straight, arched, tapered or bent, with grooves and eased arrises if wanted."""

    HAS_WIDTH: ClassVar[bool] = True
    FACES: ClassVar[tuple[str, ...]] = ("front", "back", "top-edge", "bottom-edge", "ends", "grooves", "arrises")
    shape: Literal["board"]
    length_mm: LengthMm
    """Along the grain; of a bent board along the bend, outside."""
    width_mm: LengthMm
    """Across the grain, from top edge to bottom edge."""
    thickness_mm: LengthMm
    """From front to back."""
    arch: Arch | None = None
    """The bottom edge is an arc: {rise: 20}."""
    taper: BoardTaper | None = None
    """The width falls in a straight line to this at the far end: {to: 60}."""
    bend: Bend | None = None
    """How it is bent in plan, the front outside; its length runs along the front, and so does the grain."""
    given_radius_mm: OptionalLength = Field(None, alias="radius")
    """A bend by its radius alone, to the front."""
    grooves: Annotated[tuple[Groove, ...], Field(max_length=MAX_GROOVES)] = ()
    """Grooves of full length: [{face: back, width: 4, depth: 9}]."""
    arris: Annotated[Profile | None, Reads(_arris, in_context=True), _ARRIS_FORM] = None
    """How its four long edges are eased."""

    def face_names(self) -> tuple[str, ...]:
        """The six sides, and what grooves and arrises add."""
        extra = [name for name, there in (("grooves", self.grooves), ("arrises", self.eased_mm > 0)) if there]
        return (*self.FACES[:5], *extra)

    @property
    def radius_mm(self) -> float | None:
        """The radius of its bend, to the front; None where it is not bent. [mm]"""
        return self.given_radius_mm if self.bend is None else self.bend.radius_for(self.length_mm)

    @property
    def far_width_mm(self) -> float:
        """The width at the far end. [mm]"""
        return self.width_mm if self.taper is None or self.taper.to_mm is None else self.taper.to_mm

    @property
    def far_thickness_mm(self) -> float:
        """The thickness at the far end. [mm]"""
        thinner_mm = self.taper.thickness_to_mm if self.taper else None
        return self.thickness_mm if thinner_mm is None else thinner_mm

    @property
    def eased_mm(self) -> float:
        """What each long face gives up on either side to the arrises. [mm]"""
        return self.arris.set_back_mm if self.arris else 0.0

    @model_validator(mode="after")
    def _can_be_made(self) -> Self:
        check_all(self._check_arch, self._check_taper, self._check_radius)
        check_all(self._check_arris, self._check_grooves)
        return self

    def _check_arch(self) -> None:
        if self.arch and self.taper:
            fail("an arch together with a taper is not computed yet", "give one of them", ("arch",), at_key=True)
        if self.arch and (self.bend or self.given_radius_mm is not None):
            fail("an arch together with a bend is not computed yet", "give one of them", ("arch",), at_key=True)
        if self.arch and any(groove.face == "bottom-edge" for groove in self.grooves):
            fail(
                "a groove in an arched edge is not computed yet",
                "leave the groove or the arch out",
                ("grooves",),
                at_key=True,
            )
        if self.arch and self.arch.rise_mm >= self.width_mm:
            fail(
                f"the arch rises {self.arch.rise_mm:g} mm in a board {self.width_mm:g} mm wide",
                "expected less than the width",
                ("arch", "rise"),
            )
        if self.arch and self.arch.rise_mm > self.length_mm / 2 * _ROUNDING:
            fail(
                f"the arch rises {self.arch.rise_mm:g} mm over a length of {self.length_mm:g} mm",
                f"expected at most half the length, {self.length_mm / 2:g} mm: a half circle",
                ("arch", "rise"),
            )

    def _check_taper(self) -> None:
        if self.far_width_mm > self.width_mm:
            fail(
                f"the taper widens from {self.width_mm:g} to {self.far_width_mm:g} mm",
                "expected the width at the near end to be the larger",
                ("taper", "to"),
            )
        if self.far_thickness_mm > self.thickness_mm:
            fail(
                f"the taper thickens from {self.thickness_mm:g} to {self.far_thickness_mm:g} mm",
                "expected the thickness at the near end to be the larger",
                ("taper", "thickness-to"),
            )
        for name, there in (("grooves", self.grooves), ("arris", self.eased_mm > 0)):
            if there and self.thins:
                wrong = f"{name} in a board that gets thinner {'are' if name == 'grooves' else 'is'} not computed yet"
                fail(wrong, "leave one of them out", (name,), at_key=True)

    def _check_radius(self) -> None:
        if self.bend is not None and self.given_radius_mm is not None:
            fail("the bend is given twice", "give bend or radius", ("radius",), at_key=True)
        if self.bend is None and self.given_radius_mm is None:
            return
        radius_mm = self.radius_mm or 0.0
        if radius_mm <= self.thickness_mm:
            fail(
                f"the bend of radius {radius_mm:.6g} mm is not wider than the board's {self.thickness_mm:g} mm",
                "expected a radius, measured to the front, above the thickness",
                ("radius",) if self.bend is None else ("bend",),
            )
        (self.bend or Bend.model_construct(radius_mm=self.given_radius_mm)).check(self.length_mm)

    @property
    def thins(self) -> bool:
        """Whether its thickness falls."""
        return self.far_thickness_mm < self.thickness_mm

    @property
    def _narrowest_mm(self) -> float:
        """The least width anywhere along the board."""
        return self.far_width_mm - (self.arch.rise_mm if self.arch else 0.0)

    @property
    def _slant(self) -> float:
        """The length of the bottom edge for each millimetre of the board's length: 1 without a taper."""
        return math.hypot(1.0, (self.width_mm - self.far_width_mm) / self.length_mm)

    def _check_arris(self) -> None:
        for taken, side in (
            (2 * self.eased_mm, self.thickness_mm),
            ((1 + self._slant) * self.eased_mm, self._narrowest_mm),
        ):
            if self.eased_mm and taken > side * _ROUNDING:
                fail(
                    f"arrises of {self.eased_mm:g} mm meet in a side of {side:g} mm",
                    f"expected at most {self.eased_mm * side / taken:.4g} mm",
                    ("arris",),
                )

    def _check_grooves(self) -> None:
        used = {"front": 0.0, "back": 0.0, "top-edge": 0.0, "bottom-edge": 0.0}
        deepest = dict(used)
        findings: list[Finding] = []
        for index, groove in enumerate(self.grooves):
            room, through = self._room_for(groove.face)
            if groove.depth_mm >= through:
                wrong = f"the groove is {groove.depth_mm:g} mm deep in {through:g} mm of wood"
                findings.append(Finding(("grooves", index, "depth"), wrong, f"expected less than {through:g} mm"))
            used[groove.face] += groove.width_mm
            deepest[groove.face] = max(deepest[groove.face], groove.depth_mm)
            if used[groove.face] > room * _ROUNDING:
                wrong = f"the grooves in the {groove.face} take {used[groove.face]:g} mm of {room:g} mm"
                findings.append(Finding(("grooves", index, "width"), wrong, "expected narrower grooves, or fewer"))
        if findings:
            fail_each(findings)
        for face, opposite in (("front", "back"), ("top-edge", "bottom-edge")):
            room, through = self._room_for(face)
            if used[face] + used[opposite] > room * _ROUNDING and deepest[face] + deepest[opposite] >= through:
                fail(
                    f"the grooves in {face} and {opposite} cut through: {deepest[face]:g} and {deepest[opposite]:g} mm "
                    f"deep in {through:g} mm of wood",
                    "expected shallower grooves, or narrower ones side by side",
                    ("grooves",),
                )
        section = sum(groove.width_mm * groove.depth_mm for groove in self.grooves)
        whole = self._narrowest_mm * self.thickness_mm
        if section >= whole:
            fail(
                f"the grooves take {section:g} mm² of a section of {whole:g} mm²",
                "expected smaller grooves, or fewer",
                ("grooves",),
            )

    def _room_for(self, face: str) -> tuple[float, float]:
        """Return the width that grooves in *face* may take together, and the wood behind it. [mm]"""
        if face in ("front", "back"):
            return self._narrowest_mm - (1 + self._slant) * self.eased_mm, self.thickness_mm
        return self.thickness_mm - 2 * self.eased_mm, self._narrowest_mm / self._slant

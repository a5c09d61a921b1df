"""Straight and bent boards, square legs and rods."""

from __future__ import annotations

import math
from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import Field, PlainValidator, ValidationInfo, model_validator

from finplan.inputs.shapes.circle import Circle
from finplan.inputs.shapes.edge import Profile, profile
from finplan.inputs.shapes.part import OptionalLength, Part
from finplan.problems import Finding, shown
from finplan.reading import LengthMm, LengthOrZeroMm, Record, check_all, fail, fail_each

_ROUNDING = 1 + 1e-9
MAX_GROOVES = 100


class Arch(Record):
    """The bottom edge is an arc that rises by this much at mid length."""

    rise_mm: LengthMm


class BoardTaper(Record):
    """The width falls in a straight line to this at the far end."""

    to_mm: LengthMm


class Groove(Record):
    """A groove of full length."""

    face: Literal["front", "back", "top-edge", "bottom-edge"]
    width_mm: LengthMm
    depth_mm: LengthMm


def _arris(value: object, info: ValidationInfo) -> Profile:
    found = profile(value, (info.context or {}).get("lengths"))
    if found.kind not in ("roundover", "chamfer", "square"):
        fail(f"a board's arris cannot be a {found.kind}", "expected roundover R or chamfer C")
    return found


class Board(Part):
    """A board: straight, arched, tapered or bent, with grooves and eased arrises if wanted."""

    HAS_WIDTH: ClassVar[bool] = True
    FACES: ClassVar[tuple[str, ...]] = ("front", "back", "top-edge", "bottom-edge", "ends", "grooves", "arrises")
    shape: Literal["board"]
    length_mm: LengthMm
    width_mm: LengthMm
    thickness_mm: LengthMm
    arch: Arch | None = None
    taper: BoardTaper | None = None
    radius_mm: OptionalLength = None
    grooves: Annotated[tuple[Groove, ...], Field(max_length=MAX_GROOVES)] = ()
    arris: Annotated[Profile | None, PlainValidator(_arris)] = None

    def face_names(self) -> tuple[str, ...]:
        """The six sides, and what grooves and arrises add."""
        extra = [name for name, there in (("grooves", self.grooves), ("arrises", self.eased_mm > 0)) if there]
        return (*self.FACES[:5], *extra)

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
        if self.arch and self.radius_mm is not None:
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
        if self.taper and self.taper.to_mm > self.width_mm:
            fail(
                f"the taper widens from {self.width_mm:g} to {self.taper.to_mm:g} mm",
                "expected the width at the near end to be the larger",
                ("taper", "to"),
            )

    def _check_radius(self) -> None:
        if self.radius_mm is not None and self.radius_mm <= self.thickness_mm:
            fail(
                f"the bend of radius {self.radius_mm:g} mm is not wider than the board's {self.thickness_mm:g} mm",
                "expected a radius, measured to the front, above the thickness",
                ("radius",),
            )
        if self.radius_mm is not None and self.length_mm > 2 * math.pi * self.radius_mm * _ROUNDING:
            fail(
                f"a length of {self.length_mm:g} mm runs more than once round a bend of radius {self.radius_mm:g} mm",
                f"expected at most {2 * math.pi * self.radius_mm:.4g} mm, or a wider bend",
                ("length",),
            )

    @property
    def _narrowest_mm(self) -> float:
        """The least width anywhere along the board."""
        if self.taper:
            return self.taper.to_mm
        return self.width_mm - (self.arch.rise_mm if self.arch else 0.0)

    @property
    def _slant(self) -> float:
        """The length of the bottom edge for each millimetre of the board's length: 1 without a taper."""
        return math.hypot(1.0, (self.width_mm - self.taper.to_mm) / self.length_mm) if self.taper else 1.0

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
        found: list[Finding] = []
        for index, groove in enumerate(self.grooves):
            room, through = self._room_for(groove.face)
            if groove.depth_mm >= through:
                wrong = f"the groove is {groove.depth_mm:g} mm deep in {through:g} mm of wood"
                found.append(Finding(("grooves", index, "depth"), wrong, f"expected less than {through:g} mm"))
            used[groove.face] += groove.width_mm
            deepest[groove.face] = max(deepest[groove.face], groove.depth_mm)
            if used[groove.face] > room * _ROUNDING:
                wrong = f"the grooves in the {groove.face} take {used[groove.face]:g} mm of {room:g} mm"
                found.append(Finding(("grooves", index, "width"), wrong, "expected narrower grooves, or fewer"))
        if found:
            fail_each(found)
        for one, other in (("front", "back"), ("top-edge", "bottom-edge")):
            room, through = self._room_for(one)
            if used[one] + used[other] > room * _ROUNDING and deepest[one] + deepest[other] >= through:
                fail(
                    f"the grooves in {one} and {other} cut through: {deepest[one]:g} and {deepest[other]:g} mm deep"
                    f" in {through:g} mm of wood",
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


def _two_or_four(value: object) -> int:
    words: dict[Any, int] = {"two": 2, "four": 4, 2: 2, 4: 4}
    if isinstance(value, (str, int)) and not isinstance(value, bool) and value in words:
        return words[value]
    fail(f"{shown(value)} is not a number of tapered sides", "expected two (adjacent) or four")


class LegTaper(Record):
    """Square down to from-length, then straight to this side at the foot."""

    to_mm: LengthMm
    from_length_mm: LengthOrZeroMm = 0.0
    sides: Annotated[int, PlainValidator(_two_or_four)] = 4


class SquareLeg(Part):
    """A square leg, straight or tapered on two or four sides."""

    FACES: ClassVar[tuple[str, ...]] = ("sides", "top-end", "foot-end")
    shape: Literal["square-leg"]
    side_mm: LengthMm
    length_mm: LengthMm
    taper: LegTaper | None = None

    @model_validator(mode="after")
    def _taper_fits(self) -> Self:
        check_all(self._check_foot, self._check_start)
        return self

    def _check_foot(self) -> None:
        if self.taper and self.taper.to_mm > self.side_mm:
            fail(
                f"the taper widens from {self.side_mm:g} to {self.taper.to_mm:g} mm",
                "expected the foot to be the smaller end",
                ("taper", "to"),
            )

    def _check_start(self) -> None:
        if self.taper and self.taper.from_length_mm >= self.length_mm:
            fail(
                f"the taper starts at {self.taper.from_length_mm:g} mm of a leg {self.length_mm:g} mm long",
                "expected from-length to be less than the length",
                ("taper", "from-length"),
            )


class Rod(Circle, Part):
    """A straight round rod."""

    FACES: ClassVar[tuple[str, ...]] = ("side", "ends")
    shape: Literal["rod"]
    length_mm: LengthMm

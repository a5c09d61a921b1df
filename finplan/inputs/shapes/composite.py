"""Shapes made of several boards: carcases, drawers and frame-and-panel doors.

How the boards meet is defined where their faces are computed, in ``finplan.surface``.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, ClassVar, Literal, Self

from pydantic import PlainValidator, ValidationInfo, model_validator

from finplan.inputs.shapes.part import OptionalLength, Part, lengths_of
from finplan.reading import LengthMm, Record, fail

MAX_SHELVES = 100


def _shelves(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= MAX_SHELVES:
        fail(f"'{value}' is not a number of shelves", f"expected 0 to {MAX_SHELVES}")
    return value


class Carcase(Part):
    """A box of boards of one thickness, with a back and shelves if wanted. Width, height and depth are over all."""

    HAS_WIDTH: ClassVar[bool] = True
    FACES: ClassVar[tuple[str, ...]] = ("outside", "inside", "shelves", "edges", "rear")
    shape: Literal["carcase"]
    width_mm: LengthMm
    height_mm: LengthMm
    depth_mm: LengthMm
    thickness_mm: LengthMm
    back_mm: OptionalLength = None
    """The thickness of the back; without one the carcase is open at the rear."""
    shelves: Annotated[int, PlainValidator(_shelves)] = 0
    front: Literal["open", "closed"] = "open"

    @model_validator(mode="after")
    def _boards_fit(self) -> Self:
        for name, size in (("width", self.width_mm), ("height", self.height_mm)):
            if size <= 2 * self.thickness_mm:
                fail(
                    f"two boards of {self.thickness_mm:g} mm leave no room in a {name} of {size:g} mm",
                    f"expected more than {2 * self.thickness_mm:g} mm",
                    (name,),
                )
        taken = (self.back_mm or 0.0) + (self.thickness_mm if self.front == "closed" else 0.0)
        if self.depth_mm <= taken:
            fail(
                f"the back and front take {taken:g} mm of a depth of {self.depth_mm:g} mm",
                f"expected more than {taken:g} mm",
                ("depth",),
            )
        if self.shelves * self.thickness_mm >= self.height_mm - 2 * self.thickness_mm:
            fail(
                f"{self.shelves} shelves of {self.thickness_mm:g} mm fill a height of"
                f" {self.height_mm - 2 * self.thickness_mm:g} mm",
                "expected fewer shelves",
                ("shelves",),
            )
        return self


class Drawer(Part):
    """A box open at the top. Width, height and depth are over all."""

    HAS_WIDTH: ClassVar[bool] = True
    FACES: ClassVar[tuple[str, ...]] = ("front", "outside", "inside", "edges")
    shape: Literal["drawer"]
    width_mm: LengthMm
    height_mm: LengthMm
    depth_mm: LengthMm
    thickness_mm: LengthMm
    bottom_mm: LengthMm
    """The thickness of the bottom."""

    @model_validator(mode="after")
    def _boards_fit(self) -> Self:
        for name, size, taken in (
            ("width", self.width_mm, 2 * self.thickness_mm),
            ("depth", self.depth_mm, 2 * self.thickness_mm),
            ("height", self.height_mm, self.bottom_mm),
        ):
            if size <= taken:
                fail(
                    f"the boards take {taken:g} mm of a {name} of {size:g} mm",
                    f"expected more than {taken:g} mm",
                    (name,),
                )
        return self


class Frame(Record):
    """The widths of a door's frame members."""

    stile_mm: LengthMm
    rail_mm: LengthMm


@dataclass(frozen=True, slots=True)
class Raised:
    """The slope round a raised field: how wide it is in plan, and how far it falls towards the frame."""

    width_mm: float
    fall_mm: float


def _raised(value: object, info: ValidationInfo) -> Raised:
    expected = "expected the slope's width and fall, such as 40 x 8 mm"
    if not isinstance(value, str):
        fail("this is not the slope of a raised panel", expected)
    sizes = lengths_of(value, (info.context or {}).get("lengths"))
    if len(sizes) != 2:
        fail(f"'{value[:40]}' has {len(sizes)} size{'' if len(sizes) == 1 else 's'}", expected)
    return Raised(*sizes)


class DoorPanel(Record):
    """A door's panel: flat, or with a raised field."""

    thickness_mm: LengthMm
    raised: Annotated[Raised | None, PlainValidator(_raised)] = None


class Door(Part):
    """A door: one plain board or, with a frame, stiles and rails round a panel."""

    HAS_WIDTH: ClassVar[bool] = True
    FACES: ClassVar[tuple[str, ...]] = ("front", "back", "edges")
    shape: Literal["door"]
    width_mm: LengthMm
    height_mm: LengthMm
    thickness_mm: LengthMm
    frame: Frame | None = None
    panel: DoorPanel | None = None

    @model_validator(mode="after")
    def _frame_holds_panel(self) -> Self:
        if self.frame is None and self.panel is None:
            return self
        if self.frame is None:
            fail("the panel has no frame", "give frame: {stile: 60, rail: 60}, or leave panel out", ("panel",))
        if self.panel is None:
            fail("the frame has no panel", "give panel: {thickness: 10}, or leave frame out", ("frame",))
        for name, member, side, size in (
            ("stile", self.frame.stile_mm, "width", self.width_mm),
            ("rail", self.frame.rail_mm, "height", self.height_mm),
        ):
            if 2 * member >= size:
                fail(
                    f"two {name}s of {member:g} mm leave no room in a {side} of {size:g} mm",
                    f"expected less than {size / 2:g} mm",
                    ("frame", name),
                )
        if self.panel.thickness_mm > self.thickness_mm:
            fail(
                f"the panel is {self.panel.thickness_mm:g} mm thick in a frame of {self.thickness_mm:g} mm",
                f"expected at most {self.thickness_mm:g} mm",
                ("panel", "thickness"),
            )
        self._check_raised(self.frame, self.panel)
        return self

    def _check_raised(self, frame: Frame, panel: DoorPanel) -> None:
        if panel.raised is None:
            return
        if panel.raised.fall_mm >= panel.thickness_mm:
            fail(
                f"the slope falls {panel.raised.fall_mm:g} mm in a panel of {panel.thickness_mm:g} mm",
                f"expected less than {panel.thickness_mm:g} mm",
                ("panel", "raised"),
            )
        room = min(self.width_mm - 2 * frame.stile_mm, self.height_mm - 2 * frame.rail_mm)
        if 2 * panel.raised.width_mm > room * (1 + 1e-9):
            fail(
                f"slopes {panel.raised.width_mm:g} mm wide meet in a panel of {room:g} mm",
                f"expected at most {room / 2:g} mm",
                ("panel", "raised"),
            )

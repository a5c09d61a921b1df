"""Shapes made of several boards: carcases, drawers and frame-and-panel doors.

How the boards meet is defined where their faces are computed, in ``finplan.surface``.
"""

from dataclasses import dataclass
from typing import Annotated, ClassVar, Literal, Self

from pydantic import BeforeValidator, ValidationInfo, model_validator

from finplan.inputs.shapes.part import OptionalLength, Part, lengths_of
from finplan.problems import Finding, shown
from finplan.reading import (
    Form,
    LengthMm,
    Name,
    Reads,
    Record,
    fail,
    fail_each,
    whole_number,
)

MAX_SHELVES = 100


def _shelves(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= MAX_SHELVES:
        fail(f"{shown(value)} is not a number of shelves", f"expected 0 to {MAX_SHELVES}")
    return value


class CarcaseTimbers(Record):
    """What the boards of a carcase are made of, where that is not what the carcase is."""

    sides: Name | None = None
    """Its sides, top and bottom, and a closed front."""
    back: Name | None = None
    """Its back."""
    shelves: Name | None = None
    """Its shelves."""


class DoorTimbers(Record):
    """What the boards of a door are made of, where that is not what the door is."""

    frame: Name | None = None
    """Its stiles and rails."""
    panel: Name | None = None
    """Its panel."""


def _named(timbers: Record | None) -> dict[str, str]:
    """Return the timbers of boards that are named."""
    return {} if timbers is None else {name: timber for name, timber in timbers if timber is not None}


class Carcase(Part):
    """A box of boards of one thickness, with a back and shelves if wanted. Width, height and depth are over all."""

    HAS_WIDTH: ClassVar[bool] = True
    FACES: ClassVar[tuple[str, ...]] = ("outside", "inside", "shelves", "edges", "rear")
    shape: Literal["carcase"]
    width_mm: LengthMm
    """Over all."""
    height_mm: LengthMm
    """Over all."""
    depth_mm: LengthMm
    """Over all, from front to rear."""
    thickness_mm: LengthMm
    """Of its boards."""
    back_mm: OptionalLength = None
    """The thickness of the back; without one the carcase is open at the rear."""
    shelves: Annotated[int, Reads(_shelves), whole_number(0, MAX_SHELVES)] = 0
    """How many shelves there are between top and bottom."""
    front: Literal["open", "closed"] = "open"
    """Whether the front is open, as where doors or drawers of their own stand, or closed by a board."""
    timbers: CarcaseTimbers | None = None
    """What single boards are made of: sides (with top, bottom and closed front), back, shelves."""

    def board_timbers(self) -> dict[str, str]:
        """The timbers of sides, back and shelves that the file names."""
        return _named(self.timbers)

    @model_validator(mode="after")
    def _boards_fit(self) -> Self:
        findings: list[Finding] = []
        for name, size in (("width", self.width_mm), ("height", self.height_mm)):
            if size <= 2 * self.thickness_mm:
                wrong = f"two boards of {self.thickness_mm:g} mm leave no room in a {name} of {size:g} mm"
                findings.append(Finding((name,), wrong, f"expected more than {2 * self.thickness_mm:g} mm"))
        taken = (self.back_mm or 0.0) + (self.thickness_mm if self.front == "closed" else 0.0)
        if self.depth_mm <= taken:
            wrong = f"the back and front take {taken:g} mm of a depth of {self.depth_mm:g} mm"
            findings.append(Finding(("depth",), wrong, f"expected more than {taken:g} mm"))
        room = self.height_mm - 2 * self.thickness_mm
        if 0 < room <= self.shelves * self.thickness_mm:
            wrong = f"{self.shelves} shelves of {self.thickness_mm:g} mm fill a height of {room:g} mm"
            findings.append(Finding(("shelves",), wrong, "expected fewer shelves"))
        if findings:
            fail_each(findings)
        return self


class Drawer(Part):
    """A box open at the top. Width, height and depth are over all."""

    HAS_WIDTH: ClassVar[bool] = True
    FACES: ClassVar[tuple[str, ...]] = ("front", "outside", "inside", "edges")
    shape: Literal["drawer"]
    width_mm: LengthMm
    """Over all."""
    height_mm: LengthMm
    """Over all."""
    depth_mm: LengthMm
    """Over all, from front to rear."""
    thickness_mm: LengthMm
    """Of its front, sides and back."""
    bottom_mm: LengthMm
    """The thickness of the bottom."""

    @model_validator(mode="after")
    def _boards_fit(self) -> Self:
        findings: list[Finding] = []
        for name, size, taken in (
            ("width", self.width_mm, 2 * self.thickness_mm),
            ("depth", self.depth_mm, 2 * self.thickness_mm),
            ("height", self.height_mm, self.bottom_mm),
        ):
            if size <= taken:
                wrong = f"the boards take {taken:g} mm of a {name} of {size:g} mm"
                findings.append(Finding((name,), wrong, f"expected more than {taken:g} mm"))
        if findings:
            fail_each(findings)
        return self


@dataclass(frozen=True, slots=True)
class Rebate:
    """A step cut along the inner edges of a frame, from behind: how wide it is, and how deep."""

    width_mm: float
    depth_mm: float


def _rebate(value: object, info: ValidationInfo) -> Rebate:
    return Rebate(*_two_lengths(value, info, "a rebate", "expected its width and depth, such as 10 x 12 mm"))


_REBATE_FORM = Form("two lengths, how wide and how deep: 10 x 12 mm")


class Frame(Record):
    """The widths of a door's frame members."""

    stile_mm: LengthMm
    """How wide the upright members are."""
    rail_mm: LengthMm
    """How wide the level members are."""
    rebate: Annotated[Rebate | None, Reads(_rebate, in_context=True), _REBATE_FORM] = None
    """Of a frame round glass, or round nothing: the step along its inner edges from behind, how wide and how deep."""


@dataclass(frozen=True, slots=True)
class Raised:
    """The slope round a raised field: how wide it is in plan, and how far it falls towards the frame."""

    width_mm: float
    fall_mm: float


def _raised(value: object, info: ValidationInfo) -> Raised:
    expected = "expected the slope's width and fall, such as 40 x 8 mm"
    return Raised(*_two_lengths(value, info, "the slope of a raised panel", expected))


def _two_lengths(value: object, info: ValidationInfo, what: str, expected: str) -> tuple[float, float]:
    if not isinstance(value, str):
        fail(f"this is not {what}", expected)
    sizes = lengths_of(value, (info.context or {}).get("lengths"))
    if len(sizes) != 2:
        fail(f"'{value[:40]}' has {len(sizes)} size{'' if len(sizes) == 1 else 's'}", expected)
    return sizes[0], sizes[1]


_RAISED_FORM = Form("two lengths, how wide and how far it falls: 40 x 8 mm")


class DoorPanel(Record):
    """A door's panel: flat, or with a raised field."""

    thickness_mm: LengthMm
    """How thick it is."""
    raised: Annotated[Raised | None, Reads(_raised, in_context=True), _RAISED_FORM] = None
    """A raised field: how wide its slope is, and how far it falls towards the frame."""


OPENINGS = ("glass", "none")
"""What a frame may hold in place of a panel of wood."""


class DoorOpening(DoorPanel):
    """What is no panel of wood: glass, or nothing. It takes no room in the thickness of the frame, and no finish."""

    kept_for: str = "none"
    """One of ``OPENINGS``."""


def _panel(value: object) -> object:
    """Return glass or nothing as what the frame holds; all else is read as a panel."""
    if isinstance(value, str):
        if value not in OPENINGS:
            fail(f"{shown(value)} is no panel", "expected {thickness: 10}, glass or none")
        return DoorOpening.model_construct(thickness_mm=0.0, raised=None, kept_for=value)
    return value


class Door(Part):
    """A door: one plain board or, with a frame, stiles and rails round a panel, round glass or round nothing."""

    HAS_WIDTH: ClassVar[bool] = True
    FACES: ClassVar[tuple[str, ...]] = ("front", "back", "edges")
    shape: Literal["door"]
    width_mm: LengthMm
    """How wide it is."""
    height_mm: LengthMm
    """How high it is."""
    thickness_mm: LengthMm
    """Of the frame, or of the plain board."""
    frame: Frame | None = None
    """Its stiles and rails; without one it is a plain board."""
    panel: Annotated[DoorPanel | None, BeforeValidator(_panel)] = None
    """What the frame holds: a panel, or glass or none, which get no finish."""
    timbers: DoorTimbers | None = None
    """What single boards are made of: frame, panel."""

    def board_timbers(self) -> dict[str, str]:
        """The timbers of frame and panel that the file names."""
        return _named(self.timbers)

    @model_validator(mode="after")
    def _frame_holds_panel(self) -> Self:
        if self.timbers is not None and self.frame is None:
            fail("a plain door is one board", "give timber:, or frame: and panel:", ("timbers",), at_key=True)
        if self.frame is None and self.panel is None:
            return self
        if self.frame is None:
            fail("the panel has no frame", "give frame: {stile: 60, rail: 60}, or leave panel out", ("panel",))
        if self.panel is None:
            fail(
                "the frame has no panel",
                "give panel: {thickness: 10}, or panel: glass or none; of a plain door leave frame out",
                ("frame",),
            )
        findings: list[Finding] = []
        for name, member, side, size in (
            ("stile", self.frame.stile_mm, "width", self.width_mm),
            ("rail", self.frame.rail_mm, "height", self.height_mm),
        ):
            if 2 * member >= size:
                wrong = f"two {name}s of {member:g} mm leave no room in a {side} of {size:g} mm"
                findings.append(Finding(("frame", name), wrong, f"expected less than {size / 2:g} mm"))
        findings += self._opening_findings(self.frame, self.panel)
        if self.panel.thickness_mm > self.thickness_mm:
            wrong = f"the panel is {self.panel.thickness_mm:g} mm thick in a frame of {self.thickness_mm:g} mm"
            findings.append(Finding(("panel", "thickness"), wrong, f"expected at most {self.thickness_mm:g} mm"))
        if self.panel.raised is not None:
            findings += self._slope_findings(self.frame, self.panel, self.panel.raised)
        if findings:
            fail_each(findings)
        return self

    def _opening_findings(self, frame: Frame, panel: DoorPanel) -> list[Finding]:
        """Return what is wrong with a rebate, and with naming the timber of glass."""
        findings: list[Finding] = []
        open_ = isinstance(panel, DoorOpening)
        if open_ and self.timbers is not None and self.timbers.panel is not None:
            findings.append(Finding(("timbers", "panel"), "the frame holds no panel of wood", "leave panel out here"))
        if frame.rebate is None:
            return findings
        if not open_:
            wrong = "a panel of wood stands in a groove, which is not seen"
            findings.append(Finding(("frame", "rebate"), wrong, "leave rebate out, or give panel: glass or none"))
        for way, size, most in (
            ("wide", frame.rebate.width_mm, min(frame.stile_mm, frame.rail_mm)),
            ("deep", frame.rebate.depth_mm, self.thickness_mm),
        ):
            if size >= most:
                wrong = f"a rebate {size:g} mm {way} leaves nothing of {most:g} mm"
                findings.append(Finding(("frame", "rebate"), wrong, f"expected less than {most:g} mm"))
        return findings

    def _slope_findings(self, frame: Frame, panel: DoorPanel, raised: Raised) -> list[Finding]:
        findings: list[Finding] = []
        if raised.fall_mm >= panel.thickness_mm:
            wrong = f"the slope falls {raised.fall_mm:g} mm in a panel of {panel.thickness_mm:g} mm"
            findings.append(Finding(("panel", "raised"), wrong, f"expected less than {panel.thickness_mm:g} mm"))
        room = min(self.width_mm - 2 * frame.stile_mm, self.height_mm - 2 * frame.rail_mm)
        if room > 0 and 2 * raised.width_mm > room * (1 + 1e-9):
            wrong = f"slopes {raised.width_mm:g} mm wide meet in a panel of {room:g} mm"
            findings.append(Finding(("panel", "raised"), wrong, f"expected at most {room / 2:g} mm"))
        return findings

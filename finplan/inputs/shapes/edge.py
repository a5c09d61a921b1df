"""Edge profiles as they are written: ``roundover 6``, ``bevel 10 x 5 mm``, ``{top: ogee 8, bottom: chamfer 3}``."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import ValidationInfo
from pydantic_core import PydanticCustomError

from finplan.inputs.shapes.part import lengths_of
from finplan.problems import Finding, did_you_mean, shown
from finplan.reading import (
    Form,
    Reads,
    fail,
    fail_each,
    finding_of,
)

ProfileKind = Literal["square", "roundover", "cove", "chamfer", "bevel", "ogee"]

_EXAMPLE = "expected square, roundover R, cove R, chamfer C, bevel W x H, ogee R or, for the whole edge, bullnose"


@dataclass(frozen=True, slots=True)
class Profile:
    """One profile, along the upper or the lower arris of an edge."""

    kind: ProfileKind
    set_back_mm: float = 0.0
    """How much of the flat face it takes off, square to the outline."""
    height_mm: float = 0.0
    """How much of the thickness it takes off."""

    def __str__(self) -> str:
        return self.kind if self.kind == "square" else f"{self.kind} {self.set_back_mm:g} x {self.height_mm:g} mm"


SQUARE = Profile("square")


@dataclass(frozen=True, slots=True)
class Edge:
    """The edge all round a panel."""

    top: Profile = SQUARE
    bottom: Profile = SQUARE
    bullnose: bool = False


_NUMBERS: dict[str, int] = {"square": 0, "roundover": 1, "cove": 1, "chamfer": 1, "bevel": 2, "ogee": 1, "bullnose": 0}


def _words(text: object) -> tuple[str, str]:
    if not isinstance(text, str) or not text.strip() or len(text) > 60:
        fail("this is not an edge profile", _EXAMPLE)
    name, _, rest = text.strip().partition(" ")
    if name not in _NUMBERS:
        fail(f"edge profile {shown(name)} is unknown", did_you_mean(name, _NUMBERS))
    return name, rest.strip()


def profile(text: object, bare_unit: str | None) -> Profile:
    """Return the profile that *text* names; *bare_unit* is the unit of its bare numbers."""
    name, rest = _words(text)
    if name == "bullnose":
        fail("a bullnose takes the whole edge", "write edge: bullnose")
    wanted = _NUMBERS[name]
    sizes = lengths_of(rest, bare_unit) if rest else []
    if len(sizes) != wanted:
        shape = {0: name, 1: f"{name} 6 mm", 2: f"{name} 10 x 5 mm"}[wanted]
        fail(f"{shown(text)} has {len(sizes)} size{'' if len(sizes) == 1 else 's'}", f"expected it as '{shape}'")
    if name == "square":
        return SQUARE
    factor = 2 if name == "ogee" else 1
    return Profile(name, factor * sizes[0], factor * sizes[-1])  # type: ignore[arg-type]


def _sides(value: dict[str, object], bare_unit: str | None) -> Edge:
    """Return an edge whose profiles are given for top and bottom."""
    profiles = {"top": SQUARE, "bottom": SQUARE}
    findings: list[Finding] = []
    for side, text in value.items():
        if side not in profiles:
            wrong = f"field {shown(side)} is unknown"
            findings.append(Finding((side,), wrong, did_you_mean(side, profiles), at_key=True))
            continue
        try:
            profiles[side] = profile(text, bare_unit)
        except PydanticCustomError as error:
            findings.append(finding_of(error).within(side))
    if findings:
        fail_each(findings)
    return Edge(profiles["top"], profiles["bottom"])


def _edge(value: object, info: ValidationInfo) -> Edge:
    bare_unit = (info.context or {}).get("lengths")
    if isinstance(value, dict):
        return _sides(value, bare_unit)
    name, rest = _words(value)
    if name == "bullnose":
        if rest:
            fail(
                f"{shown(value)} has a size", "a bullnose is half a circle as thick as the panel: write edge: bullnose"
            )
        return Edge(bullnose=True)
    both = profile(value, bare_unit)
    return Edge(both, both)


_EDGE_FORM = "a profile, for both sides or for each, or bullnose: {top: roundover 6, bottom: chamfer 3}"
_PROFILE_SCHEMA = {
    "type": "string",
    "pattern": "^(square|(roundover|cove|chamfer|ogee) [^x×]+|bevel [^x×]+[x×][^x×]+)$",
}
_SIDES = {
    "type": "object",
    "properties": dict.fromkeys(("top", "bottom"), _PROFILE_SCHEMA),
    "additionalProperties": False,
}
_EDGE_SCHEMA = {"anyOf": [{"const": "bullnose"}, _PROFILE_SCHEMA, _SIDES]}
EdgeField = Annotated[Edge, Reads(_edge, in_context=True), Form(_EDGE_FORM, _EDGE_SCHEMA)]

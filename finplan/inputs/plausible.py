"""Sizes that are possible but unlikely: warnings that say what was probably meant.

The bounds are in ``plausible-sizes.yaml`` of the catalogue. To stay out of the way of small knobs and large tables, a
size outside them is mentioned only where one other unit would make it an ordinary one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from finplan.inputs.piece import Piece
from finplan.inputs.plausible_sizes import Bounds, Sizes
from finplan.inputs.shapes import Board, Carcase, Circle, Curve, Disc, Door, Drawer, Panel, Part, Rod, SquareLeg
from finplan.inputs.shapes import Turned as TurnedPart
from finplan.problems import Finding, Where
from finplan.quantity import MM_PER_IN

_UNIT_MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": MM_PER_IN, "ft": 304.8}
_TOO_SMALL = (("mm", "in"), ("mm", "cm"))
_TOO_LARGE = (("cm", "mm"), ("in", "mm"), ("ft", "in"), ("m", "mm"))
"""What was read, and what may have been meant; the likeliest first."""
_FEET = {"foot", "feet"}
"""What is called so may be short."""


@dataclass(frozen=True, slots=True)
class _Size:
    """One size of a part: where it stands, what bounds it, and how it is said."""

    path: Where
    bounds: Bounds
    size_mm: float
    said: str


def unlikely_sizes(piece: Piece, sizes: Sizes) -> list[Finding]:
    """Return a warning for every size that was probably meant in another unit; paths start at the top of the file."""
    return [
        finding.within("parts", name)
        for name, part in piece.parts.items()
        for finding in _unlikely_in_part(name, part, sizes)
    ]


def _unlikely_in_part(name: str, part: Part, sizes: Sizes) -> Iterator[Finding]:
    if isinstance(part, (Disc, Rod)):
        yield from _way_round(part, sizes)
    told: set[Where] = set()
    for size in _sizes(name, part, sizes):
        meant = None if size.path in told else _meant(size.size_mm, size.bounds)
        never = size.path not in told and size.size_mm < (size.bounds.never_below_mm or 0.0)
        if meant is not None or never:
            told.add(size.path)
            wrong = f"{size.said.format(_length(size.size_mm))} is unlikely"
            expected = f"was {meant} meant?" if meant else "is the unit right?"
            yield Finding(size.path, wrong, expected, severity="warning", name="unlikely-size")


def _way_round(circle: Circle, sizes: Sizes) -> Iterator[Finding]:
    around_mm = circle.given_circumference_mm
    if around_mm is None or not sizes.circumference.ordinary(around_mm):
        return
    around = _length(around_mm)
    across = f"{circle.diameter_mm / MM_PER_IN:.3g} in" if " in" in around else f"{circle.diameter_mm:.0f} mm"
    wrong = f"a circle {around} around is {across} across"
    expected = f"did you mean diameter: {around.split(' (')[0]}?"
    yield Finding(("circumference",), wrong, expected, severity="warning", name="circle-given-around")


def _sizes(name: str, part: Part, sizes: Sizes) -> Iterator[_Size]:
    """Return the sizes of a part that can be judged; of two at one place the first tells more."""
    words = _words(name)
    if (isinstance(part, SquareLeg) or words & set(sizes.leg_length.named)) and not words & _FEET:
        if isinstance(part, TurnedPart):
            place: Where = ("length",) if part.length_mm else ("elements",)
            yield _Size(place, sizes.leg_length, sum(element.length_mm for element in part.elements), "a leg {} long")
        elif isinstance(part, (SquareLeg, Rod, Board)):
            yield _Size(("length",), sizes.leg_length, part.length_mm, "a leg {} long")
    if isinstance(part, SquareLeg):
        yield _Size(("side",), sizes.leg_side, part.side_mm, "a leg {} square")
    if isinstance(part, Rod):
        yield _Size(_circle_path(part), sizes.rod, part.diameter_mm, "a rod of {}")
    if isinstance(part, TurnedPart):
        yield _Size(("elements",), sizes.turning, _greatest_mm(part), "a turned part {} thick")
    if isinstance(part, (Panel, Board, Carcase, Drawer, Door)):
        yield _Size(("thickness",), sizes.thickness, part.thickness_mm, "wood {} thick")
    if isinstance(part, Panel) and words & set(sizes.top.named):
        yield from _across(part, sizes)
    for field in ("length", "width", "height", "depth"):
        size_mm = getattr(part, f"{field}_mm", None)
        if size_mm is not None:
            yield _Size((field,), sizes.length, size_mm, f"a {field} of {{}}")


def _words(name: str) -> set[str]:
    """Return the words in the name of a part, in small letters and without a plural's s."""
    return {word.removesuffix("s") for word in re.findall(r"[^\W\d_]+", name.lower())}


def _across(part: Panel, sizes: Sizes) -> Iterator[_Size]:
    if isinstance(part, Disc):
        path, across_mm = _circle_path(part), part.diameter_mm
    else:
        path, across_mm = ("length",), getattr(part, "length_mm", None) or 0.0
    if 0 < across_mm <= sizes.top.times_as_thick * part.thickness_mm or across_mm > (sizes.top.above_mm or 0.0):
        yield _Size(path, sizes.top, across_mm, "a top {} across")


def _circle_path(circle: Circle) -> Where:
    if circle.given_circumference_mm is not None:
        return ("circumference",)
    return ("radius",) if circle.given_radius_mm is not None else ("diameter",)


def _greatest_mm(part: TurnedPart) -> float:
    fields = ("diameter_mm", "side_mm", "rim_mm", "from_mm", "to_mm")
    sizes = [getattr(element, field, 0.0) for element in part.elements for field in fields]
    sizes += [diameter for element in part.elements if isinstance(element, Curve) for _, diameter in element.points_mm]
    return max(sizes)


def _meant(size_mm: float, bounds: Bounds) -> str | None:
    """Return the ordinary size that another unit would make of an unlikely one."""
    if bounds.below_mm is not None and size_mm < bounds.below_mm:
        units: tuple[tuple[str, str], ...] = _TOO_SMALL
    elif bounds.above_mm is not None and size_mm > bounds.above_mm:
        units = _TOO_LARGE
    else:
        return None
    meanings: list[tuple[bool, int, str]] = []
    for rank, (read, meant) in enumerate(units):
        number = size_mm / _UNIT_MM[read]
        meant_mm = number * _UNIT_MM[meant]
        if bounds.ordinary(meant_mm):
            shown = f"{number:.4g} {meant}" + ("" if meant == "mm" else f" ({meant_mm:.0f} mm)")
            meanings.append((not _is_round(number), rank, shown))
    return min(meanings)[2] if meanings else None


def _is_round(number: float) -> bool:
    return abs(number * 16 - round(number * 16)) < 1e-6


def _length(size_mm: float) -> str:
    """Return a length in the unit in which it is a round number."""
    inches = size_mm / MM_PER_IN
    if not _is_round(size_mm) and _is_round(inches):
        return f"{inches:g} in ({size_mm:.0f} mm)"
    return f"{size_mm:.4g} mm" if size_mm < 1e4 else f"{size_mm / 1000:.4g} m"

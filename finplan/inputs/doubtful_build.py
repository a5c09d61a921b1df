"""What is hardly meant: a top beside its aprons, an underside left bare, a covered face that is finished."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

from finplan.inputs.piece import Piece
from finplan.inputs.shapes import Board, Disc, Panel, Part
from finplan.problems import Finding, Where
from finplan.reading import file_name

_APRON = re.compile(r"apron|skirt|frieze", re.IGNORECASE)
_OF_A_FINISH = ("coats", "system", "surface", "start_grit", "stop_grit")
_FEWEST = 3
"""Aprons that close a ring."""


def doubtful_build(piece: Piece) -> list[Finding]:
    """Return a warning for everything that hardly goes together; paths start at the top of the file."""
    return [*_tops_beside_aprons(piece), *_bare_undersides(piece), *_finished_though_covered(piece)]


def _finished_though_covered(piece: Piece) -> Iterator[Finding]:
    """Give a warning for what is asked for on a face that is covered, and so neither sanded for a finish nor coated."""
    for name, part in piece.parts.items():
        for face, rule in part.faces.items():
            asked = [field for field in _OF_A_FINISH if field in rule.model_fields_set and getattr(rule, field)]
            if rule.exposure == "covered" and asked:
                where: Where = ("parts", name, "faces", face, file_name(asked[0]))
                wrong = f"'{file_name(asked[0])}' does nothing on a face that is covered"
                expected = "leave it out, or say show or secondary"
                yield Finding(where, wrong, expected, severity="warning", name="covered-face")


def _tops_beside_aprons(piece: Piece) -> Iterator[Finding]:
    """Give a warning for every round top that goes with the aprons only when its size is read the other way.

    Notes
    -----
    Aprons that close a ring lie in the circle through its corners, for n of the length a one of diameter
    ``a / sin(π/n)``: a regular polygon in its circumscribed circle. A top does not end inside it; and a top that is as
    wide as that circle even where its diameter was measured around it stands out on every side by more than the
    whole circle.
    """
    rings = [
        part.length_mm / math.sin(math.pi / part.count)
        for name, part in piece.parts.items()
        if _APRON.search(name) and isinstance(part, Board) and part.count >= _FEWEST
    ]
    tops = {name: part for name, part in piece.parts.items() if isinstance(part, Disc) and part.count == 1}
    if not rings or len(tops) != 1:
        return
    ((name, top),) = tops.items()
    ring_mm, around_mm = max(rings), top.given_circumference_mm
    beside = f"the circle through the corners of its aprons, {ring_mm:.0f} mm"
    if around_mm is not None and top.diameter_mm < ring_mm <= around_mm:
        wrong = f"a top {around_mm:.0f} mm around is {top.diameter_mm:.0f} mm across, less than {beside}"
        yield _around(name, "circumference", wrong, f"was diameter: {around_mm:.0f} mm meant?")
    elif around_mm is None and top.given_radius_mm is None and top.diameter_mm / math.pi >= ring_mm:
        wrong = f"a top {top.diameter_mm:.0f} mm across is more than three times {beside}"
        yield _around(name, "diameter", wrong, f"was circumference: {top.diameter_mm:.0f} mm meant?")


def _around(name: str, field: str, wrong: str, expected: str) -> Finding:
    return Finding(("parts", name, field), wrong, expected, severity="warning", name="top-beside-aprons")


def _bare_undersides(piece: Piece) -> Iterator[Finding]:
    """Give a warning for every panel of solid wood that is finished above and bare below.

    What is glued, as a seat to its frame, is not bare; veneer comes on boards that stay flat by themselves.
    """
    glued = {(joint.from_, joint.face) for joint in piece.joints}
    for name, part in piece.parts.items():
        if not isinstance(part, Panel) or part.veneer_mm or (name, "underside") in glued:
            continue
        place = _bare(part, "underside")
        if place is not None and _bare(part, "top") is None and (name, "top") not in glued:
            wrong = "the underside is left bare, and the top is not: the wood takes up damp on one side and may cup"
            expected = "leave this out, and it gets the same coats"
            where: Where = ("parts", name, "faces", *place)
            yield Finding(where, wrong, expected, severity="warning", name="bare-underside")


def _bare(part: Part, face: str) -> tuple[str, str] | None:
    """Return what in the file leaves a face bare; None where nothing does."""
    rule = part.faces.get(face)
    if rule is None:
        return None
    if rule.exposure == "covered":
        return face, "exposure"
    return (face, "coats") if rule.coats == 0 else None

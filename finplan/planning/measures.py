"""What a plan reckons with, in a few figures: by them it is told what is otherwise in the next."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from finplan.material import MaterialPlan
from finplan.planning.piece import PlannedPiece
from finplan.system import in_plan


@dataclass(frozen=True, slots=True)
class Measures:
    """How much there is to finish, and how much that takes."""

    finished_m2: Mapping[str, float] = field(default_factory=dict)
    """What gets finish of a part, all of them together, by its name; of several pieces with the key of its own. [m²]"""
    needed_ml: Mapping[str, float] = field(default_factory=dict)
    """What all coats of a finish typically take, by its name. [ml]"""


def measures_of(pieces: Sequence[PlannedPiece], materials: MaterialPlan) -> Measures:
    """Return the figures of pieces that are planned together."""
    return Measures(
        {
            in_plan(piece.key, part.part): piece.surface.alike * part.count * part.finished_m2
            for piece in pieces
            for part in piece.surface.parts
        },
        {need.material: need.needed_ml.typical for need in materials.materials},
    )

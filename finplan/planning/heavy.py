"""How heavy flat parts are that are turned, lifted and carried, and whether anybody is there to help."""

from __future__ import annotations

from finplan.inputs import Shop
from finplan.planning.piece import PlannedPiece
from finplan.quantity import Range
from finplan.sanding import mass_g
from finplan.system import WIDE_FACES, Treatment
from finplan.timetable import TimetableStep, working_hours_between


def flat_mass_g(treatment: Treatment, piece: PlannedPiece) -> float | None:
    """Return about what one loose flat part weighs, its widest face times its thickness; None of all else. [g]

    What profiles and grooves take off is left in: it says how many hands it takes.
    """
    return _part_mass_g(treatment.parts[0], piece) if treatment.loose else None


def least_mass_g(piece: PlannedPiece) -> float:
    """Return what the flat parts of a piece weigh together, by which it weighs that at the least. [g]"""
    counts = piece.source.piece.parts
    return sum((_part_mass_g(name, piece) or 0.0) * part.count for name, part in counts.items())


def anybody_else_in(row: TimetableStep, shop: Shop) -> bool:
    """Return whether somebody beside who does it works in the shop at any time while something is done."""
    others = tuple(person for person in shop.people if person.name != row.person)
    return working_hours_between(shop.model_copy(update={"people": others}), row.start, row.end) > 0


def _part_mass_g(name: str, piece: PlannedPiece) -> float | None:
    thickness_mm = getattr(piece.source.piece.parts[name], "thickness_mm", None)
    surface = next(part for part in piece.surface.parts if part.part == name)
    wide = {face for pair in WIDE_FACES for face in pair}
    areas_m2 = [face.whole_m2 for face in surface.faces if face.face in wide]
    if thickness_mm is None or len(areas_m2) < 2 or surface.timber is None:
        return None
    timber = piece.source.catalogue.timbers[surface.timber]
    return mass_g(Range(thickness_mm, thickness_mm, thickness_mm), max(areas_m2), timber.specific_gravity).typical

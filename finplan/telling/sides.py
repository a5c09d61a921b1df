"""How an item with two wide faces is laid for a coat, which face comes first, and what nobody turns or lifts alone."""

from __future__ import annotations

from collections.abc import Iterable

from finplan.catalogue import Catalogue
from finplan.listing import listed
from finplan.planning import Plan, flat_mass_g, least_mass_g
from finplan.showing import capital, show_mass
from finplan.system import FIRST_SIDE, WIDE_FACES, CoatStep, FaceGroup, Side, Treatment, TreatmentStep, two_sides
from finplan.timetable import TimetableStep


def side_lines(treatment: Treatment, step: CoatStep, side: Side, catalogue: Catalogue) -> tuple[str, ...]:
    """Return how an item with two wide faces is laid for a coat; nothing where it has none."""
    if not treatment.loose:
        return ()
    sides = two_sides(treatment, step, catalogue)
    if sides is None:
        faces = {face for group in step.groups for face in group.faces}
        below = next((pair[1] for pair in WIDE_FACES if step.do == "coat" and set(pair) <= faces), None)
        # Common trade practice: what is looked at least lies on points, whose marks nobody sees.
        return () if below is None else (f"{capital(below)} first, then lay it on points and do the rest.",)
    first, second = (listed(_faces(groups)) for groups in sides)
    if side == FIRST_SIDE:
        return (f"First the {first} alone.",)
    return (f"Turned over: the {second}. It lies on the {first}: soft, clean rests.",)


def heavy_lines(treatment: Treatment, step: TreatmentStep, plan: Plan) -> tuple[str, ...]:
    """Return what an item weighs of which a step does both sides, where that is more than one person lifts."""
    mass_g = flat_mass_g(treatment, plan.piece_of(treatment))
    faces = {face for group in step.groups for face in group.faces}
    if mass_g is None or not _too_heavy(mass_g, plan) or not any(set(pair) <= faces for pair in WIDE_FACES):
        return ()
    alone = treatment.old_paint is not None
    if isinstance(step, CoatStep):
        alone = plan.catalogue.finishes[step.finish].hazards.isocyanate
    # Where everybody else is out of the room nobody helps.
    how = "turned by a hoist or on a stand that turns" if alone else "not turned alone; whoever helps wears the same"
    return (f"It weighs about {show_mass(mass_g, plan.units)}: {how}.",)


def lifting_lines(row: TimetableStep, plan: Plan) -> tuple[str, ...]:
    """Return what of a piece nobody lifts or carries alone, where it is put together, packed or handed over."""
    piece = plan.piece_of(row)
    lifts = row.extra is not None and row.of_step is None and plan.catalogue.extra_steps[row.extra].lifts
    if row.deed != "put-together" and not lifts:
        return ()
    masses_g = {treatment.named: flat_mass_g(treatment, piece) for treatment in piece.treatments}
    told = [
        f"{named} (about {show_mass(mass_g, plan.units)})"
        for named, mass_g in masses_g.items()
        if mass_g is not None and _too_heavy(mass_g, plan)
    ]
    lines = [f"Not lifted alone: {listed(told)}."] if told else []
    whole_g = least_mass_g(piece)
    if _too_heavy(whole_g, plan) and _is_one_body(row, plan):
        lines.append(f"All of it weighs {show_mass(whole_g, plan.units)} or more: not carried alone.")
    return tuple(lines)


def _is_one_body(row: TimetableStep, plan: Plan) -> bool:
    """Return whether a piece is put together in the shop: loose parts, as of stairs, are carried one by one."""
    steps = plan.catalogue.extra_steps
    joining = [name for name, record in steps.items() if record.lifts and not record.comes_last]
    return any(
        other.key == row.key and (other.deed == "put-together" or other.extra in joining)
        for other in plan.timetable.steps
    )


def _too_heavy(mass_g: float, plan: Plan) -> bool:
    return mass_g > plan.catalogue.lifting["common"].one_person_g


def _faces(groups: Iterable[FaceGroup]) -> list[str]:
    return list(dict.fromkeys(face for group in groups for face in group.faces))

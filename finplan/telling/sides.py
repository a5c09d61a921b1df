"""How an item with two wide faces is laid for a coat, and which face comes first."""

from __future__ import annotations

from collections.abc import Iterable

from finplan.catalogue import Catalogue
from finplan.listing import listed
from finplan.planning import Plan, flat_mass_g
from finplan.showing import capital, show_mass
from finplan.system import FIRST_SIDE, WIDE_FACES, CoatStep, FaceGroup, Side, Treatment, two_sides


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


def heavy_lines(treatment: Treatment, step: CoatStep, plan: Plan) -> tuple[str, ...]:
    """Return what an item weighs that is turned or laid on points, where that is more than one person lifts."""
    mass_g = flat_mass_g(treatment, plan.piece_of(treatment))
    if mass_g is None or mass_g <= plan.catalogue.lifting["common"].one_person_g:
        return ()
    alone = plan.catalogue.finishes[step.finish].hazards.isocyanate  # everybody else is out of the room
    how = "turned by a hoist or on a stand that turns" if alone else "not turned alone; whoever helps wears the same"
    return (f"It weighs about {show_mass(mass_g, plan.units)}: {how}.",)


def _faces(groups: Iterable[FaceGroup]) -> list[str]:
    return list(dict.fromkeys(face for group in groups for face in group.faces))

"""How much of a coat one side of an item takes, and which face comes first."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from finplan.listing import listed
from finplan.material import CoatNeed
from finplan.planning import Plan
from finplan.showing import capital
from finplan.system import FaceGroup, Treatment, TreatmentStep
from finplan.timetable.sides import FIRST_SIDE, WIDE_FACES, two_sides


def coat_of_side(treatment: Treatment, step: TreatmentStep, side: str, plan: Plan) -> CoatNeed | None:
    """Return what a coat needs; of a side its share, as what the faces of the other side drink is not poured out."""
    coat = plan.materials.coat_of(step.id)
    groups = _groups(treatment, step, side, plan)
    if coat is None or groups is None:
        return coat
    drinks_ml = sum(need.needed_ml.typical for need in coat.groups)
    share = sum(need.needed_ml.typical * _share(need.group, groups) for need in coat.groups) / drinks_ml
    return replace(
        coat,
        step=replace(step, id=f"{step.id}{side}", groups=groups),
        area_m2=sum(group.area_m2 for group in groups),
        fixed_ml=coat.fixed_ml.scaled(share),
        wet_ml=coat.wet_ml.scaled(share),
        needed_ml=coat.needed_ml.scaled(share),
        thinner_ml=coat.thinner_ml.scaled(share),
        hours=coat.hours.scaled(share),
    )


def side_lines(treatment: Treatment, step: TreatmentStep, side: str, plan: Plan) -> tuple[str, ...]:
    """Return how an item with two wide faces is laid for a coat; nothing where it has none."""
    if treatment.parts != (treatment.item,):
        return ()
    sides = two_sides(treatment, step, plan.catalogue)
    if sides is None:
        faces = {face for group in step.groups for face in group.faces}
        below = next((pair[1] for pair in WIDE_FACES if step.do == "coat" and set(pair) <= faces), None)
        # Common trade practice: what is looked at least lies on points, whose marks nobody sees.
        return () if below is None else (f"{capital(below)} first, then lay it on points and do the rest.",)
    first, second = (listed(_faces(groups)) for groups in sides)
    if side == FIRST_SIDE:
        return (f"First the {first} alone.",)
    return (f"Turned over: the {second}. It lies on the {first}: soft, clean rests.",)


def _groups(treatment: Treatment, step: TreatmentStep, side: str, plan: Plan) -> tuple[FaceGroup, ...] | None:
    sides = two_sides(treatment, step, plan.catalogue) if side else None
    return None if sides is None else sides[0] if side == FIRST_SIDE else sides[1]


def _faces(groups: Iterable[FaceGroup]) -> list[str]:
    return list(dict.fromkeys(face for group in groups for face in group.faces))


def _share(whole: FaceGroup, groups: Iterable[FaceGroup]) -> float:
    """Return how much of a group lies on one side. 0 to 1"""
    taken = (group.area_m2 for group in groups if group.part == whole.part and set(group.faces) <= set(whole.faces))
    return sum(taken) / whole.area_m2

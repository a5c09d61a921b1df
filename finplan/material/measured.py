"""What is measured out at once: a coat of an item, or one side of it where its sides are coated one after the other."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from finplan.catalogue import Catalogue
from finplan.material.mixing import CoatMix, coat_mix
from finplan.material.need import CoatNeed
from finplan.quantity import Range, Units
from finplan.system import FIRST_SIDE, SECOND_SIDE, FaceGroup, Side, Treatment, side_label, two_sides


@dataclass(frozen=True, slots=True)
class MeasuredOut:
    """What is measured out at once."""

    label: str
    """The coat, of one side with its faces, as the rows of a timetable name it."""
    side: Side
    """``FIRST_SIDE`` or ``SECOND_SIDE``; empty where it is of all faces."""
    coat: CoatNeed
    """What the coat needs, of one side its share."""
    mix: CoatMix


def measured_at_once(
    coat: CoatNeed,
    treatment: Treatment | None,
    catalogue: Catalogue,
    units: Units,
    pot_lives_h: Mapping[str, Range],
) -> tuple[MeasuredOut, ...]:
    """Return what is measured out for a coat, one after another.

    Parameters
    ----------
    coat
        What it needs
    treatment
        What it belongs to; None on a sample board, which is coated at once
    catalogue, units, pot_lives_h
        As ``coat_mix``
    """
    sides = None if treatment is None else two_sides(treatment, coat.step, catalogue)
    if sides is None:
        return (MeasuredOut(coat.step.label, "", coat, coat_mix(coat, catalogue, units, pot_lives_h)),)
    measured = []
    for side, groups in zip((FIRST_SIDE, SECOND_SIDE), sides, strict=True):
        of_side = _of_faces(coat, groups)
        label = side_label(coat.step, groups)
        measured.append(MeasuredOut(label, side, of_side, coat_mix(of_side, catalogue, units, pot_lives_h)))
    return tuple(measured)


def share_of_faces(coat: CoatNeed, groups: Iterable[FaceGroup]) -> float:
    """Return which share of a coat some of its faces take, by what each drinks. 0 to 1"""
    taken = list(groups)
    drinks_ml = sum(need.needed_ml.typical for need in coat.groups)
    return sum(need.needed_ml.typical * _share(need.group, taken) for need in coat.groups) / drinks_ml


def _of_faces(coat: CoatNeed, groups: tuple[FaceGroup, ...]) -> CoatNeed:
    share = share_of_faces(coat, groups)
    return replace(
        coat,
        step=replace(coat.step, groups=groups),
        area_m2=sum(group.area_m2 for group in groups),
        fixed_ml=coat.fixed_ml.scaled(share),
        wet_ml=coat.wet_ml.scaled(share),
        needed_ml=coat.needed_ml.scaled(share),
        thinner_ml=coat.thinner_ml.scaled(share),
        hours=coat.hours.scaled(share),
    )


def _share(whole: FaceGroup, groups: Iterable[FaceGroup]) -> float:
    """Return how much of a group is among the faces taken. 0 to 1"""
    taken = (group.area_m2 for group in groups if group.part == whole.part and set(group.faces) <= set(whole.faces))
    return sum(taken) / whole.area_m2

"""Coats that are put on one side at a time, and on which faces."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from finplan.catalogue import Catalogue
from finplan.system.ids import FIRST_SIDE, Side
from finplan.system.treatment import CoatStep, FaceGroup, Treatment, TreatmentStep

WIDE_FACES = (("top", "underside"), ("front", "back"))


def two_sides(
    treatment: Treatment, step: CoatStep, catalogue: Catalogue
) -> tuple[tuple[FaceGroup, ...], tuple[FaceGroup, ...]] | None:
    """Return the faces of a coat that is put on one side at a time, one after the other; None for all at once.

    A flat part whose both wide faces show gets a film on one side, and on the other when the first is fit to handle: on
    points the wet film would be marked. Where one face is not looked at, it is coated first and laid on points; what
    soaks in and is wiped off is laid on points too. Common trade practice.
    """
    finish = catalogue.finishes[step.finish]
    if not finish.film_forming or not treatment.loose:
        return None
    showing = {face for group in step.groups if group.exposure == "show" for face in group.faces}
    sides = next((pair for pair in WIDE_FACES if set(pair) <= showing), None)
    if sides is None:
        return None
    split = [_split(group, sides[1]) for group in step.groups]
    first = tuple(part for part, _ in split if part is not None)
    second = tuple(part for _, part in split if part is not None)
    return first, second


def groups_of_side(treatment: Treatment, step: CoatStep, side: Side, catalogue: Catalogue) -> tuple[FaceGroup, ...]:
    """Return the faces of a coat that one side of it is; of what is put on all faces at once all of them."""
    sides = two_sides(treatment, step, catalogue) if side else None
    if sides is None:
        return step.groups
    return sides[0] if side == FIRST_SIDE else sides[1]


def _split(group: FaceGroup, face: str) -> tuple[FaceGroup | None, FaceGroup | None]:
    """Return the share of a group that is one face, and the rest; of equal faces, by their number."""
    if face not in group.faces:
        return None, group
    others = tuple(name for name in group.faces if name != face)
    if not others:
        return group, None
    share = 1 / len(group.faces)
    return (
        replace(group, faces=(face,), area_m2=group.area_m2 * share, end_grain_m2=group.end_grain_m2 * share),
        replace(
            group, faces=others, area_m2=group.area_m2 * (1 - share), end_grain_m2=group.end_grain_m2 * (1 - share)
        ),
    )


def side_label(step: TreatmentStep, groups: Iterable[FaceGroup]) -> str:
    """Return what a coat on one side is called: the coat with its faces."""
    return f"{step.label}, {faces_told(groups)}"


def faces_told(groups: Iterable[FaceGroup]) -> str:
    """Return the faces of groups in words: a wide one alone by its name, with others as it and the edges."""
    faces = list(dict.fromkeys(face for group in groups for face in group.faces))
    wide = [face for face in faces if any(face in pair for pair in WIDE_FACES)]
    return f"{wide[0]} and edges" if len(wide) == 1 and len(faces) > 1 else ", ".join(faces)

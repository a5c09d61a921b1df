"""How much more a surface drinks than the spread rate says: pores, end grain, last grade, first coat or later."""

from __future__ import annotations

from finplan.catalogue import AbsorptionFactors, Catalogue, Finish
from finplan.quantity import Range
from finplan.system import FaceGroup

_ONE = Range(1.0, 1.0, 1.0)


def absorption(
    group: FaceGroup, finish: Finish, catalogue: Catalogue, *, bare: bool, last_grit: str | None = None
) -> Range:
    """Return the area that the group drinks like, against a face of the spread rate. [m²]

    Parameters
    ----------
    group
        Faces that are treated alike
    finish
        What is put on
    catalogue
        Where the factors are
    bare
        Whether it goes on bare wood
    last_grit
        The last grade that the bare wood was sanded with; None for the usual one

    Notes
    -----
    ``(along the grain · pores + end grain · the larger of end grain and pores) · last grade``; end grain never drinks
    less than the face beside it. The grade counts on bare wood only.
    """
    pores = catalogue.absorption[catalogue.timbers[group.timber].pores]
    ends = catalogue.absorption["end-grain-film" if finish.film_forming else "end-grain-penetrating"]
    face, end = (pores.first, ends.first) if bare else (pores.later, ends.later)
    grade = _grade_factor(last_grit, catalogue) if bare and last_grit is not None else _ONE
    along_m2 = group.area_m2 - group.end_grain_m2

    def drinks_m2(face_factor: float, end_factor: float, grade_factor: float) -> float:
        return (along_m2 * face_factor + group.end_grain_m2 * max(face_factor, end_factor)) * grade_factor

    return Range(
        drinks_m2(face.low, end.low, grade.low),
        drinks_m2(face.typical, end.typical, grade.typical),
        drinks_m2(face.high, end.high, grade.high),
    )


def _grade_factor(last_grit: str, catalogue: Catalogue) -> Range:
    """Return the factor of the coarsest of the graded records that is at least as fine as the last grade."""
    sizes = catalogue.grades["p-grade"].sizes_um
    graded: list[tuple[float, AbsorptionFactors]] = sorted(
        ((sizes[one.finest], one) for one in catalogue.absorption.values() if one.finest is not None),
        key=lambda found: -found[0],
    )
    if not graded or last_grit not in sizes:
        return _ONE
    fitting = [one for size_um, one in graded if size_um <= sizes[last_grit]]
    return fitting[0].first if fitting else graded[-1][1].first

"""How much more a surface drinks than the spread rate says: pores, end grain, last grade, first coat or later."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.catalogue import AbsorptionFactors, Catalogue, Finish, Timber
from finplan.quantity import Range
from finplan.system import FaceGroup

_ONE = Range(1.0, 1.0, 1.0)


@dataclass(frozen=True, slots=True)
class Absorption:
    """What a group of faces drinks like, against a face of the spread rate. Areas in m², factors plain numbers."""

    along_m2: float
    """Of the group, what lies along the grain."""
    end_m2: float
    """And across it: what is end grain."""
    pores: Range
    """The factor of the timber's face."""
    ends: Range
    """The factor of its end grain, which never drinks less than the face beside it."""
    grade: Range
    """The factor of the last grade, on both."""


def absorption(
    group: FaceGroup, finish: Finish, catalogue: Catalogue, *, bare: bool, last_grit: str | None = None
) -> Absorption:
    """Return what a group of faces drinks like.

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
    ``(along the grain · pores + end grain · the larger of end grain and pores) · last grade``. The grade counts on bare
    wood only. A sheet has factors of its own for its faces and its cut edges.
    """
    timber = catalogue.timbers[group.timber]
    pores = catalogue.absorption[_drinks_as(group, timber)]
    ends = catalogue.absorption["end-grain-film" if finish.film_forming else "end-grain-penetrating"]
    face, end = (pores.first, ends.first) if bare else (pores.later, ends.later)
    # Of a sheet the cut edge drinks alike all round, and a veneer that covers it as wood does.
    across_m2 = group.end_grain_m2 if timber.sheet is None else 0.0
    return Absorption(
        along_m2=group.area_m2 - across_m2,
        end_m2=across_m2,
        pores=face,
        ends=face.greater(end),
        grade=_grade_factor(last_grit, catalogue) if bare and last_grit is not None else _ONE,
    )


def _drinks_as(group: FaceGroup, timber: Timber) -> str:
    """Return which record of absorption is that of a face."""
    if timber.sheet is None:
        return timber.pores
    cut = group.kind != "flat" and not group.veneer_mm
    return timber.sheet.edges_drink if cut else timber.sheet.faces_drink


def _grade_factor(last_grit: str, catalogue: Catalogue) -> Range:
    """Return the factor of the coarsest of the graded records that is at least as fine as the last grade."""
    sizes = catalogue.grades["p-grade"].sizes_um
    graded: list[tuple[float, AbsorptionFactors]] = sorted(
        ((sizes[factors.finest], factors) for factors in catalogue.absorption.values() if factors.finest is not None),
        key=lambda grade: -grade[0],
    )
    if not graded or last_grit not in sizes:
        return _ONE
    fitting = [factor for size_um, factor in graded if size_um <= sizes[last_grit]]
    return fitting[0].first if fitting else graded[-1][1].first

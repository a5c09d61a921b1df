"""How much one coat of one item needs: area, what the wood drinks, spread rate, and what the tool keeps."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.catalogue import ApplicationMethod, Catalogue, Finish
from finplan.quantity import Range
from finplan.system import FaceGroup, TreatmentStep

_ML_PER_L = 1000.0


@dataclass(frozen=True, slots=True)
class GroupNeed:
    """The liquid that one coat on one group of faces needs, thinner included. Volume in ml."""

    group: FaceGroup
    needed_ml: Range


@dataclass(frozen=True, slots=True)
class CoatNeed:
    """What one coat of one item needs, tool losses included. Volumes in ml, area in m²."""

    item: str
    step: TreatmentStep
    finish: str
    area_m2: float
    groups: tuple[GroupNeed, ...]
    fixed_ml: Range
    """What stays in the tool and the pot."""
    wet_ml: Range
    """The liquid as it goes on, thinner included."""
    needed_ml: Range
    """The finish in it."""
    thinner_ml: Range


def coat_need(item: str, step: TreatmentStep, catalogue: Catalogue, *, share: float = 1.0) -> CoatNeed:
    """Return what a coat needs.

    Parameters
    ----------
    item
        What is coated as one
    step
        The coat, with its finish and method
    catalogue
        Where finish, method and absorption are
    share
        The item's share of what stays in tool and pot, where others get the same coat from them. 0 to 1

    Notes
    -----
    Per group ``area · absorption / spread rate``, where absorption is that of the timber's pores, raised on the share
    of end grain; then ``/ transfer efficiency`` where it is sprayed and ``/ (1 - loss)`` for what the tool keeps in
    proportion, and a fixed loss for each coat, which items that get it together share by their areas. That is liquid as
    it goes on: where the coat is thinned, the finish is ``1 / (1 + p)`` of it and the thinner the rest, p being thinner
    by volume of the finish. Low, typical and high are combined as they are, low with low: the causes (a thirsty board,
    a heavy hand) act on the whole coat.
    """
    if step.finish is None or step.method is None:
        msg = f"step {step.id} is no coat"
        raise ValueError(msg)
    finish = catalogue.finishes[step.finish]
    method = catalogue.methods[step.method]
    groups = tuple(GroupNeed(group, _group_ml(group, step, finish, method, catalogue)) for group in step.groups)
    fixed_ml = method.fixed_loss_ml.scaled(share)
    wet_ml = fixed_ml.plus(Range.total(group.needed_ml for group in groups))
    thinner = step.recipe.thin_pct / 100
    return CoatNeed(
        item=item,
        step=step,
        finish=step.finish,
        area_m2=step.area_m2,
        groups=groups,
        fixed_ml=fixed_ml,
        wet_ml=wet_ml,
        needed_ml=wet_ml.scaled(1 / (1 + thinner)),
        thinner_ml=wet_ml.scaled(thinner / (1 + thinner)),
    )


def _group_ml(
    group: FaceGroup, step: TreatmentStep, finish: Finish, method: ApplicationMethod, catalogue: Catalogue
) -> Range:
    rate = finish.spread_rate.first_m2_l if step.bare else finish.spread_rate.next_m2_l
    drinks = absorption(group, finish, catalogue, bare=step.bare)
    transfer = method.transfer_pct or Range(100.0, 100.0, 100.0)

    def volume_ml(rate_m2_l: float, drinks_m2: float, loss_pct: float, transfer_pct: float) -> float:
        return drinks_m2 / rate_m2_l * _ML_PER_L / (transfer_pct / 100) / (1 - loss_pct / 100)

    return Range(
        volume_ml(rate.high, drinks.low, method.loss_pct.low, transfer.high),
        volume_ml(rate.typical, drinks.typical, method.loss_pct.typical, transfer.typical),
        volume_ml(rate.low, drinks.high, method.loss_pct.high, transfer.low),
    )


def absorption(group: FaceGroup, finish: Finish, catalogue: Catalogue, *, bare: bool) -> Range:
    """Return the area that the group drinks like, against a face of the spread rate. [m²]"""
    pores = catalogue.absorption[catalogue.timbers[group.timber].pores]
    ends = catalogue.absorption["end-grain-film" if finish.film_forming else "end-grain-penetrating"]
    face, end = (pores.first, ends.first) if bare else (pores.later, ends.later)
    along_m2 = group.area_m2 - group.end_grain_m2

    def drinks_m2(face_factor: float, end_factor: float) -> float:
        return along_m2 * face_factor + group.end_grain_m2 * max(face_factor, end_factor)

    return Range(drinks_m2(face.low, end.low), drinks_m2(face.typical, end.typical), drinks_m2(face.high, end.high))

"""How much one coat of one item needs: area, what the wood drinks, spread rate or film, and what the tool keeps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from finplan.catalogue import ApplicationMethod, Catalogue, Finish
from finplan.material.absorption import absorption
from finplan.material.film import Film, planned_film
from finplan.quantity import Range
from finplan.system import FaceGroup, TreatmentStep

_ML_PER_L = 1000.0
_NOTHING = Range(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class GroupNeed:
    """The liquid that one coat on one group of faces needs, thinner included. Volume in ml."""

    group: FaceGroup
    needed_ml: Range


@dataclass(frozen=True, slots=True)
class CoatNeed:
    """What one coat of one item needs, tool losses included. Volumes in ml, area in m², time in h."""

    piece: str
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
    film: Film | None
    """Where the coat is planned by its thickness."""
    hours: Range
    """How long it is being put on."""

    @property
    def finish_terms_ml(self) -> tuple[Range, ...]:
        """The finish, one by one for what rises and falls by itself: each group of faces, and what the tool keeps."""
        share = 1 / (1 + self.step.recipe.thin_pct / 100)
        return tuple(term.scaled(share) for term in self._terms_ml)

    @property
    def thinner_terms_ml(self) -> tuple[Range, ...]:
        """The thinner, likewise."""
        thin = self.step.recipe.thin_pct / 100
        return tuple(term.scaled(thin / (1 + thin)) for term in self._terms_ml) if thin else ()

    @property
    def _terms_ml(self) -> tuple[Range, ...]:
        return (*(group.needed_ml for group in self.groups), self.fixed_ml)


def coat_need(
    item: str,
    step: TreatmentStep,
    catalogue: Catalogue,
    *,
    share: float = 1.0,
    last_grits: Mapping[FaceGroup, str] | None = None,
    piece: str = "",
    hours: Range = _NOTHING,
) -> CoatNeed:
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
    last_grits
        The last grade with which bare wood was sanded
    piece
        The piece that the item belongs to
    hours
        How long the coat is being put on. [h]

    Notes
    -----
    Per group ``area · absorption / spread rate``, where absorption is that of the timber's pores, raised on the share
    of end grain and by a coarse last grade. A coat that is planned by its film is ``area · absorption · wet film``
    instead: on bare wood what soaks in comes on top of the film, on later coats the absorption is that of a sealed
    face. Then ``/ transfer efficiency`` where it is sprayed and ``/ (1 - loss)`` for what the tool keeps in proportion,
    and a fixed loss for each coat, which items that get it together share by their areas. That is liquid as it goes on:
    where the coat is thinned, the finish is ``1 / (1 + p)`` of it and the thinner the rest, p being thinner by volume
    of the finish. Low, typical and high are combined as they are, low with low: the causes (a thirsty board, a heavy
    hand) act on the whole coat.
    """
    if step.finish is None or step.method is None:
        msg = f"step {step.id} is no coat"
        raise ValueError(msg)
    finish = catalogue.finishes[step.finish]
    method = catalogue.methods[step.method]
    film = planned_film(step, finish)
    wet_um = film.wet_um if film is not None else _rate_film(step, finish)
    groups = tuple(
        GroupNeed(
            group,
            _with_losses(
                absorption(group, finish, catalogue, bare=step.bare, last_grit=(last_grits or {}).get(group)),
                wet_um,
                method,
            ),
        )
        for group in step.groups
    )
    fixed_ml = method.fixed_loss_ml.scaled(share)
    wet_ml = fixed_ml.plus(Range.total(group.needed_ml for group in groups))
    thinner = step.recipe.thin_pct / 100
    return CoatNeed(
        piece=piece,
        item=item,
        step=step,
        finish=step.finish,
        area_m2=step.area_m2,
        groups=groups,
        fixed_ml=fixed_ml,
        wet_ml=wet_ml,
        needed_ml=wet_ml.scaled(1 / (1 + thinner)),
        thinner_ml=wet_ml.scaled(thinner / (1 + thinner)),
        film=film,
        hours=hours,
    )


def _rate_film(step: TreatmentStep, finish: Finish) -> Range:
    """Return the wet film that the spread rate makes: a litre on so many m². [µm, which is ml/m²]"""
    rate = finish.spread_rate.first_m2_l if step.bare else finish.spread_rate.next_m2_l
    return Range(_ML_PER_L / rate.high, _ML_PER_L / rate.typical, _ML_PER_L / rate.low)


def _with_losses(drinks_m2: Range, wet_um: Range, method: ApplicationMethod) -> Range:
    transfer = method.transfer_pct or Range(100.0, 100.0, 100.0)

    def volume_ml(area_m2: float, film_um: float, loss_pct: float, transfer_pct: float) -> float:
        return area_m2 * film_um / (transfer_pct / 100) / (1 - loss_pct / 100)

    return Range(
        volume_ml(drinks_m2.low, wet_um.low, method.loss_pct.low, transfer.high),
        volume_ml(drinks_m2.typical, wet_um.typical, method.loss_pct.typical, transfer.typical),
        volume_ml(drinks_m2.high, wet_um.high, method.loss_pct.high, transfer.low),
    )

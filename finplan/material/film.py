"""A coat that is planned by how thick it is when dry: the wet film to lay, and how it compares with the usual one."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.catalogue import Catalogue, Finish
from finplan.material.spread_rate import thinned_solids, wet_film
from finplan.quantity import Range
from finplan.system import CoatStep


@dataclass(frozen=True, slots=True)
class Film:
    """The film of one coat. Thicknesses in µm."""

    dry_um: Range
    wet_um: Range
    """As it goes on, thinner included, with the spread of the solids."""
    usual_um: float
    """The wet film that the finish's spread rate makes."""

    @property
    def gauge_um(self) -> Range:
        """Between what marks the comb gauge is to stand: the dry film wanted, by the typical solids."""
        return self.dry_um.scaled(self.wet_um.typical / self.dry_um.typical)

    @property
    def thickness_factor(self) -> float:
        """How many times as heavy as usual it is, 1 at the least: a film dries by the square of its thickness."""
        return max(1.0, self.wet_um.typical / self.usual_um)


def usual_rate(step: CoatStep, finish: Finish) -> float:
    """Return how far a litre typically goes in a coat that is put on as this one is. [m²/l]"""
    rates = finish.spread_rate
    rate = rates.first_m2_l if step.bare else rates.next_m2_l
    further = rates.by_method.get(step.method)
    return rate.typical * (1.0 if further is None else further.typical)


def planned_film(step: CoatStep, finish: Finish) -> Film | None:
    """Return the film of a coat that is planned by its thickness; None of one planned by the spread rate.

    Notes
    -----
    ``WFT = DFT · 100 / VS'`` with the solids ``VS' = VS / (1 + p)`` that thinning by p leaves. Thick and meagre go
    together: the high wet film is that of the high dry one at the low solids.
    """
    dry_um = step.recipe.dry_film_um
    if dry_um is None or not finish.film_forming:
        return None
    solids_pct, thin_pct = finish.volume_solids_pct, step.recipe.thin_pct
    return Film(
        dry_um=dry_um,
        wet_um=Range(
            dry_um.low * 100 / thinned_solids(solids_pct.high, thin_pct),
            dry_um.typical * 100 / thinned_solids(solids_pct.typical, thin_pct),
            dry_um.high * 100 / thinned_solids(solids_pct.low, thin_pct),
        ),
        usual_um=wet_film(usual_rate(step, finish)),
    )


def thickness_factor(step: CoatStep, catalogue: Catalogue) -> float:
    """Return how many times as heavy as usual a coat is, 1 at the least."""
    film = planned_film(step, catalogue.finishes[step.finish])
    return 1.0 if film is None else film.thickness_factor

"""What goes on a square metre of a coat, and what differs in it from tin to tin and from hand to hand."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.catalogue import LABEL, Catalogue, Finish
from finplan.material.cause import Cause, cause
from finplan.material.film import planned_film, usual_rate
from finplan.material.spread_rate import wet_film
from finplan.quantity import Range
from finplan.system import CoatStep

_ONE = Range(1.0, 1.0, 1.0)
_ALL = Range(100.0, 100.0, 100.0)


@dataclass(frozen=True, slots=True)
class GoingOn:
    """What a coat takes on a face that drinks as the spread rate says, losses in proportion to it included."""

    ml_m2: float
    """Typically, thinner included."""
    causes: tuple[Cause, ...]


def going_on(step: CoatStep, catalogue: Catalogue) -> GoingOn:
    """Return what goes on a square metre.

    Parameters
    ----------
    step
        A coat, with its finish and method
    catalogue
        Where they are

    Notes
    -----
    The range of a spread rate is that of tins of one type; what the label of the tin in hand says has none left. How
    thick a hand lays it on, how much a wiped or sprayed coat differs from a brushed one, what sticks to the tool and
    what a gun blows past the piece is the hand's. Of a coat that is planned by its film, the solids are the tin's, and
    how closely the film is kept is the hand's.
    """
    name, way = step.finish, step.method
    finish, method = catalogue.finishes[name], catalogue.methods[way]
    film = planned_film(step, finish)
    if film is not None:
        wet_um = film.wet_um.typical
        of_tin = _of_tin(finish, "volume-solids", finish.volume_solids_pct)
        of_hand = [film.dry_um]
    else:
        wet_um = wet_film(usual_rate(step, finish))
        rates = finish.spread_rate
        field, rate = ("first", rates.first_m2_l) if step.bare else ("next", rates.next_m2_l)
        of_tin = _of_tin(finish, f"spread-rate.{field}", rate)
        of_hand = [method.hand, rates.by_method.get(way, _ONE)]
    loss, transfer = method.loss_pct, method.transfer_pct or _ALL
    kept = Range(1 - loss.high / 100, 1 - loss.typical / 100, 1 - loss.low / 100)
    return GoingOn(
        ml_m2=wet_um / kept.typical / (transfer.typical / 100),
        causes=cause("product", (name,), of_tin) + cause("hand", (name, way), *of_hand, kept, transfer),
    )


def _of_tin(finish: Finish, field: str, known: Range) -> Range:
    """Return how a field differs from tin to tin; what the label says is certain."""
    return _ONE if finish.source_of(field) == LABEL else known

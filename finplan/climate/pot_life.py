"""How long a mix can be worked in the air of a shop: as long as it takes to react in the pot."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from math import floor

from finplan.catalogue import Catalogue, Finish
from finplan.climate.pace import drying_rate
from finplan.climate.weather import STANDARD, Air
from finplan.inputs import Climate
from finplan.quantity import Range

_LAW = "reaction"
_STEPS = 12
"""In an hour."""


def pot_life(finish: Finish, catalogue: Catalogue, temperature_c: float) -> Range | None:
    """Return how long what is mixed of a finish can be worked. [h]

    Parameters
    ----------
    finish
        What is mixed; of what is only dissolved the air changes nothing
    catalogue
        Where the law is by which a hardener reacts
    temperature_c
        Of the mix, and of the air in which it is put on. [°C]

    Notes
    -----
    Halved by ten degrees more, doubled by ten degrees less. Source: UFGS 09971, 3.7.1.3, of polyurethane and epoxy.
    """
    if finish.mix is None or finish.pot_life_h is None:
        return finish.pot_life_h
    return finish.pot_life_h.scaled(1 / drying_rate(catalogue.drying[_LAW], Air(temperature_c, STANDARD.humidity_pct)))


def pot_lives(finishes: Iterable[str], catalogue: Catalogue, climate: Climate) -> dict[str, Range]:
    """Return how long each finish that does not keep can be worked in a shop, at the warmest that it may be put on.

    By finish; those that keep are left out. [h]
    """
    lives = {name: shop_pot_life(catalogue.finishes[name], catalogue, climate) for name in finishes}
    return {name: life for name, life in lives.items() if life is not None}


def shop_pot_life(finish: Finish, catalogue: Catalogue, climate: Climate) -> Range | None:
    """Return how long what is mixed of a finish can be worked in a shop, at the warmest that it may be put on. [h]

    In whole steps of five minutes, rounded down: nobody mixes by the minute.
    """
    limits = finish.apply.temperature_c
    life = pot_life(finish, catalogue, min(max(*temperatures_c(climate), limits.low), limits.high))
    return None if life is None else Range(_rounded(life.low), _rounded(life.typical), _rounded(life.high))


def _rounded(hours: float) -> float:
    return max(1, floor(hours * _STEPS + 1e-9)) / _STEPS


def temperatures_c(climate: Climate, months: Collection[int] | None = None) -> Iterator[float]:
    """Give every temperature that a climate names; of what is told by the month those of some months, or all. [°C]"""
    for air in (climate.day, climate.night, *(climate.log or ())):
        if air is not None:
            yield air.temperature_c
    for month, pair in (climate.months or {}).items():
        if months is None or month in months:
            yield pair.day.temperature_c
            yield pair.night.temperature_c

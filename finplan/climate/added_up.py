"""The pace of each law of drying in the air of a table, added up once for all finishes that go by it."""

from __future__ import annotations

from bisect import bisect_right
from functools import lru_cache

from finplan.catalogue import Catalogue, DryingLaw
from finplan.climate.air_table import AirTable
from finplan.climate.dried import Dried, sustained
from finplan.climate.pace import drying_rate
from finplan.itself import Itself


def rates_in(table: AirTable, catalogue: Catalogue, law: DryingLaw) -> list[float]:
    """Return the pace of a law in every piece of a table, against that in standard air."""
    return _rates_in(Itself(table), Itself(catalogue), law)


def dried_in(table: AirTable, catalogue: Catalogue, law: DryingLaw, *, at_its_slowest: bool) -> Dried:
    """Return how far what goes by a law has come, over all of a table.

    Parameters
    ----------
    table
        The air
    catalogue
        The laws, and for how long a piece takes to follow the air
    law
        By which it goes
    at_its_slowest
        By the slowest pace of the last hour or so, and never faster than in standard air; else by the air of the moment
    """
    return _dried_in(Itself(table), Itself(catalogue), law, at_its_slowest)


@lru_cache(maxsize=64)
def _rates_in(table: Itself[AirTable], catalogue: Itself[Catalogue], law: DryingLaw) -> list[float]:
    pace = catalogue.it.drying[law]
    return table.it.of_each(lambda air: drying_rate(pace, air))


@lru_cache(maxsize=64)
def _dried_in(table: Itself[AirTable], catalogue: Itself[Catalogue], law: DryingLaw, at_its_slowest: bool) -> Dried:
    air, rates = table.it, _rates_in(table, catalogue, law)
    if not at_its_slowest:
        return Dried(air.from_min, rates, air.end_min)
    pace, hold_min = catalogue.it.drying[law], catalogue.it.shop_air["common"].sustained_h * 60
    early = sorted(air.before, key=lambda piece: piece[0])
    from_min = (*(begins for begins, _ in early), *air.from_min)
    paces = (min(rate, 1.0) for rate in (*(drying_rate(pace, before) for _, before in early), *rates))
    starts, slowest = sustained(from_min, paces, hold_min)
    first, inside = bisect_right(starts, 0.0) - 1, bisect_right(starts, air.end_min - 1e-9)
    return Dried([0.0, *starts[first + 1 : inside]], slowest[first:inside], air.end_min)

"""The moisture at which wood settles in the air of the shop, against what a finish and a heated room ask."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from finplan.catalogue import Catalogue, Finish
from finplan.climate.air import wood_moisture
from finplan.climate.air_table import AirTable, air_table
from finplan.climate.weather import Air, Weather
from finplan.problems import Finding

_DRIEST_PCT, _DAMPEST_PCT = 5.0, 95.0
_COLDEST_C = -1.0
"""Where ``wood_moisture`` is valid; beyond, the nearest that is."""


def room_moisture(table: AirTable) -> float:
    """Return the moisture at which wood settles in the air of a table: the mean over its time. [%]

    Examples
    --------
    An hour at 21.1 °C and 65 % humidity, where the handbook's table says 12.0 %.

    >>> from datetime import UTC, datetime
    >>> room_moisture(AirTable(datetime(2027, 3, 1, tzinfo=UTC), (0.0,), (Air(21.1, 65.0),), 60))
    11.96
    """
    minutes = sum(ends - begins for begins, ends, _ in table.pieces())
    return sum(_moisture_in(air) * (ends - begins) for begins, ends, air in table.pieces()) / minutes


def _moisture_in(air: Air) -> float:
    humidity_pct = min(max(air.humidity_pct, _DRIEST_PCT), _DAMPEST_PCT)
    return wood_moisture(max(air.temperature_c, _COLDEST_C), humidity_pct)


def moisture_findings(
    weather: Weather, start: datetime, finishes: Iterable[Finish], catalogue: Catalogue
) -> list[Finding]:
    """Return a warning where wood that settles in the shop is too damp or too dry to be finished there.

    Parameters
    ----------
    weather
        The air of the shop
    start
        When work begins; knows its time zone. The month from then on counts
    finishes
        What goes on the wood
    catalogue
        Where the limits are

    Returns
    -------
    list[Finding]
        None or one, its path in the shop file
    """
    kinds = sorted({"film" if finish.film_forming else "penetrating" for finish in finishes})
    if not kinds:
        return []
    table = air_table(weather, start, catalogue.shop_air["common"].settles_in_days)
    moisture_pct = room_moisture(table)
    moistures = [_moisture_in(air) for air in table.air]
    wrong = f"wood in this air settles at {moisture_pct:.1f} % moisture"
    if max(moistures) - min(moistures) >= 0.1:
        wrong += f" (between {min(moistures):.1f} % and {max(moistures):.1f} %, by the hour)"
    strictest = min((catalogue.moisture[kind] for kind in kinds), key=lambda limits: limits.most_pct)
    service = strictest.service_pct
    settled = f"furniture settles at {service.low:g} to {service.high:g} % in heated rooms"
    if moisture_pct > strictest.most_pct:
        finish = "film finish" if "film" in kinds else "oil or other finish that soaks in"
        expected = f"no {finish} goes on wood above {strictest.most_pct:g} %: dry it first, and measure it"
    elif moisture_pct > service.high:
        expected = f"{settled}, and shrinks there: let the wood settle in such a room before it is finished"
    elif moisture_pct < service.low:
        expected = f"{settled}, and swells there: let the wood settle in such a room before it is finished"
    else:
        return []
    return [Finding(("climate",), wrong, expected, severity="warning", name="wood-moisture")]

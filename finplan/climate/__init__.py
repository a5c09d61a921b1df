"""The air of the shop, and when a coat in it is dry."""

from finplan.climate.air import dew_point, saturation_pressure, wood_moisture
from finplan.climate.drying import MIN_DEW_MARGIN_C, AirTable, Drying, air_table
from finplan.climate.pace import drying_rate, rate_by_doubling, rate_by_energy, rate_of_evaporation
from finplan.climate.weather import STANDARD, Air, Weather

__all__ = [
    "MIN_DEW_MARGIN_C",
    "STANDARD",
    "Air",
    "AirTable",
    "Drying",
    "Weather",
    "air_table",
    "dew_point",
    "drying_rate",
    "rate_by_doubling",
    "rate_by_energy",
    "rate_of_evaporation",
    "saturation_pressure",
    "wood_moisture",
]

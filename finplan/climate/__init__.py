"""The air of the shop, and when a coat in it is dry."""

from finplan.climate.air import dew_point, saturation_pressure, wood_moisture
from finplan.climate.air_table import AirTable, air_table
from finplan.climate.beyond_log import log_findings
from finplan.climate.drying import Drying, drying_in
from finplan.climate.measured import Measured, air_along
from finplan.climate.moisture import moisture_findings, room_moisture
from finplan.climate.objection import FilmFails, NearDewPoint, Objection, OutsideLimits
from finplan.climate.pace import drying_rate, time_by_thickness
from finplan.climate.pot_life import pot_life, pot_lives, shop_pot_life, temperatures_c
from finplan.climate.weather import STANDARD, Air, Weather
from finplan.climate.wet_edge import kept_wet, open_time

__all__ = [
    "STANDARD",
    "Air",
    "AirTable",
    "Drying",
    "FilmFails",
    "Measured",
    "NearDewPoint",
    "Objection",
    "OutsideLimits",
    "Weather",
    "air_along",
    "air_table",
    "dew_point",
    "drying_in",
    "drying_rate",
    "kept_wet",
    "log_findings",
    "moisture_findings",
    "open_time",
    "pot_life",
    "pot_lives",
    "room_moisture",
    "saturation_pressure",
    "shop_pot_life",
    "temperatures_c",
    "time_by_thickness",
    "wood_moisture",
]

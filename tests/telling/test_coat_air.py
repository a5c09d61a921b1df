"""What is said of wood and tin in a shop that is cold at night; common trade practice, no single publication."""

from __future__ import annotations

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.inputs import Climate
from finplan.telling.coat_air import lag_words

DAY = {"temperature": "19 degC", "humidity": "50 %"}
YEAR = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
COLD_IN_WINTER = {
    "months": {
        month: {"day": DAY, "night": {**DAY, "temperature": "8 degC" if month in ("dec", "jan") else "17 degC"}}
        for month in YEAR
    }
}
COLD_NIGHTS = {"day": DAY, "night": {**DAY, "temperature": "9 degC"}}
WARM_NIGHTS = {"day": DAY, "night": {**DAY, "temperature": "16 degC"}}


@pytest.mark.parametrize(
    ("climate", "months", "finish", "said"),
    [
        (COLD_NIGHTS, {4}, "shellac", "both at 15 °C"),
        (COLD_NIGHTS, {4}, "hardwax-oil", "both at 12 °C"),
        (WARM_NIGHTS, {4}, "shellac", ""),
        (COLD_IN_WINTER, {1, 6}, "shellac", "both at 15 °C"),
        (COLD_IN_WINTER, {6, 7}, "shellac", ""),
    ],
)
def test_where_nights_are_too_cold_the_thermometer_is_held_to_wood_and_tin(
    climate: dict[str, object], months: set[int], finish: str, said: str
) -> None:
    words = lag_words(bundled_catalogue().finishes[finish], Climate.model_validate(climate), months, "metric")
    assert words.replace("\xa0", " ") == (
        f"Thermometer at wood and tin: {said}, they lag behind a heated room." if said else ""
    )

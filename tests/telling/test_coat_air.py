"""What is said of wood and tin in a shop that is cold at night; common trade practice, no single publication."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.inputs import Climate
from finplan.planning import Wishes, read_source
from finplan.telling import cold_by_words
from finplan.telling.coat_air import lag_words
from finplan.telling.cold import cold_lines
from tests.planned_once import made_at_once
from tests.plans import make_plan
from tests.safety.pieces import NOW, source_with

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


def test_what_is_slow_below_two_warmths_says_which_finish_is_below_which(tmp_path: Path) -> None:
    """Stain below 13 °C and varnish below 15 °C: both were said of the same items, one below the other."""
    nights = "climate: {day: {temperature: 19 degC, humidity: 50 %}, night: {temperature: 8 degC, humidity: 60 %}}\n"
    for system, said in (
        ("stain-and-varnish", ["Pigment stain: colder than 13 °C", "Oil-based varnish: colder than 15 °C"]),
        ("oil-varnish", ["Colder than 15 °C"]),
    ):
        _ = source_with(tmp_path, system)
        shop = tmp_path / "shop.yaml"
        shop.write_text(shop.read_text(encoding="utf-8") + nights, encoding="utf-8")
        with made_at_once():
            plan = make_plan([read_source(tmp_path / "piece.yaml", shop)], now=NOW, wishes=Wishes(answers=False))
        told = cold_by_words(plan)
        assert [words.partition(" at times")[0].replace("\xa0", " ") for words in told] == said
        assert [line.partition(":")[0] for line in cold_lines(plan)] == [
            words.partition(":")[0] if len(said) > 1 else "Drying is slow in the cold, below 15 °C" for words in said
        ]

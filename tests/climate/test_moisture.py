"""Wood moisture against the room: what is warned."""

from __future__ import annotations

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.climate import Air, Weather, moisture_findings, room_moisture
from finplan.inputs import Climate
from tests.climate.airs import day_and_night

CATALOGUE = bundled_catalogue()
FILM = CATALOGUE.finishes["oil-polyurethane"]
OIL = CATALOGUE.finishes["tung-oil"]
START = datetime(2027, 3, 1, 8, tzinfo=UTC)


def weather(temperature_c: float, humidity_pct: float) -> Weather:
    air = {"temperature": f"{temperature_c} degC", "humidity": f"{humidity_pct} %"}
    return Weather(Climate.model_validate({"day": air, "night": air}), ZoneInfo("Europe/London"))


# Moistures of Wood Handbook (FPL-GTR-190), table 4-2, in parentheses; limits: the catalogue's 6 to 10 %, 12 % and 15 %.
@pytest.mark.parametrize(
    ("temperature_c", "humidity_pct", "finish", "words"),
    [
        (21.1, 50, FILM, None),  # (9.2)
        (21.1, 30, OIL, None),  # (6.2)
        (21.1, 60, FILM, "settles at 11.0 % moisture; furniture settles at 6 to 10 % in heated rooms, and shrinks"),
        (15.6, 70, FILM, "settles at 13.3 % moisture; no film finish goes on wood above 12 %"),
        (15.6, 70, OIL, "settles at 13.3 % moisture; furniture settles at 6 to 10 % in heated rooms, and shrinks"),
        (10.0, 80, OIL, "settles at 16.4 % moisture; no oil or other finish that soaks in goes on wood above 15 %"),
        (32.2, 30, OIL, "settles at 5.9 % moisture; furniture settles at 6 to 10 % in heated rooms, and swells"),
    ],
)
def test_steady_air(temperature_c: float, humidity_pct: float, finish: object, words: str | None) -> None:
    found = moisture_findings(weather(temperature_c, humidity_pct), START, [finish], CATALOGUE)  # type: ignore[list-item]
    if words is None:
        assert found == []
        return
    (one,) = found
    assert words in f"{one.wrong}; {one.expected}"
    assert one.path == ("climate",)
    assert one.severity == "warning"


def test_the_stricter_of_two_finishes_counts() -> None:
    (one,) = moisture_findings(weather(15.6, 70), START, [OIL, FILM], CATALOGUE)
    assert "no film finish" in one.expected
    assert moisture_findings(weather(15.6, 70), START, [], CATALOGUE) == []


def test_wood_feels_the_mean_of_day_and_night() -> None:
    # Twelve hours of 9.2 % and twelve of 12.0 % (table 4-2: 21.1 °C at 50 and 65 %): 10.6 %.
    assert room_moisture(day_and_night(Air(21.1, 50.0), Air(21.1, 65.0))) == pytest.approx(10.6, abs=0.05)


def test_day_and_night_are_told() -> None:
    day = {"from": "8:00", "to": "20:00", "temperature": "21.1 degC", "humidity": "50 %"}
    night = {"temperature": "21.1 degC", "humidity": "65 %"}
    air = Weather(Climate.model_validate({"day": day, "night": night}), ZoneInfo("UTC"))
    (one,) = moisture_findings(air, START, [FILM], CATALOGUE)
    assert one.wrong == "wood in this air settles at 10.6 % moisture (between 9.2 % and 12.0 %, by the hour)"


@pytest.mark.parametrize("air", [(-20.0, 60.0), (60.0, 100.0), (20.0, 0.0)])
def test_air_beyond_the_equation_is_taken_at_its_edge(air: tuple[float, float]) -> None:
    (one,) = moisture_findings(weather(*air), START, [FILM], CATALOGUE)
    assert one.severity == "warning"

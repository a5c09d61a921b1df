"""How long a mix can be worked in a shop."""

from __future__ import annotations

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.climate import pot_lives
from finplan.inputs import Climate

CATALOGUE = bundled_catalogue()


def of_shop(day_c: float, night_c: float) -> float:
    air = {"day": {"temperature": f"{day_c} degC", "humidity": "50 %"}}
    air["night"] = {"temperature": f"{night_c} degC", "humidity": "60 %"}
    lives = pot_lives(["polyurethane-2k", "oil-varnish"], CATALOGUE, Climate.model_validate(air))
    assert set(lives) == {"polyurethane-2k"}, "varnish keeps"
    return lives["polyurethane-2k"].low


@pytest.mark.parametrize(
    ("day_c", "night_c", "hours"),
    [
        (23, 10, 2.0),  # as the label says
        (13, 5, 3 + 25 / 60),  # put on from 15 °C only: 2 h · 2^0.8 is 3 h 29 min
        (
            18,
            28,
            1 + 20 / 60,
        ),  # the warmer of day and night: 2 h / 2^0.5 is 1 h 24.9 min
        (40, 20, 1 + 10 / 60),  # put on up to 30 °C only: 2 h / 2^0.7 is 1 h 14 min
    ],
)
def test_the_warmest_air_in_which_it_may_be_put_on(day_c: float, night_c: float, hours: float) -> None:
    assert of_shop(day_c, night_c) == pytest.approx(hours, rel=1e-3)

"""How temperature and humidity change drying, against what others printed or measured."""

from __future__ import annotations

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.climate import Air, Drying, drying_rate, pot_life, time_by_thickness
from finplan.quantity import Range
from tests.climate.airs import steady

CATALOGUE = bundled_catalogue()

# UFGS 09971 (US Department of Defense, Unified Facilities Guide Specifications), table of recoat windows, polyurethane
# over polyurethane: from and to which surface temperature (°C), and the window, shortest and longest (h).
UFGS_WINDOWS = [
    (16, 21, 8, 48),
    (22, 27, 6, 48),
    (28, 32, 4, 36),
    (33, 38, 3, 24),
    (39, 43, 2, 12),
    (44, 49, 1, 2),
]
SHORTEST_H = {(low + high) / 2: shortest for low, high, shortest, _ in UFGS_WINDOWS}
LONGEST_H = {(low + high) / 2: longest for low, high, _, longest in UFGS_WINDOWS}


@pytest.mark.parametrize("temperature_c", [30.0, 35.5, 41.0])
def test_a_hardener_in_the_warmth_as_the_recoat_windows_say(temperature_c: float) -> None:
    """In the middle of each range, against that of 22 to 27 °C; whole hours are printed, so within a tenth."""
    rate = drying_rate(CATALOGUE.drying["reaction"], Air(temperature_c, 50.0))
    nominal = drying_rate(CATALOGUE.drying["reaction"], Air(24.5, 50.0))
    assert nominal / rate == pytest.approx(SHORTEST_H[temperature_c] / SHORTEST_H[24.5], rel=0.1)


def test_a_hardener_in_the_cool_is_no_faster_than_the_recoat_windows_say() -> None:
    rate = drying_rate(CATALOGUE.drying["reaction"], Air(18.5, 50.0))
    nominal = drying_rate(CATALOGUE.drying["reaction"], Air(24.5, 50.0))
    assert SHORTEST_H[18.5] / SHORTEST_H[24.5] <= nominal / rate <= 1.2 * SHORTEST_H[18.5] / SHORTEST_H[24.5]


@pytest.mark.parametrize("temperature_c", [18.5, 24.5, 30.0, 35.5])
def test_the_recoat_limit_is_no_longer_than_the_recoat_windows_say(temperature_c: float) -> None:
    """Beside that of 22 to 27 °C: as long in the cool, not longer in the warmth, up to what a shop gets to."""
    finish = CATALOGUE.finishes["polyurethane-2k"]
    here = Drying(finish, CATALOGUE, steady(Air(temperature_c, 50.0))).recoat_closes(0.0)
    nominal = Drying(finish, CATALOGUE, steady(Air(24.5, 50.0))).recoat_closes(0.0)
    assert here is not None
    assert nominal is not None
    ours, printed = here / nominal, LONGEST_H[temperature_c] / LONGEST_H[24.5]
    assert ours <= printed * (1.0 if temperature_c > 24.5 else 1.12)  # ours begins to shorten at 23 °C, theirs at 28


def test_waterborne_in_hot_air_as_measured() -> None:
    # Song and others, Wood Science and Technology 56 (2022) 743, abstract: waterborne acrylic-polyurethane on balsa at
    # 60 °C and 40 % humidity is surface-dry after 573 s. The label's time for such a finish, 20 to 60 min, has to lead
    # there. (With the film as warm as the air it would come to 140 to 420 s.)
    finish = CATALOGUE.finishes["waterborne-polyurethane"]
    hot = Drying(finish, CATALOGUE, steady(Air(60.0, 40.0)))
    quickest, slowest = (
        hot.reached(0.0, "surface", hours) for hours in (finish.touch_dry_h.low, finish.touch_dry_h.high)
    )
    assert quickest is not None
    assert slowest is not None
    assert quickest * 60 <= 573 <= slowest * 60


@pytest.mark.parametrize(("temperature_c", "hours"), [(13.0, 4.0), (23.0, 2.0), (28.0, 1.414), (33.0, 1.0)])
def test_pot_life_as_the_specification_says(temperature_c: float, hours: float) -> None:
    # UFGS 09971, 3.7.1.3: about halved by each 10 °C more, about doubled by each 10 °C less. Our label says 2/4/8 h.
    life = pot_life(CATALOGUE.finishes["polyurethane-2k"], CATALOGUE, temperature_c)
    assert life is not None
    assert life.low == pytest.approx(hours, rel=1e-3)
    assert pot_life(CATALOGUE.finishes["casein-paint"], CATALOGUE, temperature_c) == Range(8.0, 16.0, 24.0)


def test_a_double_coat_takes_four_times_as_long() -> None:
    # Diffusion: the time goes with the square of the thickness. (A maker's note that doubling the film turns 8 h into
    # 512 h contradicts it.)
    assert 8 * time_by_thickness(2.0) == 32.0

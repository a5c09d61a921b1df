"""What is mixed before use: worked by parts by volume, as makers' sheets of two- and three-part products do."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.catalogue import Mix, MixComponent
from finplan.material import components_ml
from finplan.quantity import Range


def mix(*parts: float) -> Mix:
    components = tuple(
        MixComponent.model_construct(name=f"part {number}", parts=part) for number, part in enumerate(parts)
    )
    return Mix.model_construct(components=components, pot_life_h=Range(2.0, 3.0, 4.0))


@pytest.mark.parametrize(
    ("parts", "volume_ml", "expected_ml", "source"),
    [
        ((10, 1), 550.0, (500.0, 50.0), "by hand: 0.55 L is 11 parts of 0.05 L"),
        ((4, 1, 1), 600.0, (400.0, 100.0, 100.0), "by hand: 0.60 L is 6 parts of 0.10 L"),
        ((1, 1), 250.0, (125.0, 125.0), "by hand: halves"),
    ],
)
def test_components(parts: tuple[float, ...], volume_ml: float, expected_ml: tuple[float, ...], source: str) -> None:
    assert components_ml(mix(*parts), volume_ml) == pytest.approx(expected_ml), source


@given(st.lists(st.floats(0.1, 20), min_size=2, max_size=4), st.floats(1, 10_000))
def test_they_make_up_the_volume_in_their_ratio(parts: list[float], volume_ml: float) -> None:
    found = components_ml(mix(*parts), volume_ml)
    assert sum(found) == pytest.approx(volume_ml)
    for part, component_ml in zip(parts, found, strict=True):
        assert component_ml * parts[0] == pytest.approx(found[0] * part)

"""What spraying wastes and what mixes hold, against published definitions and worked values.

Sources: SCAQMD, spray equipment transfer efficiency (solids on the part over solids used; other guns have to show 65 %
or as much as HVLP); Wisconsin Administrative Code NR 440.48, Table 1; coating makers' notes on spreading rate and loss
(``WFT = DFT · 100 / VS``, practical rate is the theoretical one times 1 - loss); makers' sheets of two- and three-part
products by volume.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from finplan.catalogue import Catalogue, Finish, Step, bundled_catalogue
from finplan.material import coat_need, components_ml
from finplan.material.measuring import in_ratio
from finplan.quantity import Range
from finplan.system import CoatStep, FaceGroup

CATALOGUE = bundled_catalogue()
FACE = FaceGroup("top", "board", 1, "beech", ("top",), "flat", "show", 4.0, 0.0, "planed", None)


def exactly(value: float) -> Range:
    return Range(value, value, value)


def gun(transfer_pct: float, loss_pct: float = 0.0) -> Catalogue:
    """The catalogue with a gun that loses nothing but what misses the piece, or so much besides."""
    method = CATALOGUE.methods["spray-hvlp"].model_copy(
        update={
            "transfer_pct": exactly(transfer_pct),
            "loss_pct": exactly(loss_pct),
            "fixed_loss_ml": exactly(0.0),
        }
    )
    finish: Finish = CATALOGUE.finishes["polyurethane-2k-waterborne"].model_copy(
        update={"volume_solids_pct": exactly(35.0)}
    )
    return replace(
        CATALOGUE,
        methods={**CATALOGUE.methods, "spray-hvlp": method},
        finishes={**CATALOGUE.finishes, "polyurethane-2k-waterborne": finish},
    )


def sprayed(dry: str, catalogue: Catalogue) -> float:
    recipe = Step.model_validate({"do": "coat", "finish": "polyurethane-2k-waterborne", "dry-film": dry})
    step = CoatStep("top/x/1", "coat", "coat 1", recipe, 1, "polyurethane-2k-waterborne", "spray-hvlp", False, (FACE,))
    return coat_need("top", step, catalogue).wet_ml.typical


@pytest.mark.parametrize(("transfer_pct", "litres"), [(65.0, 0.5275), (30.0, 1.1429), (100.0, 0.3429)])
def test_four_square_metres_of_thirty_micrometres(transfer_pct: float, litres: float) -> None:
    # 35 % solids: 85.7 µm wet on 4 m² are 0.3429 L, over the transfer efficiency.
    assert sprayed("30 um", gun(transfer_pct)) / 1000 == pytest.approx(litres, abs=5e-5)


def test_loss_makes_the_rate_practical() -> None:
    # Note: theoretical rate times 0.7 where 30 % are lost.
    assert sprayed("30 um", gun(100.0, 30.0)) == pytest.approx(sprayed("30 um", gun(100.0)) / 0.7)


def test_a_gun_of_high_volume_and_low_pressure_reaches_what_the_rule_asks() -> None:
    transfer = CATALOGUE.methods["spray-hvlp"].transfer_pct
    assert transfer is not None
    assert transfer.typical == 65.0
    conventional = CATALOGUE.methods["spray-conventional"].transfer_pct
    assert conventional is not None
    assert conventional.high < transfer.typical


@pytest.mark.parametrize(
    ("gun", "expected_pct", "source"),
    [
        ("spray-conventional", 25.0, "Wisconsin NR 440.48 Table 1, a) air atomized spray: 0.25"),
        ("spray-airless", 25.0, "Wisconsin NR 440.48 Table 1, b) airless spray: 0.25"),
    ],
)
def test_other_guns_reach_what_the_table_has(gun: str, expected_pct: float, source: str) -> None:
    transfer = CATALOGUE.methods[gun].transfer_pct
    assert transfer is not None
    assert transfer.typical == expected_pct, source


@pytest.mark.parametrize(
    ("parts", "volume_ml", "expected_ml", "source"),
    [
        ((10.0, 1.0), 550.0, (500.0, 50.0), "catalyst at 10 to 1: 0.55 L are 0.500 and 0.050 L"),
        ((4.0, 1.0, 1.0), 600.0, (400.0, 100.0, 100.0), "urethane with thinner, 4 to 1 to 1: 0.60 L"),
        ((8.0, 1.0), 450.0, (400.0, 50.0), "urethane at 8 to 1"),
    ],
)
def test_mixes(parts: tuple[float, ...], volume_ml: float, expected_ml: tuple[float, ...], source: str) -> None:
    shares = tuple(part / sum(parts) for part in parts)
    assert in_ratio(shares, volume_ml, 1.0, within_pct=2.0) == expected_ml, source


def test_the_catalysed_lacquer_of_the_catalogue_is_that_of_the_sheet() -> None:
    mix = CATALOGUE.finishes["catalysed-lacquer"].mix
    assert mix is not None
    assert components_ml(mix, 550.0) == pytest.approx((500.0, 50.0))

"""The paces of drying and the moistures of wood, and what their records must not say."""

from __future__ import annotations

from typing import Any

import pytest

from finplan.catalogue import DryingPace, WoodMoisture, bundled_catalogue
from finplan.reading import validate

CATALOGUE = bundled_catalogue()


def test_every_law_of_drying_has_its_pace() -> None:
    assert {finish.drying for finish in CATALOGUE.finishes.values()} <= set(CATALOGUE.drying)


@pytest.mark.parametrize(
    ("by", "figure"),
    [("doubling", "doubling"), ("arrhenius", "energy-kj-mol"), ("vapour-pressure", "enthalpy-kj-mol")],
)
def test_a_pace_says_its_figure(by: str, figure: str) -> None:
    fields: dict[str, Any] = {"title": "A pace", "basis": "practice", "by": by}
    _, findings = validate(DryingPace, fields)
    assert [finding.path for finding in findings] == [(figure,)]
    pace, findings = validate(DryingPace, {**fields, figure: 10})
    assert pace is not None, findings


def test_a_film_asks_for_drier_wood_than_oil() -> None:
    film, oil = CATALOGUE.moisture["film"], CATALOGUE.moisture["penetrating"]
    assert film.most_pct < oil.most_pct
    # The driest and the dampest rooms of furniture lie about the mean of heated ones, 8 %.
    assert film.service_pct.low < 8 < film.service_pct.high <= film.most_pct


def test_what_is_refused_is_damper_than_service() -> None:
    fields = {"title": "Wood", "basis": "practice", "service": "6 to 10 %", "most": "9 %"}
    _, findings = validate(WoodMoisture, fields)
    assert [(finding.path, finding.wrong) for finding in findings] == [
        (("most",), "9 % is less than the 10 % of service")
    ]

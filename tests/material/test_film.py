"""Coats that are planned by how thick they are when dry."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.catalogue import Step
from finplan.catalogue.references import reference_findings
from finplan.material import absorption, coat_need, planned_film, thickness_factor
from finplan.reading import validate
from finplan.system import CoatStep
from tests.material.pieces import CATALOGUE, GROUP, typical_m2


def coat(finish: str, dry: str, method: str = "brush", *, bare: bool = False, thin: str = "0 %") -> CoatStep:
    recipe = Step.model_validate({"do": "coat", "finish": finish, "dry-film": dry, "thin": thin})
    return CoatStep("top/x/1", "coat", "coat 1", recipe, 1, finish, method, bare, (GROUP,))


def test_wet_film_and_volume() -> None:
    # By hand, of 36 % solids typically: 40 µm dry are 40 / 0.36 = 111.1 µm wet; thin is 30 / 0.42, thick 50 / 0.32.
    step = coat("acrylic-enamel", "30/40/50 um")
    film = planned_film(step, CATALOGUE.finishes["acrylic-enamel"])
    assert film is not None
    assert (film.wet_um.low, film.wet_um.typical, film.wet_um.high) == pytest.approx((71.43, 111.11, 156.25), rel=1e-3)
    # 2 m² of 111.1 µm are 222.2 ml, of which 5 % stay in the brush, and 20 ml in the pot.
    assert coat_need("top", step, CATALOGUE).wet_ml.typical == pytest.approx(222.22 / 0.95 + 20, rel=1e-4)


def test_thinned_it_goes_on_thicker_for_the_same_film() -> None:
    # Trade note: the wet film rises by (1 + p). The finish in it stays the same, but for what the pot keeps.
    finish = CATALOGUE.finishes["oil-varnish"]
    plain, thinned = (coat("oil-varnish", "30 um", thin=thin) for thin in ("0 %", "10 %"))
    films = [planned_film(step, finish) for step in (plain, thinned)]
    assert films[0] is not None
    assert films[1] is not None
    assert films[1].wet_um.typical == pytest.approx(1.1 * films[0].wet_um.typical)
    needs = [coat_need("top", step, CATALOGUE, share=0.0) for step in (plain, thinned)]
    assert needs[1].needed_ml.typical == pytest.approx(needs[0].needed_ml.typical)
    assert needs[1].thinner_ml.typical == pytest.approx(0.1 * needs[0].needed_ml.typical)


def test_on_bare_wood_what_soaks_in_comes_on_top() -> None:
    oak = replace(GROUP, timber="white-oak", end_grain_m2=0.2)
    bare = replace(coat("oil-varnish", "30 um", bare=True), groups=(oak,))
    drinks = absorption(oak, CATALOGUE.finishes["oil-varnish"], CATALOGUE, bare=True)
    assert typical_m2(drinks) > oak.area_m2
    film = planned_film(bare, CATALOGUE.finishes["oil-varnish"])
    assert film is not None
    need = coat_need("top", bare, CATALOGUE, share=0.0)
    assert need.wet_ml.typical == pytest.approx(typical_m2(drinks) * film.wet_um.typical / 0.95)


@pytest.mark.parametrize(
    ("dry", "expected", "source"),
    [
        ("10 um", 1.0, "a meagre coat dries no sooner than a usual one"),
        ("36 um", 1.1, "100 µm wet against 1000 / 11 = 90.9: 1.1"),
        ("72 um", 2.2, "twice that, which takes four times as long"),
    ],
)
def test_how_many_times_as_heavy_as_usual(dry: str, expected: float, source: str) -> None:
    assert thickness_factor(coat("acrylic-enamel", dry), CATALOGUE) == pytest.approx(expected), source


def test_a_coat_planned_by_the_spread_rate_is_as_heavy_as_usual() -> None:
    recipe = Step.model_validate({"do": "coat", "finish": "acrylic-enamel"})
    step = CoatStep("top/x/1", "coat", "coat 1", recipe, 1, "acrylic-enamel", "brush", False, (GROUP,))
    assert planned_film(step, CATALOGUE.finishes["acrylic-enamel"]) is None
    assert thickness_factor(step, CATALOGUE) == 1.0


@pytest.mark.parametrize(
    ("step", "refused"),
    [
        ({"do": "coat", "finish": "acrylic-enamel", "dry-film": "40 um"}, False),
        ({"do": "coat", "finish": "hardwax-oil", "dry-film": "40 um"}, True),  # soaks in
        ({"do": "sand", "dry-film": "40 um"}, True),
    ],
)
def test_only_what_builds_a_film_is_planned_by_it(step: dict[str, str], refused: bool) -> None:
    system = CATALOGUE.systems["acrylic-enamel"]
    records = {"systems": {"own": system.model_copy(update={"steps": (Step.model_validate(step),)})}}
    findings = reference_findings(records, CATALOGUE.kinds())
    assert [finding.path for _, finding in findings] == ([("own", "steps", 0, "dry-film")] if refused else [])


@pytest.mark.parametrize("text", ["40", "40 g", "50/40/30 um", "3 mm", "0 um"])
def test_a_film_that_is_none(text: str) -> None:
    step, findings = validate(Step, {"do": "coat", "finish": "acrylic-enamel", "dry-film": text})
    assert step is None
    assert [finding.path for finding in findings] == [("dry-film",)]


@given(st.floats(5, 100), st.floats(0, 50))
def test_a_thicker_film_never_needs_less(dry_um: float, more_um: float) -> None:
    thin, thick = (coat_need("top", coat("oil-varnish", f"{um} um"), CATALOGUE) for um in (dry_um, dry_um + more_um))
    assert thick.needed_ml.low >= thin.needed_ml.low * (1 - 1e-9)
    assert thick.needed_ml.high >= thin.needed_ml.high * (1 - 1e-9)


def test_the_comb_gauge_stands_between_the_marks_of_the_film_wanted() -> None:
    # By hand at 36 % solids: 30, 40 and 50 µm dry are 83.3, 111.1 and 138.9 µm wet.
    film = planned_film(coat("acrylic-enamel", "30/40/50 um"), CATALOGUE.finishes["acrylic-enamel"])
    assert film is not None
    assert (film.gauge_um.low, film.gauge_um.typical, film.gauge_um.high) == pytest.approx(
        (83.3, 111.1, 138.9), abs=0.1
    )

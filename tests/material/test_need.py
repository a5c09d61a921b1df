"""What a coat needs."""

from __future__ import annotations

from dataclasses import replace
from math import exp, hypot, log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.catalogue import Catalogue, Step, overruled
from finplan.material import CoatNeed, coat_need, total
from finplan.quantity import Range
from finplan.system import CoatStep, FaceGroup
from tests.material.pieces import CATALOGUE, GROUP

Z95 = 1.6448536269514722  # 95 % point of the normal distribution, any table


def coat(group: FaceGroup, finish: str, method: str, *, bare: bool = False, thin: str | None = None) -> CoatStep:
    fields: dict[str, object] = {"do": "coat", "finish": finish}
    if thin:
        fields["thin"] = thin
    return CoatStep("top/x/1", "coat", "coat 1", Step.model_validate(fields), 1, finish, method, bare, (group,))


def test_a_later_coat_by_brush() -> None:
    # By hand: 2 m² at 12.5 m²/L typical is 160 ml; 5 % stay in the brush: 160 / 0.95; and 20 ml in the pot.
    need = coat_need("top", coat(GROUP, "oil-polyurethane", "brush"), CATALOGUE)
    assert need.needed_ml.typical == pytest.approx(2 / 12.5 * 1000 / 0.95 + 20)
    # The causes by themselves, 5 to 95 % each: 10 to 15 m²/L, 0.85 to 1.18 by hand, 3 to 10 % lost, 0.93 to 1.08 from
    # coat to coat. Together ln(high / typical) is the root of the sum of the squares of half of ln(high / low).
    spread = exp(hypot(*(log(high / low) / 2 for low, high in ((10, 15), (0.85, 1.18), (0.9, 0.97), (0.93, 1.08)))))
    assert need.groups[0].needed_ml.low == pytest.approx(2 / 12.5 * 1000 / 0.95 / spread, rel=1e-3)
    assert need.groups[0].needed_ml.high == pytest.approx(2 / 12.5 * 1000 / 0.95 * spread, rel=1e-3)
    assert need.needed_ml.high < 2 / 10 * 1000 / 0.90 * 1.18 * 1.08 + 30  # no four things at once are at their worst


def test_transfer_efficiency() -> None:
    # By hand: 2 m² at 9 m²/L typical, of which 65 % land on the piece from a gun of high volume and low pressure.
    method = CATALOGUE.methods["spray-hvlp"]
    need = coat_need("top", coat(GROUP, "nitrocellulose-lacquer", "spray-hvlp"), CATALOGUE)
    assert method.transfer_pct is not None
    expected = 2 / 9 * 1000 / (method.transfer_pct.typical / 100) / (1 - method.loss_pct.typical / 100)
    assert need.needed_ml.typical == pytest.approx(expected + method.fixed_loss_ml.typical)
    assert method.transfer_pct.typical == 65.0  # SCAQMD and 40 CFR 63: such a gun is taken to reach at least 65 %


def test_thinning_parts_the_liquid() -> None:
    # Thinned by 10 % of its volume, ten elevenths of the liquid are finish.
    plain = coat_need("top", coat(GROUP, "oil-varnish", "brush"), CATALOGUE)
    thinned = coat_need("top", coat(GROUP, "oil-varnish", "brush", thin="10 %"), CATALOGUE)
    assert thinned.wet_ml == plain.wet_ml
    assert thinned.needed_ml.typical == pytest.approx(plain.needed_ml.typical / 1.1)
    assert thinned.thinner_ml.typical == pytest.approx(thinned.needed_ml.typical * 0.1)


@given(
    area=st.floats(0.01, 50),
    more=st.floats(0, 10),
    finish=st.sampled_from(sorted(CATALOGUE.finishes)),
    bare=st.booleans(),
)
def test_more_area_never_needs_less(area: float, more: float, finish: str, bare: bool) -> None:
    method = CATALOGUE.finishes[finish].methods[0]
    small = coat_need("top", coat(replace(GROUP, area_m2=area), finish, method, bare=bare), CATALOGUE)
    large = coat_need("top", coat(replace(GROUP, area_m2=area + more), finish, method, bare=bare), CATALOGUE)
    assert small.needed_ml.low <= small.needed_ml.typical <= small.needed_ml.high
    for level in ("low", "typical", "high"):
        assert getattr(large.needed_ml, level) >= getattr(small.needed_ml, level) * (1 - 1e-12)


def test_what_stays_in_the_tool_is_shared() -> None:
    alone = coat_need("top", coat(GROUP, "oil-varnish", "brush"), CATALOGUE)
    half = coat_need("top", coat(GROUP, "oil-varnish", "brush"), CATALOGUE, share=0.5)
    assert alone.fixed_ml.typical == 20.0
    assert half.fixed_ml.typical == 10.0
    assert alone.needed_ml.typical - half.needed_ml.typical == pytest.approx(10.0)


def test_the_terms_are_the_whole() -> None:
    need = coat_need("top", coat(GROUP, "oil-varnish", "brush", thin="10 %"), CATALOGUE)
    assert sum(term.typical for term in need.finish_terms_ml) == pytest.approx(need.needed_ml.typical)
    assert total(need.thinner_terms_ml).range.high == pytest.approx(need.thinner_ml.high)
    assert coat_need("top", coat(GROUP, "oil-varnish", "brush"), CATALOGUE).thinner_terms_ml == ()


@given(st.floats(0.0, 1.0))
def test_worse_transfer_never_needs_less(worse: float) -> None:
    method = CATALOGUE.methods["spray-hvlp"]
    assert method.transfer_pct is not None
    lower = method.model_copy(update={"transfer_pct": method.transfer_pct.scaled(1 - worse / 2)})
    catalogue = replace(CATALOGUE, methods={**CATALOGUE.methods, "spray-hvlp": lower})
    step = coat(GROUP, "nitrocellulose-lacquer", "spray-hvlp")
    good, bad = coat_need("top", step, CATALOGUE), coat_need("top", step, catalogue)
    assert bad.needed_ml.low >= good.needed_ml.low
    assert bad.needed_ml.typical >= good.needed_ml.typical
    assert bad.needed_ml.high >= good.needed_ml.high


def deviations(need: CoatNeed) -> dict[str, float]:
    """The deviation of the logarithm by kind of cause, of the first term."""
    return {cause.kind: cause.log_sd for cause in need.groups[0].terms_ml[0].causes}


def labelled(name: str, **fields: str) -> Catalogue:
    """The catalogue with what the label of the tin says of a finish."""
    catalogue, findings = overruled(CATALOGUE, {"finishes": {name: fields}})
    assert not findings
    return catalogue


def test_the_label_takes_away_what_differs_from_tin_to_tin() -> None:
    step = coat(GROUP, "oil-polyurethane", "brush")
    label = labelled("oil-polyurethane", **{"spread-rate": {"next": "10/14/18 m2/l"}})  # type: ignore[arg-type]
    known, unknown = coat_need("top", step, label), coat_need("top", step, CATALOGUE)
    assert "product" in deviations(unknown)
    assert "product" not in deviations(known)
    assert deviations(known)["hand"] == deviations(unknown)["hand"]
    assert known.needed_ml.typical == pytest.approx(2 / 14 * 1000 / 0.95 + 20)


def test_a_coat_planned_by_its_film_is_as_sure_as_its_solids_and_the_comb() -> None:
    # By hand: solids of 40 to 55 % are the tin's, a film of 30 to 50 µm and what the brush keeps the hand's.
    recipe = Step.model_validate({"do": "coat", "finish": "oil-varnish", "dry-film": "30/40/50 um"})
    step = CoatStep("top/x/1", "coat", "coat 1", recipe, 1, "oil-varnish", "brush", False, (GROUP,))
    found = deviations(coat_need("top", step, CATALOGUE))
    assert found["product"] == pytest.approx(log(55 / 40) / 2 / Z95)
    assert found["hand"] == pytest.approx(hypot(log(50 / 30), log(0.97 / 0.9)) / 2 / Z95)
    sure = labelled("oil-varnish", **{"volume-solids": "45 %"})
    assert "product" not in deviations(coat_need("top", step, sure))


def test_another_way_of_putting_it_on_goes_further() -> None:
    # Half as thick, typically, and by that twice the area of a litre; the range of that is one more thing of the hand.
    rates = CATALOGUE.finishes["shellac"].spread_rate
    thin = rates.model_copy(update={"by_method": {"pad": Range(1.5, 2.0, 2.5)}})
    finish = CATALOGUE.finishes["shellac"].model_copy(update={"spread_rate": thin})
    catalogue = replace(CATALOGUE, finishes={**CATALOGUE.finishes, "shellac": finish})
    padded, brushed = (coat_need("top", coat(GROUP, "shellac", way), catalogue, share=0.0) for way in ("pad", "brush"))
    assert padded.needed_ml.typical == pytest.approx(brushed.needed_ml.typical / 2)
    method = CATALOGUE.methods["pad"]
    parts = (log(2.5 / 1.5), log(method.hand.high / method.hand.low), log(0.97 / 0.9))
    assert deviations(padded)["hand"] == pytest.approx(hypot(*parts) / 2 / Z95)

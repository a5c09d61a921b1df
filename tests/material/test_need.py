"""What a coat needs."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.catalogue import Step
from finplan.material import coat_need
from finplan.system import FaceGroup, TreatmentStep
from tests.material.pieces import CATALOGUE, GROUP


def coat(group: FaceGroup, finish: str, method: str, *, bare: bool = False, thin: str | None = None) -> TreatmentStep:
    fields: dict[str, object] = {"do": "coat", "finish": finish}
    if thin:
        fields["thin"] = thin
    return TreatmentStep("top/x/1", "coat", "coat 1", Step.model_validate(fields), 1, finish, method, bare, (group,))


def test_a_later_coat_by_brush() -> None:
    # By hand: 2 m² at 12.5 m²/L typical is 160 ml; 5 % stay in the brush: 160 / 0.95; and 20 ml in the pot.
    need = coat_need("top", coat(GROUP, "oil-polyurethane", "brush"), CATALOGUE)
    assert need.needed_ml.typical == pytest.approx(2 / 12.5 * 1000 / 0.95 + 20)
    # low: 15 m²/L, 3 % and 10 ml; high: 10 m²/L, 10 % and 30 ml
    assert need.needed_ml.low == pytest.approx(2 / 15 * 1000 / 0.97 + 10)
    assert need.needed_ml.high == pytest.approx(2 / 10 * 1000 / 0.90 + 30)


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
        assert getattr(large.needed_ml, level) >= getattr(small.needed_ml, level)


def test_what_stays_in_the_tool_is_shared() -> None:
    alone = coat_need("top", coat(GROUP, "oil-varnish", "brush"), CATALOGUE)
    half = coat_need("top", coat(GROUP, "oil-varnish", "brush"), CATALOGUE, share=0.5)
    assert alone.fixed_ml.typical == 20.0
    assert half.fixed_ml.typical == 10.0
    assert alone.needed_ml.typical - half.needed_ml.typical == pytest.approx(10.0)


def test_the_terms_are_the_whole() -> None:
    need = coat_need("top", coat(GROUP, "oil-varnish", "brush", thin="10 %"), CATALOGUE)
    assert sum(term.typical for term in need.finish_terms_ml) == pytest.approx(need.needed_ml.typical)
    assert sum(term.high for term in need.thinner_terms_ml) == pytest.approx(need.thinner_ml.high)
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

"""What a coat needs."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.catalogue import Step, bundled_catalogue
from finplan.material import absorption, coat_need
from finplan.system import FaceGroup, TreatmentStep

CATALOGUE = bundled_catalogue()
GROUP = FaceGroup(
    part="top",
    shape="rectangle",
    count=1,
    timber="beech",
    faces=("top",),
    kind="flat",
    exposure="show",
    area_m2=2.0,
    end_grain_m2=0.0,
    surface="planed",
    coats=None,
)


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


def test_end_grain_drinks_more() -> None:
    # A top of 1500 x 900 x 25 mm: 2.775 m² of faces and long edges, 0.045 m² of ends counted twice: 2.865 m².
    group = replace(GROUP, area_m2=2.775 + 0.045, end_grain_m2=0.045)
    drinks = absorption(group, CATALOGUE.finishes["hardwax-oil"], CATALOGUE, bare=True)
    pores, ends = CATALOGUE.absorption["diffuse-porous"], CATALOGUE.absorption["end-grain-penetrating"]
    assert ends.first.low == 2.0
    assert drinks.low == pytest.approx(2.775 * pores.first.low + 0.045 * 2.0)
    assert drinks.typical == pytest.approx(2.775 * pores.first.typical + 0.045 * ends.first.typical)


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


def test_end_grain_never_drinks_less_than_the_face_beside_it() -> None:
    # Later film coats on an end take what a face takes (factor 1), also where the timber's faces take more.
    finish = CATALOGUE.finishes["oil-polyurethane"]
    ends = replace(GROUP, timber="ash", end_grain_m2=GROUP.area_m2)
    pores = CATALOGUE.absorption["ring-porous"]
    assert pores.first.high > 1.0
    drinks = absorption(ends, finish, CATALOGUE, bare=False)
    assert drinks.typical == pytest.approx(GROUP.area_m2 * max(pores.later.typical, 1.0))
    bare = absorption(ends, finish, CATALOGUE, bare=True)
    assert bare.typical == pytest.approx(GROUP.area_m2 * 3.0)  # twice to five times a face, three typically


def test_what_stays_in_the_tool_is_shared() -> None:
    alone = coat_need("top", coat(GROUP, "oil-varnish", "brush"), CATALOGUE)
    half = coat_need("top", coat(GROUP, "oil-varnish", "brush"), CATALOGUE, share=0.5)
    assert alone.fixed_ml.typical == 20.0
    assert half.fixed_ml.typical == 10.0
    assert alone.needed_ml.typical - half.needed_ml.typical == pytest.approx(10.0)

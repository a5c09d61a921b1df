"""What the assistant measures out: ratios kept, amounts that cup and scale can show, batches within the pot life."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.material import CoatMix, CoatNeed, MaterialPlan, coat_mix, joint_parts, thinned_cut
from finplan.material.measuring import in_ratio, mix_step_ml, pour_up, weighed
from finplan.quantity import Range, Units
from tests.material.pieces import CATALOGUE, job, order, treatment

MARKS = CATALOGUE.measuring
# 2 %, common practice: hardeners forgive more.
TOLERANCE = 0.02


def mixes(plan: MaterialPlan, finish: str) -> list[tuple[CoatNeed, CoatMix]]:
    return [
        (coat, plan.measured_of(coat)[0].mix)
        for need in plan.materials
        if need.material == finish
        for coat in need.coats
    ]


@pytest.mark.parametrize("area_m2", [0.3, 2.0, 15.0])
@pytest.mark.parametrize(
    ("system", "finish", "ratio"),
    [
        ("polyurethane-2k", "polyurethane-2k", 4.0),
        ("hardwax-oil-2k", "hardwax-oil-2k", 3.0),
        ("catalysed-lacquer", "catalysed-lacquer", 10.0),
    ],
)
def test_the_ratio_of_the_label_is_kept(system: str, finish: str, ratio: float, area_m2: float) -> None:
    for coat, mix in mixes(order(job(treatment(system, area_m2=area_m2))), finish):
        base, hardener = (part.volume_ml or 0.0 for part in mix.parts)
        assert base == pytest.approx(ratio * hardener, rel=TOLERANCE)
        assert mix.decant.volume_ml == pytest.approx(base + hardener)
        assert mix.batches * (base + hardener) >= coat.needed_ml.typical * (1 - 1e-9)


@pytest.mark.parametrize("area_m2", [0.02, 0.06, 0.3])
def test_no_more_is_poured_out_than_may_be_wanted(area_m2: float) -> None:
    # Of 10 to 1 the least that a syringe of whole millilitres mixes is 10 + 1, and the next 20 + 2.
    for _, mix in mixes(order(job(treatment("catalysed-lacquer", area_m2=area_m2))), "catalysed-lacquer"):
        assert mix.up_to_ml >= mix.batches * (mix.decant.volume_ml or 0.0) > 0


def test_of_a_joint_batch_no_smallest_measure_counts() -> None:
    # Alone 20 + 2 ml are mixed where hardly more than 10 + 1 are wanted; of a batch for three such coats each is what
    # it takes, to 5 ml, and the batch is the least of 10 to 1 that makes all three.
    coat = mixes(order(job(treatment("catalysed-lacquer", area_m2=0.06))), "catalysed-lacquer")[0][0]
    coat = replace(coat, needed_ml=Range(8.0, 12.0, 17.0))
    mix = coat_mix(coat, CATALOGUE, "metric", {})
    assert (mix.decant.volume_ml, mix.of_batch.volume_ml, mix.up_to_ml) == (22.0, 15.0, 22.0)
    parts = joint_parts(CATALOGUE.finishes["catalysed-lacquer"], [mix] * 3, CATALOGUE.measuring["metric"])
    assert [part.volume_ml for part in parts] == [50.0, 5.0]


def test_by_volume_and_by_mass() -> None:
    # By hand: of 4 to 1 at 0.98 and 1.06 g/ml, 300 ml weigh 294 g and 75 ml 79.5 g.
    plan = order(job(treatment("polyurethane-2k", method="brush", area_m2=2.0)))
    for _, mix in mixes(plan, "polyurethane-2k"):
        for part, density in zip(mix.parts, (0.98, 1.06), strict=True):
            assert part.volume_ml is not None
            assert part.mass_g is not None
            assert part.mass_g == pytest.approx(part.volume_ml * density, abs=0.5 if part.mass_g >= 20 else 0.05)


@pytest.mark.parametrize(
    ("hours", "batches", "source"),
    [(0.5, 1, "within two hours"), (2.0, 1, "just within"), (2.1, 2, "over"), (7.0, 4, "7 / 2, rounded up")],
)
def test_the_pot_life_parts_a_coat(hours: float, batches: int, source: str) -> None:
    # Its pot lasts two hours at the least.
    coat = order(job(treatment("polyurethane-2k", method="brush"))).materials[0].coats[0]
    slow = replace(coat, hours=Range(hours / 2, hours, hours * 2))
    mix = coat_mix(slow, CATALOGUE, "metric", {"polyurethane-2k": Range(2.0, 4.0, 8.0)})
    assert mix.batches == batches, source
    assert mix.use_within_h == 2.0
    base, hardener = (part.volume_ml or 0.0 for part in mix.parts)
    assert batches * (base + hardener) == pytest.approx(coat.needed_ml.typical, rel=0.05)


def test_what_keeps_for_weeks_is_not_parted() -> None:
    coat = order(job(treatment("oil-varnish"))).materials[0].coats[0]
    mix = coat_mix(replace(coat, hours=Range(50.0, 60.0, 70.0)), CATALOGUE, "metric", {})
    assert (mix.batches, mix.parts, mix.use_within_h) == (1, (), None)


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("poured_ml", [4.0, 7.0, 30.0, 59.0, 250.0])
def test_what_no_cup_shows_of_a_thinner_is_weighed(units: Units, poured_ml: float) -> None:
    """A tenth of a quarter of a fluid ounce, for a sample, is far below an eighth, which would be half of it.

    White spirit has 0.78 g/ml, by the Pocket Guide's specific gravity of Stoddard solvent.
    """
    coat = order(job(treatment("oil-varnish"))).materials[0].coats[0]
    mix = coat_mix(replace(coat, needed_ml=Range(poured_ml, poured_ml, poured_ml)), CATALOGUE, units, {})
    assert mix.thinner is not None
    assert mix.decant.volume_ml is not None
    asked_ml = 0.1 * mix.decant.volume_ml
    if mix.thinner.volume_ml is not None:
        assert asked_ml * 0.999 <= mix.thinner.volume_ml <= asked_ml * 1.251
    else:
        assert mix.thinner.mass_g == pytest.approx(0.78 * asked_ml, rel=0.15)


def test_shellac_is_made_up_once_and_thinned_in_the_cup() -> None:
    plan = order(job(treatment("shellac")))
    (made,) = plan.make_ups
    assert made.cut_lb_gal == pytest.approx(2.0)
    assert made.solid.mass_g == pytest.approx((made.liquid.volume_ml or 0.0) * 0.239653, abs=0.5)
    assert made.volume_ml >= sum(coat.needed_ml.typical for coat, _ in mixes(plan, "shellac"))
    coat, mix = mixes(plan, "shellac")[0]
    assert mix.parts == ()
    assert mix.thinner is not None
    assert mix.decant.volume_ml is not None
    assert mix.thinner.volume_ml == pytest.approx(mix.decant.volume_ml / 2, abs=5.0)
    # Chart note: c1 / c2 - 1 = p (1 + 0.104 c1); half as much again leaves a cut of 2 / 1.604.
    assert thinned_cut(coat, CATALOGUE.finishes["shellac"]) == pytest.approx(2 / 1.604, rel=2e-3)


def test_casein_is_mixed_for_each_coat() -> None:
    # By hand: 560 g to a litre of water; 700 g of loose powder fill a litre, so that 4 of powder go to 5 of water.
    plan = order(job(treatment("casein-paint")))
    assert not plan.make_ups
    for _, mix in mixes(plan, "casein-paint"):
        powder, water = mix.parts
        assert powder.mass_g is not None
        assert powder.volume_ml is not None
        assert water.volume_ml is not None
        assert powder.mass_g == pytest.approx(0.56 * water.volume_ml, abs=0.5)
        assert powder.volume_ml == pytest.approx(0.8 * water.volume_ml, abs=1.0)
        assert mix.use_within_h == 8.0


def test_dye_by_the_litre() -> None:
    # By hand: 15 g to a litre of water, which the powder makes 1 % more.
    plan = order(job(treatment("dye-and-waterborne")))
    made = next(one for one in plan.make_ups if one.finish == "water-dye")
    assert made.solid.mass_g == pytest.approx(0.015 * (made.liquid.volume_ml or 0.0), abs=0.05)
    assert (made.strength_g_l, made.solid.name) == (15.0, "dye powder")


def test_a_coat_of_a_film_says_how_wet() -> None:
    plan = order(job(treatment("catalysed-lacquer")))
    film = mixes(plan, "catalysed-lacquer")[0][0].film
    assert film is not None
    assert film.wet_um.typical == pytest.approx(100.0)  # 38 µm dry at 38 % solids


@pytest.mark.parametrize(
    ("volume_ml", "units", "expected_ml", "source"),
    [
        (81.2, "metric", 85.0, "the next 5 ml"),
        (200.0, "metric", 200.0, "the mark itself"),
        (203.0, "metric", 210.0, "above 200 ml the next 10"),
        (1.0, "metric", 5.0, "no less than a mark"),
        (30.0, "us", 36.97, "a quarter of a fluid ounce: 1-1/4"),
    ],
)
def test_what_is_poured(volume_ml: float, units: str, expected_ml: float, source: str) -> None:
    assert pour_up(volume_ml, MARKS[units]) == pytest.approx(expected_ml, abs=0.01), source


@pytest.mark.parametrize(
    ("mass_g", "expected_g", "source"), [(4.04, 4.0, "0.1 g"), (19.96, 20.0, "0.1 g"), (104.4, 104.0, "1 g")]
)
def test_what_is_weighed(mass_g: float, expected_g: float, source: str) -> None:
    assert weighed(mass_g, MARKS["metric"]) == pytest.approx(expected_g), source


@given(
    st.lists(st.integers(1, 20), min_size=2, max_size=3),
    st.floats(5, 5000),
    st.sampled_from(["metric", "us"]),
)
def test_rounding_never_spoils_a_ratio(parts: list[int], volume_ml: float, units: str) -> None:
    shares = tuple(part / sum(parts) for part in parts)
    step_ml = mix_step_ml(min(shares) * volume_ml, MARKS[units])
    found = in_ratio(shares, volume_ml, step_ml, MARKS[units].ratio_within_pct)
    for one, share in zip(found, shares, strict=True):
        assert one / found[parts.index(min(parts))] == pytest.approx(share / min(shares), rel=TOLERANCE + 1e-9)
        assert one / step_ml == pytest.approx(round(one / step_ml))
    assert sum(found) >= volume_ml * (1 - TOLERANCE)

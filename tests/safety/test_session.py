"""Verdicts of sessions: what may burn and what may be breathed, and never a pass on what is not known."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finplan.quantity import Units
from finplan.safety import AirVerdict, RoomAir
from finplan.safety.remedies import remedies
from finplan.safety.session import Session, by_session, session
from finplan.telling import air_remedy_words
from tests.safety.sessions import CATALOGUE, emission, flow, made, room

MARGIN = CATALOGUE.air_targets["breathing"].margin
DAY_MG_M3 = 350.0
"""White spirit, NIOSH."""


def breathing(found: Session, case: str = "typical") -> float:
    """What who works breathes, of the limit."""
    assert found.fan_on is not None
    share = getattr(found.fan_on, case).breathing
    assert isinstance(share, float)
    return share


def said_of(found: Session, units: Units = "metric") -> tuple[str, ...]:
    """What is to be done about it, in words."""
    return air_remedy_words(remedies(found, CATALOGUE), CATALOGUE, units)


def test_by_hand_where_it_is_steady() -> None:
    # 8 h of putting on what dries at once in a room that is changed 60 times an hour: G / Q, and G / β more near it.
    found = made(flow(600.0, 10.0), emission(400.0, worked_h=8.0, decay_h=0.0))
    assert found.fan_on is not None
    mg_h = 400e3 / 2 / 8
    near_m3_h = CATALOGUE.mixing["moving"].flow_m3_h.typical
    # The first minutes, in which the room fills, are the difference.
    assert found.fan_on.typical.day_far == pytest.approx(mg_h / 600 / DAY_MG_M3, rel=5e-3)
    assert found.fan_on.typical.day == pytest.approx((mg_h / 600 + mg_h / near_m3_h) / DAY_MG_M3, rel=5e-3)
    # 1800 mg/m³ of NIOSH and three times 100 ppm (140 g/mol, 24.47 L), which is 1717 mg/m³.
    short_mg_m3 = 3 * 100 * 140 / 24.4654
    assert found.fan_on.typical.short == pytest.approx((mg_h / 600 + mg_h / near_m3_h) / short_mg_m3, rel=5e-3)
    # Twice as much at the most, 130 g/mol, 24.47 L and 0.6 %: the lightest and the lowest published.
    g_m3_at_limit = 0.006 * 130 / 24.4654 * 1000
    near_low_m3_h = CATALOGUE.mixing["moving"].flow_m3_h.low
    near_g_m3 = 2 * mg_h / 1000 * (1 / 600 + 1 / near_low_m3_h)
    assert found.fan_on.high.fire == pytest.approx(near_g_m3 / g_m3_at_limit, rel=5e-3)


@pytest.mark.parametrize(
    ("grams", "verdict"),
    [
        (100, "enough"),
        (300, "too little to breathe"),
        (1300, "above the planning target"),
        (3000, "fire danger"),
    ],
)
def test_each_step_down(grams: float, verdict: AirVerdict) -> None:
    found = made(flow(100.0, 50.0), emission(grams))
    assert found.verdict == verdict
    assert bool(remedies(found, CATALOGUE)) is (verdict != "enough")


def test_enough_has_its_margin() -> None:
    just, over = (made(flow(100.0, 50.0), emission(grams)) for grams in (255.0, 270.0))
    assert breathing(just) * MARGIN < 1 < breathing(over) * MARGIN
    assert (just.verdict, over.verdict) == ("enough", "too little to breathe")


def test_which_case_exceeds_is_told() -> None:
    found = made(flow(100.0, 50.0), emission(255.0))
    assert found.fan_on is not None
    assert breathing(found, "high") > breathing(found)
    assert found.fan_on.breathing == ("close" if breathing(found, "high") > 1 else "ok")


@pytest.mark.parametrize(
    ("volume_m3", "changes", "fan_m3_h", "told"),
    [
        (None, None, None, ["volume", "air-changes", "fan"]),
        (30.0, None, None, ["air-changes", "fan"]),
        (None, 100.0, None, ["volume", "fan"]),
        (30.0, None, 0.0, ["air-changes", "fan"]),
    ],
)
def test_what_is_not_known_never_passes(
    volume_m3: float | None, changes: float | None, fan_m3_h: float | None, told: list[str]
) -> None:
    air = room(volume_m3, changes, fan_m3_h)
    found = made(air, emission(200.0))
    assert found.verdict in ("unknown", "above the planning target")
    assert list(air.missing) == told
    if found.verdict == "unknown":
        said = " ".join(said_of(found))
        for field in told:
            assert f"`{field}`" in said


def test_what_could_not_reach_a_limit_at_once_passes_without_air() -> None:
    # All of it at once in the room comes to a fifth of the limit, and no fresh air is counted.
    grams = DAY_MG_M3 / 1000 * 100.0 / 5
    found = made(room(100.0, None, None), emission(grams, decay_h=0.5))
    assert found.verdict == "enough"
    assert found.needs_m3_h.health == 0.0


@given(grams=st.floats(1, 2000), decay_h=st.floats(0.05, 4), volume_m3=st.floats(10, 500))
@settings(max_examples=25)
def test_a_room_never_holds_more_than_was_set_free(grams: float, decay_h: float, volume_m3: float) -> None:
    found = made(room(volume_m3, 0.0, None), emission(grams, decay_h=decay_h))
    assert found.fan_on is not None
    at_once = grams * 1000 / volume_m3 / DAY_MG_M3
    assert (found.fan_on.high.day_far or 0) <= at_once * (1 + 1e-6)


def test_a_fan_alone_counts_as_the_fan() -> None:
    air = room(None, None, 500.0)
    assert (air.flow_m3_h, air.missing) == (500.0, ("volume", "air-changes"))
    found = made(air, emission(1))
    assert found.verdict == "enough"
    assert found.rests_on_fan


def test_a_fan_comes_on_top_of_the_air_changes() -> None:
    assert room(60, 2, 300).flow_m3_h == 420
    assert room(60, 2, None).flow_m3_h == 120


def test_with_the_fan_and_without() -> None:
    found = made(room(60, 2, 300), emission(400))
    assert found.fan_on is not None
    assert found.fan_off is not None
    assert (found.fan_on.flow_m3_h, found.fan_off.flow_m3_h) == (420, 120)
    assert (found.fan_on.verdict, found.fan_off.verdict) == ("enough", "too little to breathe")
    assert found.rests_on_fan
    assert not made(room(60, 2, 300), emission(1)).rests_on_fan
    assert made(room(60, 2, None), emission(100)).fan_off is None


@pytest.mark.parametrize("solvent", ["unknown", "limonene"])
def test_a_solvent_without_a_limit_never_passes(solvent: str) -> None:
    found = made(flow(1e6), emission(1, solvent), emission(1, "ethanol"))
    assert found.verdict == "unknown"
    assert "safety data sheet" in " ".join(said_of(found))


def test_what_burns_is_never_sprayed_in_an_open_room() -> None:
    found = made(flow(1e6), emission(1, booth_only=True))
    assert found.verdict == "not by air alone"
    (said,) = said_of(found)
    assert "proper booth" in said


def test_isocyanate_is_never_answered_by_air_or_a_mask() -> None:
    for m3_h in (0.1, 50.0, 1e6):
        found = made(flow(m3_h), emission(100, isocyanate=True))
        assert found.verdict != "enough"
        assert found.mask is None
        said = said_of(found)
        assert "isocyanate" in said[0]
        assert found.verdict in ("not by air alone", "above the planning target", "fire danger")
        assert not any("cartridges" in line for line in said)


@given(grams=st.floats(1, 500), changes=st.floats(0, 30), more=st.floats(0, 1000))
@settings(max_examples=25)
def test_more_air_is_never_worse(grams: float, changes: float, more: float) -> None:
    order = ["fire danger", "above the planning target", "too little to breathe", "enough"]
    before = made(room(60, changes, 10.0), emission(grams))
    after = made(room(60, changes, 10.0 + more), emission(grams))
    assert order.index(after.verdict) >= order.index(before.verdict)


@given(grams=st.floats(1, 500), more=st.floats(0, 500))
@settings(max_examples=25)
def test_more_vapour_needs_no_less(grams: float, more: float) -> None:
    before, after = (made(flow(100), emission(mass)).needs_m3_h for mass in (grams, grams + more))
    for name in ("fire", "target", "health"):
        least, most = getattr(before, name), getattr(after, name)
        assert (math.inf if most is None else most) >= (math.inf if least is None else least)


@pytest.mark.parametrize("grams", [100.0, 200.0, 400.0])
def test_the_flow_that_is_needed_does(grams: float) -> None:
    needs = made(flow(10.0, 50.0), emission(grams)).needs_m3_h.health
    assert needs is not None
    assert made(flow(needs, 50.0), emission(grams)).verdict == "enough"
    assert needs == 0 or made(flow(needs * 0.9, 50.0), emission(grams)).verdict != "enough"


def test_the_day_counts_every_coat_of_it() -> None:
    alone = emission(100, worked_h=1.0, decay_h=0.2)
    others = [emission(100, start_h=2.0 * n, worked_h=1.0, decay_h=0.2, step=f"top/{n}") for n in range(1, 4)]
    by_itself = session([alone], [alone], flow(100), CATALOGUE)
    of_four = session([alone], [alone, *others], flow(100), CATALOGUE)
    assert by_itself.fan_on is not None
    assert of_four.fan_on is not None
    assert of_four.fan_on.typical.day == pytest.approx(4 * (by_itself.fan_on.typical.day or 0), rel=0.15)


def test_what_overlaps_is_one_session() -> None:
    first, second = emission(1, decay_h=1.0), emission(1, start_h=3.9, decay_h=1.0, step="base/1")
    later = emission(1, start_h=9.0, decay_h=1.0, step="top/2")
    assert by_session([later, second, first]) == [[first, second], [later]]


def test_a_mask_is_named_by_how_often_the_limit_is_reached() -> None:
    found = made(flow(100.0, 50.0), emission(300))
    assert found.mask == "half-mask"
    assert 1 < breathing(found, "high") < CATALOGUE.respirators["half-mask"].factor
    assert "half mask" in " ".join(said_of(found))


@pytest.mark.parametrize(("units", "unit"), [("metric", "m³/h"), ("us", "cfm")])
def test_air_in_the_units_of_the_maker(units: Units, unit: str) -> None:
    said = " ".join(said_of(made(flow(30, 50), emission(300)), units))
    assert unit in said
    assert "Draw out" in said


@pytest.mark.parametrize(("room_m3", "told", "not_told"), [(50.0, "Draw out", "No fan"), (5.0, "No fan", "Draw out")])
def test_no_fan_is_asked_to_change_the_air_of_a_room_more_often_than_any_does(
    room_m3: float, told: str, not_told: str
) -> None:
    found = made(flow(30.0, room_m3), emission(3000))
    wanted = found.needs_m3_h.target
    assert wanted is not None
    assert (wanted / room_m3 > CATALOGUE.shop_air["common"].most_air_changes) is (told == "No fan")
    said = " ".join(said_of(found))
    assert told in said
    assert not_told not in said


def test_what_is_known_of_a_room_without_a_size() -> None:
    assert RoomAir(None, 0.0, 0.0, ("volume", "air-changes", "fan")).flow_m3_h is None

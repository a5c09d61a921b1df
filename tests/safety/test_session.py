"""Verdicts of sessions: what the room gives against what is needed, and never a pass on what is not known."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.safety import RoomAir, Verdict
from finplan.safety.remedies import remedies
from finplan.safety.session import grouped, session
from tests.safety.sessions import CATALOGUE, emission, made, room


def test_by_hand() -> None:
    # 100 g of white spirit put on in an hour, that loses 63 % of what is left in two hours.
    found = made(room(60, 2, 300), emission(100))
    share_h = 1 - 2.718281828 ** (-1 / 2)
    # NIOSH 350 mg/m³ is stricter than 500 and 100 ppm (140 g/mol, 24.47 L); 3 times as much for a short time.
    short_m3_h = 5 * 100e3 * share_h / (3 * 350)
    day_m3_h = 5 * 100e3 / 350 / 8
    assert found.needs_m3_h.health == pytest.approx(max(short_m3_h, day_m3_h), rel=1e-6)
    # 130 g/mol, 24.47 L, 0.6 %: the lightest and the lowest published.
    vapour_m3 = 100 / 130 * 24.4654e-3
    assert found.needs_m3_h.fire == pytest.approx(4 * 99.4 * vapour_m3 / 0.6 * share_h, rel=1e-4)
    assert found.needs_m3_h.target == pytest.approx(found.needs_m3_h.fire * 2.5)
    assert found.loads.air.health == pytest.approx(5 * 100e3 / 350)
    assert found.verdict == "enough"


def flow(m3_h: float) -> RoomAir:
    return RoomAir(100.0, m3_h, 5.0, ())


@pytest.mark.parametrize(
    ("share_of", "times", "verdict"),
    [
        ("health", 1.001, "enough"),
        ("health", 0.999, "too little to breathe"),
        ("target", 1.001, "too little to breathe"),
        ("target", 0.999, "above the planning target"),
        ("fire", 1.001, "above the planning target"),
        ("fire", 0.999, "fire danger"),
        ("fire", 0.0, "fire danger"),
    ],
)
def test_each_step_down(share_of: str, times: float, verdict: Verdict) -> None:
    needs = made(flow(1.0), emission(100)).needs_m3_h
    found = made(flow(getattr(needs, share_of) * times), emission(100))
    assert found.verdict == verdict
    assert bool(remedies(found, CATALOGUE, "metric")) is (verdict != "enough")


@pytest.mark.parametrize(
    ("volume_m3", "changes", "fan_m3_h", "told"),
    [
        (None, None, None, ["volume", "air-changes", "fan"]),
        (1e6, None, None, ["air-changes", "fan"]),
        (None, 100.0, None, ["volume", "fan"]),
        (1e6, None, 0.0, ["air-changes", "fan"]),
    ],
)
def test_what_is_not_known_never_passes(
    volume_m3: float | None, changes: float | None, fan_m3_h: float | None, told: list[str]
) -> None:
    air = room(volume_m3, changes, fan_m3_h)
    found = made(air, emission(0.001))
    assert found.verdict == "unknown"
    assert list(air.missing) == told
    said = " ".join(remedies(found, CATALOGUE, "metric"))
    for field in told:
        assert f"`{field}`" in said


def test_a_fan_alone_counts_as_the_fan() -> None:
    air = room(None, None, 500.0)
    assert (air.flow_m3_h, air.missing) == (500.0, ("volume", "air-changes"))
    assert made(air, emission(1)).verdict == "enough"


def test_a_fan_comes_on_top_of_the_air_changes() -> None:
    assert room(60, 2, 300).flow_m3_h == 420
    assert room(60, 2, None).flow_m3_h == 120


def test_a_fan_mixes_better_than_openings() -> None:
    assert room(60, 2, 300).mixing < room(60, 2, None).mixing


@pytest.mark.parametrize("solvent", ["unknown", "limonene"])
def test_a_solvent_without_a_limit_never_passes(solvent: str) -> None:
    found = made(flow(1e6), emission(1, solvent), emission(1, "ethanol"))
    assert found.verdict == "unknown"
    assert "safety data sheet" in " ".join(remedies(found, CATALOGUE, "metric"))


def test_what_burns_is_never_sprayed_in_an_open_room() -> None:
    found = made(flow(1e6), emission(1, booth_only=True))
    assert found.verdict == "not by air alone"
    (said,) = remedies(found, CATALOGUE, "metric")
    assert "proper booth" in said


def test_isocyanate_is_never_answered_by_air_or_a_mask() -> None:
    for m3_h in (0.1, 50.0, 1e6):
        found = made(flow(m3_h), emission(100, isocyanate=True))
        assert found.verdict != "enough"
        said = remedies(found, CATALOGUE, "metric")
        assert "isocyanate" in said[0]
        assert found.verdict in ("not by air alone", "above the planning target", "fire danger")
        assert not any("cartridges" in line for line in said)


@given(grams=st.floats(1, 500), changes=st.floats(0, 30), more=st.floats(0, 1000))
def test_more_air_is_never_worse(grams: float, changes: float, more: float) -> None:
    order = ["fire danger", "above the planning target", "too little to breathe", "enough"]
    before = made(room(60, changes, 10.0), emission(grams))
    after = made(room(60, changes, 10.0 + more), emission(grams))
    assert order.index(after.verdict) >= order.index(before.verdict)


@given(grams=st.floats(1, 500), more=st.floats(0, 500))
def test_more_vapour_needs_no_less(grams: float, more: float) -> None:
    before, after = (made(flow(100), emission(mass)).needs_m3_h for mass in (grams, grams + more))
    assert after.fire >= before.fire
    assert (after.health or 0) >= (before.health or 0)


def test_the_day_counts_every_coat_of_it() -> None:
    alone = emission(10, worked_h=1.0, decay_h=0.2)
    others = [emission(10, start_h=2.0 * n, worked_h=1.0, decay_h=0.2, step=f"top/{n}") for n in range(1, 4)]
    by_itself = session([alone], [alone], flow(100), CATALOGUE).needs_m3_h.health
    of_four = session([alone], [alone, *others], flow(100), CATALOGUE).needs_m3_h.health
    assert by_itself is not None
    assert of_four == pytest.approx(max(by_itself, 5 * 40e3 / 350 / 8))


def test_what_overlaps_is_one_session() -> None:
    first, second = emission(1, decay_h=1.0), emission(1, start_h=3.9, decay_h=1.0, step="base/1")
    later = emission(1, start_h=9.0, decay_h=1.0, step="top/2")
    assert grouped([later, second, first]) == [[first, second], [later]]


def test_a_mask_is_named_by_how_often_the_limit_is_reached() -> None:
    needs = made(flow(1.0), emission(100)).needs_m3_h
    assert needs.health is not None
    twice = " ".join(remedies(made(flow(needs.health / 2), emission(100)), CATALOGUE, "metric"))
    assert "2.0 times" in twice
    assert "half mask" in twice


@pytest.mark.parametrize(("units", "unit"), [("metric", "m³/h"), ("us", "cfm")])
def test_air_in_the_units_of_the_maker(units: str, unit: str) -> None:
    said = " ".join(remedies(made(flow(30), emission(100)), CATALOGUE, units))  # type: ignore[arg-type]
    assert unit in said
    assert "Draw out" in said

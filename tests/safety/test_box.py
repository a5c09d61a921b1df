"""The well-mixed box, against the differential equation integrated by a general library."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from finplan.safety.box import GivenOff
from finplan.safety.emission import Emission
from tests.safety.sessions import emission

PACES = st.floats(0.0, 60.0)
WORKED_H = st.floats(0.05, 6.0)
DECAY_H = st.one_of(st.just(0.0), st.floats(0.02, 12.0))


def integrated(one: Emission, at_h: float, pace: float) -> tuple[float, float, float]:
    """What was given off, what the box holds, and that summed up, by the integrator from stretch to stretch."""

    def rates(moment_h: float, y: list[float]) -> list[float]:
        rate = 0.0 if moment_h < one.start_h else one.rising(moment_h)
        if moment_h >= one.end_h:
            rate = one.falling(moment_h)
        return [rate, rate - pace * y[1], y[1]]

    state = [0.0, 0.0, 0.0]
    stops = [one.start_h, *(stop for stop in (one.end_h,) if stop < at_h), at_h]
    for begin, end in pairwise(stops):
        if end > begin:
            # A moment before the end of the stretch, so that the rate does not jump within it.
            solved = solve_ivp(rates, (begin, end - 1e-9), state, method="LSODA", rtol=1e-8, atol=1e-11)
            state = [float(value) for value in solved.y[:, -1]]
    return state[0], state[1], state[2]


@given(worked_h=WORKED_H, decay_h=DECAY_H, pace=PACES, after_h=st.floats(-0.9, 10.0))
@settings(max_examples=60)
def test_it_is_the_solution(worked_h: float, decay_h: float, pace: float, after_h: float) -> None:
    one = emission(1.0, worked_h=worked_h, decay_h=decay_h)
    at_h = max(0.01, worked_h + after_h)
    off, in_box, summed = integrated(one, at_h, pace)
    given = GivenOff([one], np.array([at_h]))
    found = given.in_box(pace)
    assert float(given.shares[0, 0]) == pytest.approx(off, rel=1e-5, abs=1e-7)
    assert float(found.held[0, 0]) == pytest.approx(in_box, rel=1e-4, abs=1e-7)
    assert float(found.summed_h[0, 0]) == pytest.approx(summed, rel=1e-4, abs=1e-6)


@given(worked_h=WORKED_H, decay_h=DECAY_H, pace=PACES, at_h=st.floats(-1.0, 50.0))
def test_no_more_than_was_set_free(worked_h: float, decay_h: float, pace: float, at_h: float) -> None:
    given = GivenOff([emission(1.0, worked_h=worked_h, decay_h=decay_h)], np.array([at_h]))
    assert -1e-12 <= given.held(pace)[0, 0] <= given.shares[0, 0] + 1e-9 <= 1 + 2e-9


def test_the_paces_may_be_alike() -> None:
    given = GivenOff([emission(1.0, decay_h=2.0)], np.array([0.5, 1.0, 4.0]))
    assert given.held(0.5) == pytest.approx(given.held(0.5 + 1e-6), rel=1e-5)


def test_what_is_wet_already_dries_into_another_room() -> None:
    one = emission(1.0, start_h=1.0, worked_h=0.0, decay_h=2.0)
    given = GivenOff([one], np.array([0.5, 1.0, 3.0]))
    assert given.shares[0] == pytest.approx([0.0, 0.0, 1 - np.exp(-1)])
    assert given.held(0.0) == pytest.approx(given.shares, abs=1e-5)


def test_many_are_solved_as_each_alone() -> None:
    many = [
        emission(1.0, start_h=start_h, worked_h=worked_h, decay_h=decay_h)
        for start_h in (0.0, 1.5)
        for worked_h, decay_h in ((1.0, 2.0), (0.0, 2.0), (0.5, 0.0))
    ]
    at = np.linspace(-1.0, 9.0, 50)
    together = GivenOff(many, at).in_box(3.0)
    for row, one in enumerate(many):
        alone = GivenOff([one], at).in_box(3.0)
        assert together.held[row] == pytest.approx(alone.held[0], rel=1e-12)
        assert together.summed_h[row] == pytest.approx(alone.summed_h[0], rel=1e-12)

"""A problem that contradicts itself says so, and names what is wrong."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from finplan.scheduling import Activity, Hold, Lag, Mode, NotAfter, Problem, ProblemError, SerialBatch, Slots

A, B = Activity.of("a", 1), Activity.of("b", 1)
T = Activity("t", (Mode(1),), optional=True)


@pytest.mark.parametrize(
    ("make", "told"),
    [
        (lambda: Problem((A,), -1), "the horizon is -1"),
        (
            lambda: Problem((A,), 9.5),  # type: ignore[arg-type]
            "the horizon is 9.5, which is no whole number",
        ),
        (
            lambda: Problem((Activity.of("a", 1.5),), 9),  # type: ignore[arg-type]
            "the duration of 'a' is 1.5, which is no whole number",
        ),
        (
            lambda: Problem((A, B), 9, (Lag("a", "b", 0.5),)),  # type: ignore[arg-type]
            "the lag from 'a' to 'b' is 0.5, which is no whole number",
        ),
        (
            lambda: Problem((A,), 9, capacities={"m": 1.5}),  # type: ignore[dict-item]
            "the capacity of 'm' is 1.5, which is no whole number",
        ),
        (lambda: Problem((A, B, A), 9), "two activities are called 'a'"),
        (lambda: Problem((Activity("a", ()),), 9), "'a' has no mode"),
        (lambda: Problem((Activity.of("a", -2),), 9), "'a' lasts -2 slots"),
        (lambda: Problem((Activity.of("a", 2, calendar="day"),), 9), "'a' follows calendar 'day', which is not there"),
        (lambda: Problem((Activity.of("a", 2, {"ann": 1}),), 9), "'a' takes 'ann', which is not there"),
        (lambda: Problem((Activity.of("a", 2, {"ann": -1}),), 9, capacities={"ann": 1}), "'a' takes -1 of 1 'ann'"),
        (lambda: Problem((A,), 9, capacities={"r": 1}, holds=(Hold("r", 1, "b"),)), "'b' is no activity"),
        (lambda: Problem((A,), 9, capacities={"r": 1}, holds=(Hold("r", 1, "a", until="b"),)), "'b' is no activity"),
        (lambda: Problem((A,), 9, holds=(Hold("r", 1, "a"),)), "'a' takes 'r', which is not there"),
        (
            lambda: Problem((A, T), 9, capacities={"r": 1}, holds=(Hold("r", 1, "a", until="t"),)),
            "'a' holds 'r' until 't', which is optional",
        ),
        (lambda: Problem((A,), 9, (Lag("a", "c", 1),)), "'c' is no activity"),
        (lambda: Problem((A, B), 9, (NotAfter("a", "b", unless="c"),)), "'c' is no activity"),
        (lambda: Problem((A, B), 9, (Lag("a", "b", 1, unless="b"),)), "'b' is not optional"),
        (lambda: Problem((A, B), 9, batches=(SerialBatch(("a", "b"), ("t",)),)), "2 members have 1 tails"),
        (lambda: Problem((A, B), 9, batches=(SerialBatch(("a",), ("b",)),)), "'b' is not optional"),
        (
            lambda: Problem((A,), 9, calendars={"day": (Slots(4, 6), Slots(5, 7))}),
            "calendar 'day': stretches have to follow one another, each with a length",
        ),
        (
            lambda: Problem((Activity("a", (Mode(1),), starts=(Slots(4, 4),)),), 9),
            "the starts of 'a': stretches have to follow one another, each with a length",
        ),
    ],
)
def test_a_problem_names_what_is_wrong(make: Callable[[], Problem], told: str) -> None:
    with pytest.raises(ProblemError) as raised:
        make()
    assert str(raised.value) == told

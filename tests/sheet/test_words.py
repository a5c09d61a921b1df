"""How amounts and times are worded: never less than is needed, never sooner than it is dry."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.catalogue import bundled_catalogue
from finplan.listing import listed, shortened
from finplan.material.measuring import mix_step_ml, pour_up, up
from finplan.moments import not_after, not_before
from finplan.quantity import Range
from finplan.showing import show_measured
from finplan.spans import show_span, show_work

MARKS = bundled_catalogue().measuring
VOLUME_ML = st.floats(0.1, 900)
MOMENT = st.datetimes(datetime(2027, 1, 1), datetime(2028, 1, 1))
ML_PER_FL_OZ = 29.5735295625  # NIST Handbook 44, appendix C: 1 fl oz


def ounces(text: str) -> float:
    found = re.fullmatch(r"(?:(\d+))?-?(?:(\d+/\d+))? fl oz", text)
    assert found
    return float(Fraction(found.group(1) or 0) + Fraction(found.group(2) or 0)) * ML_PER_FL_OZ


@given(VOLUME_ML)
def test_a_decant_is_enough_and_no_cup_too_much(volume_ml: float) -> None:
    metric = float(show_measured(pour_up(volume_ml, MARKS["metric"]), "metric").removesuffix(" ml"))
    assert volume_ml - 1e-6 <= metric <= volume_ml + (5 if volume_ml <= 200 else 10)
    us = ounces(show_measured(pour_up(volume_ml, MARKS["us"]), "us"))
    assert volume_ml - 1e-6 <= us <= volume_ml + ML_PER_FL_OZ / 4


@given(VOLUME_ML)
def test_what_is_mixed_is_shown_as_it_is(volume_ml: float) -> None:
    least_ml = up(volume_ml, mix_step_ml(volume_ml, MARKS["us"]))
    assert ounces(show_measured(least_ml, "us")) == pytest.approx(least_ml)
    assert ounces(show_measured(4 * least_ml, "us")) == pytest.approx(4 * least_ml)


@given(MOMENT)
def test_a_window_never_opens_too_early_nor_closes_too_late(moment: datetime) -> None:
    assert timedelta(0) <= not_before(moment) - moment < timedelta(minutes=5)
    assert timedelta(0) <= moment - not_after(moment) < timedelta(minutes=5)


@given(st.text(min_size=1, max_size=80), st.integers(2, 40))
def test_shortened_fits(text: str, limit: int) -> None:
    assert len(shortened(text, limit)) <= limit
    assert shortened(text, 80) == text


@pytest.mark.parametrize(
    ("low", "high", "expected", "source"),
    [
        ("60 ml", "110 ml", "60–110 ml", "same unit, once"),
        ("800 ml", "1.2 L", "800 ml – 1.2 L", "two units, both"),
        ("45 min", "1 h 30 min", "45 min – 1 h 30 min", "a duration of two units is not taken apart"),
        ("1", "3", "1–3", "no unit"),
    ],
)
def test_span(low: str, high: str, expected: str, source: str) -> None:
    assert show_span(low, high) == expected, source


def test_work_without_a_spread_has_none() -> None:
    assert show_work(Range(0.02, 0.02, 0.02)) == "2 min"
    assert show_work(Range(0.001, 0.002, 0.003)) == "under 1 min"
    assert show_work(Range(0.001, 0.01, 0.05)) == "1 min (1–3)"
    assert listed([]) == ""

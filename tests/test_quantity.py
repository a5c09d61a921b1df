"""Reading quantities as people write them, and showing them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finplan.quantity import (
    AREA,
    DURATION,
    FLOW,
    LENGTH,
    MASS,
    PERCENTAGE,
    SPREAD_RATE,
    TEMPERATURE,
    VOLUME,
    Kind,
    QuantityError,
    read_quantity,
    read_range,
)
from finplan.showing import inch_fraction

# The inch of 25.4 mm and the units built on it are exact: International Yard and Pound Agreement 1959;
# gallons: NIST Handbook 44, appendix C, and the UK Weights and Measures Act 1985.
CASES: list[tuple[str, Kind, float]] = [
    ("28 mm", LENGTH, 28.0),
    ("28mm", LENGTH, 28.0),
    ("1.1 m", LENGTH, 1100.0),
    ("62 in", LENGTH, 1574.8),
    ('62"', LENGTH, 1574.8),
    ("3/4 in", LENGTH, 19.05),
    ("1-1/2 in", LENGTH, 38.1),
    ('1 1/2"', LENGTH, 38.1),
    ("1½ in", LENGTH, 38.1),
    ("½ in", LENGTH, 12.7),
    ("1 1⁄2 in", LENGTH, 38.1),
    ("5' 2\"", LENGTH, 1574.8),
    ("5’ 2”", LENGTH, 1574.8),
    ("5 ft 2 in", LENGTH, 1574.8),
    ("5 ft 2", LENGTH, 1574.8),
    ("5'-2 1/2\"", LENGTH, 1587.5),
    ("2 feet 3 inches", LENGTH, 685.8),
    ("62 in.", LENGTH, 1574.8),
    ("1 m 20 cm", LENGTH, 1200.0),
    ("12 ft2", AREA, 1.11483648),
    ("12 ft²", AREA, 1.11483648),
    ("12 sq ft", AREA, 1.11483648),
    ("0.8 m2", AREA, 0.8),
    ("250 ml", VOLUME, 250.0),
    ("1 US quart", VOLUME, 946.352946),
    ("2 US fl oz", VOLUME, 59.147059125),
    ("1 UK pint", VOLUME, 568.26125),
    ("2 lb 3 oz", MASS, 992.233309375),
    ("18 degC", TEMPERATURE, 18.0),
    ("-5 °C", TEMPERATURE, -5.0),
    ("65 degF", TEMPERATURE, 55 / 3),
    ("45 min", DURATION, 0.75),
    ("1 h 30 min", DURATION, 1.5),
    ("7 d", DURATION, 168.0),
    ("55 %", PERCENTAGE, 55.0),
    ("300 m3/h", FLOW, 300.0),
    ("100 cfm", FLOW, 169.9010795520),
    ("500 ft2/gal", SPREAD_RATE, 500 * 0.09290304 / 3.785411784),
]


@pytest.mark.parametrize(("text", "kind", "expected"), CASES, ids=[case[0] for case in CASES])
def test_read(text: str, kind: Kind, expected: float) -> None:
    assert read_quantity(text, kind) == pytest.approx(expected, rel=1e-15)


@pytest.mark.parametrize(
    "text",
    ["", "mm", "12", "1,5 mm", "nan mm", "inf mm", "1e999 mm", "1/0 in", "28 kg", "28 mn", "3 x 4 mm", "1..2 mm",
     "5 mm 3 m", "5 mm 3 mm", "10 mm2", "1 m/s", "28 mm mm", "0x10 mm", "mm 28", "2**9 mm", "60² mm", "x" * 500],
)  # fmt: skip
def test_not_a_length(text: str) -> None:
    with pytest.raises(QuantityError):
        read_quantity(text, LENGTH)


@pytest.mark.parametrize("value", [None, True, [], {}, math.nan, math.inf, -math.inf, 10**400])
def test_not_even_text(value: object) -> None:
    with pytest.raises(QuantityError):
        read_quantity(value, LENGTH, bare_unit="mm")


def test_nearest_unit() -> None:
    with pytest.raises(QuantityError, match="did you mean 'millimeter'"):
        read_quantity("28 milimeter", LENGTH)


@given(st.integers(1, 10**6), st.integers(0, 15))
def test_a_length_in_inches_is_the_same_in_feet_and_in_millimetres(inches: int, sixteenths: int) -> None:
    written = f"{inches} {sixteenths}/16 in"
    feet, rest = divmod(inches, 12)
    assert read_quantity(written, LENGTH) == read_quantity(f"{feet}' {rest}-{sixteenths}/16\"", LENGTH)
    assert read_quantity(written, LENGTH) == pytest.approx((inches + sixteenths / 16) * 25.4, rel=1e-15)


@given(st.integers(1, 10**5), st.integers(0, 15))
def test_inches_come_back(inches: int, sixteenths: int) -> None:
    length_mm = (inches + sixteenths / 16) * 25.4
    assert read_quantity(f"{inch_fraction(length_mm)} in", LENGTH) == pytest.approx(length_mm, rel=1e-12)


def test_ranges() -> None:
    assert read_range("20/24/28 m2/l", SPREAD_RATE).typical == 24.0
    with pytest.raises(QuantityError, match="not in order"):
        read_range("28/24/20 m2/l", SPREAD_RATE)


def test_a_smaller_unit_is_carried_over() -> None:
    """Thirteen inches beside feet are a slip, for 1-3/4 or for 6 ft 1 in; eleven and a half are not."""
    for text, kind in (("5'13\"", LENGTH), ("5 ft 12", LENGTH), ("1 h 60 min", DURATION)):
        with pytest.raises(QuantityError, match="more of the smaller unit"):
            read_quantity(text, kind)
    assert read_quantity("5'11 1/2\"", LENGTH) == pytest.approx(71.5 * 25.4)

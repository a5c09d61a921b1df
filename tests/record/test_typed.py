"""What is typed at the bench."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from finplan.record import TypedError, Used, air_of, at_of, minutes_of, price_of, steps_of, used_of, words_of

NUMBERS = {"seat/sand": 1, "seat/coat-1": 2, "legs/sand": 3, "legs/coat-1": 4, "seat/coat-2": 5}
NOON = datetime(2027, 2, 10, 12, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        (["2"], [2]),
        (["2-4"], [2, 3, 4]),
        (["4–5", "1"], [1, 4, 5]),
        (["1,3", "3"], [1, 3]),
        (["legs/coat-1"], [4]),
    ],
)
def test_steps(typed: list[str], meant: list[int]) -> None:
    assert [NUMBERS[step] for step in steps_of(typed, NUMBERS)] == meant


@pytest.mark.parametrize(
    "typed", ["6", "0", "4-2", "2-99", "seat", "-1", "", "1-", "99999999999999999999", "legs/cot-1"]
)
def test_what_is_no_step_is_refused(typed: str) -> None:
    with pytest.raises(TypedError, match="expected"):
        steps_of([typed], NUMBERS)


def test_amounts() -> None:
    assert used_of("85 ml", None) == Used(ml=85.0)
    assert used_of("78 g", None) == Used(g=78.0)
    assert used_of(None, "812 g -> 731 g") == Used(before_g=812.0, after_g=731.0)
    assert used_of(None, "812 -> 731 g") == Used(before_g=812.0, after_g=731.0)
    assert used_of(None, "1.2 kg→900 g") == Used(before_g=1200.0, after_g=900.0)
    assert used_of(None, None) == Used()


@pytest.mark.parametrize(
    ("used", "can"),
    [
        ("85", None),
        ("three cups", None),
        (None, "812 g"),
        (None, "731 g -> 812 g"),
        (None, "a -> b"),
        ("1 ml", "2 g -> 1 g"),
    ],
)
def test_what_is_no_amount_is_refused(used: str | None, can: str | None) -> None:
    with pytest.raises(TypedError, match="expected"):
        used_of(used, can)


def test_air() -> None:
    assert air_of("17 degC 55 %") == (17.0, 55.0)
    assert air_of("63 degF")[0] == pytest.approx(17.22, abs=0.01)
    assert air_of("55 %") == (None, 55.0)
    assert air_of("-3 degC, 80 %") == (-3.0, 80.0)
    assert air_of(None) == (None, None)
    for wrong in ("warm", "17", "900 degC", "120 %", ""):
        with pytest.raises(TypedError, match="expected"):
            air_of(wrong)


def test_times() -> None:
    assert at_of("08:40", NOON) == datetime(2027, 2, 10, 8, 40, tzinfo=UTC)
    assert at_of("2027-02-09 15:10", NOON) == datetime(2027, 2, 9, 15, 10, tzinfo=UTC)
    assert at_of(None, NOON) == NOON
    assert minutes_of("1.5 h") == 90.0
    for wrong in ("12:01", "25:00", "2027-03-01", "2027-02-09", "2026-02-09 15:10"):
        with pytest.raises(TypedError):
            at_of(wrong, NOON)


def test_words_are_kept_in_one_line() -> None:
    assert words_of("  seen by\r\n Ida ", "note") == "seen by Ida"
    assert words_of(" ", "by") is words_of(None, "note") is None
    for typed, of in (("y" * 61, "by"), ("n" * 301, "note"), ("a\x1b[31mb", "batch"), ("\u202etable", "note")):
        with pytest.raises(TypedError, match=f"--{of} ") as refused:
            words_of(typed, of)
        assert refused.value.words.isprintable()


def test_a_price_is_one_that_the_record_can_be_read_with() -> None:
    assert (price_of("61.50"), price_of("0")) == (61.5, 0.0)
    for typed in ("inf", "nan", "1e400", "4006381333931", "-1", "38 EUR", "61,50", ""):
        with pytest.raises(TypedError, match="is no price"):
            price_of(typed)

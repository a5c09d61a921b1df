"""Many cases as one test: every one is tried, and every one that fails is told."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.each import each

SEEN: list[tuple[str, int]] = []


@each(("word", "number"), [("one", 1), pytest.param("two", 2, id="second")])
@each("power", [1, 2])
def test_every_case_is_tried_with_what_else_a_test_asks_for(word: str, number: int, power: int, tmp_path: Path) -> None:
    assert tmp_path.is_dir()
    SEEN.append((word, number**power))
    if len(SEEN) == 4:
        assert SEEN == [("one", 1), ("one", 1), ("two", 2), ("two", 4)]


def test_every_case_that_fails_is_told() -> None:
    @each("number", range(4))
    def odd(number: int) -> None:
        assert number % 2

    with pytest.raises(ExceptionGroup, match="2 of 4 cases") as failed:
        odd()
    notes = [error.__notes__[-1] for error in failed.value.exceptions]
    assert notes == ["case: {'number': 0}", "case: {'number': 2}"]


def test_no_case_at_all_is_a_failure() -> None:
    @each("number", [])
    def anything(number: int) -> None: ...

    with pytest.raises(AssertionError, match="nothing to try"):
        anything()

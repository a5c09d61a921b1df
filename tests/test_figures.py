"""What a room has reckoned is refused where a figure of it is no number."""

from __future__ import annotations

import math

import pytest

from finplan.figures import checked
from finplan.problems import NotPossibleError
from finplan.quantity import Range


@pytest.mark.parametrize("figure", [math.nan, math.inf, -math.inf])
def test_a_figure_that_is_none_is_refused_by_its_name(figure: float) -> None:
    with pytest.raises(NotPossibleError, match=r"^the air: a\.high comes to no number"):
        checked({"a": (Range(0.0, 1.0, figure),)}, "the air")


def test_numbers_pass() -> None:
    figures = {"a": (Range(0.0, 1.0, 2.0),), "b": None, "c": "nan"}
    assert checked(figures, "the air") is figures

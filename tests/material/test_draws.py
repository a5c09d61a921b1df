"""What is planned with 90 % is enough in 90 of a hundred: five jobs against draws from the catalogue's own ranges."""

from __future__ import annotations

from math import sqrt

import pytest

from tests.material.draws import JOBS, enough

COUNT = 200_000
STANDARD_ERROR = sqrt(0.9 * 0.1 / COUNT)


@pytest.mark.parametrize("name", JOBS)
def test_ninety_percent_is_ninety_percent(name: str) -> None:
    # Half a point, as ten million draws show it (`python -m tests.material.draws`), and four standard errors of these.
    _, share = enough(name, COUNT)
    assert share == pytest.approx(0.9, abs=0.005 + 4 * STANDARD_ERROR)

"""A plan that reaches beyond the days of a log."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from finplan.climate import log_findings
from finplan.inputs import Climate

ROWS = "time,temperature,humidity\n2027-03-01 00:00,12,60\n2027-03-01 06:00,11,62\n"


@pytest.mark.parametrize(
    ("start_hour", "end", "words"),
    [
        (0, datetime(2027, 3, 1, 6, tzinfo=UTC), []),
        (0, datetime(2027, 3, 4, tzinfo=UTC), ["the log ends on 2027-03-01 06:00, before the plan"]),
        (-1, datetime(2027, 3, 1, 5, tzinfo=UTC), ["the log begins on 2027-03-01 00:00, after the plan"]),
        (
            -1,
            datetime(2027, 4, 1, tzinfo=UTC),
            ["the log begins on 2027-03-01 00:00, after the plan", "the log ends on 2027-03-01 06:00, before the plan"],
        ),
    ],
)
def test_what_stands_for_the_days_beyond_is_told(
    start_hour: int, end: datetime, words: list[str], tmp_path: Path
) -> None:
    (tmp_path / "logger.csv").write_text(ROWS, encoding="utf-8")
    climate = Climate.model_validate({"log": "logger.csv"}, context={"folder": tmp_path, "time-zone": "UTC"})
    start = datetime(2027, 3, 1, tzinfo=UTC) if start_hour == 0 else datetime(2027, 2, 28, 23, tzinfo=UTC)
    found = log_findings(climate, start, end)
    assert [one.wrong for one in found] == words
    assert {(one.severity, one.path) for one in found} <= {("warning", ("climate", "log"))}


def test_day_and_night_know_every_day() -> None:
    air = {"temperature": "19 degC", "humidity": "50 %"}
    climate = Climate.model_validate({"day": air, "night": air})
    assert log_findings(climate, datetime(1999, 1, 1, tzinfo=UTC), datetime(2099, 1, 1, tzinfo=UTC)) == []

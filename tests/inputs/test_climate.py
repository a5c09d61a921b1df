"""Months, and what is wrong with them, all at once."""

from __future__ import annotations

from typing import Any

import pytest

from finplan.inputs import Climate
from finplan.inputs.climate import MONTHS
from finplan.reading import validate

AIR: dict[str, Any] = {
    "day": {"temperature": "19 degC", "humidity": "50 %"},
    "night": {"temperature": "11 degC", "humidity": "65 %"},
}
YEAR = dict.fromkeys(MONTHS, AIR)


def test_twelve_months() -> None:
    climate, findings = validate(Climate, {"months": YEAR})
    assert findings == []
    assert climate is not None
    assert climate.months is not None
    assert sorted(climate.months) == list(range(1, 13))
    names = ["January", "february", "mar", "apri", "may", "june", "july", "aug", "sept", "october", "nov", "december"]
    assert validate(Climate, {"months": dict.fromkeys(names, AIR)})[1] == []


@pytest.mark.parametrize(
    ("months", "expected"),
    [
        ([], [("months", "these are not months")]),
        ({"jan": AIR}, [("months", "the months feb, mar, apr, may, jun, jul, aug, sep, oct, nov, dec are missing")]),
        ({**YEAR, "january": AIR}, [("months.january", "'january' is named twice")]),
        (
            {**YEAR, "marz": AIR, "1": AIR},
            [("months.marz", "'marz' is not a month"), ("months.1", "'1' is not a month")],
        ),
        (
            {
                **YEAR,
                "jan": {**AIR, "day": {"temperature": "19", "humidity": "150 %"}},
                "feb": {"day": AIR["day"]},
                "mar": "cold",
            },
            [
                ("months.jan.day.temperature", "'19' has no unit"),
                ("months.jan.day.humidity", "'150 %' is too large"),
                ("months.feb.night", "field 'night' is missing"),
                ("months.mar", "'cold' stands where a group of fields belongs"),
            ],
        ),
    ],
)
def test_everything_is_told_at_its_place(months: object, expected: list[tuple[str, str]]) -> None:
    _, findings = validate(Climate, {"months": months})
    assert [(".".join(map(str, finding.path)), finding.wrong) for finding in findings] == expected


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({}, "said in one way"),
        ({"day": AIR["day"]}, "day and night belong together"),
        ({**AIR, "months": YEAR}, "said in one way"),
    ],
)
def test_one_way_of_saying_it(fields: dict[str, Any], words: str) -> None:
    _, findings = validate(Climate, fields)
    assert any(words in finding.wrong for finding in findings), findings

"""Working hours as they are written."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from finplan.inputs import Person
from finplan.reading import validate


def week(hours: dict[str, Any]) -> list[list[tuple[int, int]]]:
    person, findings = validate(Person, {"name": "Ines", "hours": hours})
    assert person is not None, findings
    return [[(shift.start_min // 60, shift.end_min // 60) for shift in shifts] for shifts in person.hours]


# By hand, in hours after the midnight before.
@pytest.mark.parametrize(
    ("hours", "expected"),
    [
        ({"mon-wed": "8:00-12:00", "sun": ["13:00-17:00"]}, [[(8, 12)]] * 3 + [[]] * 3 + [[(13, 17)]]),
        ({"Monday, thursday-FRI": "8:00-12:00"}, [[(8, 12)], [], [], [(8, 12)], [(8, 12)], [], []]),
        ({"fri-mon": "9:00-10:00"}, [[(9, 10)], [], [], [], [(9, 10)], [(9, 10)], [(9, 10)]]),
        ({"mon-fri": "8:00-12:00", "mon": "13:00-15:00"}, [[(8, 12), (13, 15)]] + [[(8, 12)]] * 4 + [[], []]),
        ({"fri": "22:00-6:00"}, [[], [], [], [], [(22, 30)], [], []]),
        ({"mon-sun": "22:00-6:00"}, [[(22, 30)]] * 7),
        ({"mon": "0:00-24:00", "tue": "0:00-8:00"}, [[(0, 24)], [(0, 8)], [], [], [], [], []]),
        ({"sun": "22:00-6:00", "mon": "6:00-12:00"}, [[(6, 12)], [], [], [], [], [], [(22, 30)]]),
    ],
)
def test_weeks(hours: dict[str, Any], expected: list[list[tuple[int, int]]]) -> None:
    assert week(hours) == expected


@pytest.mark.parametrize(
    ("hours", "expected"),
    [
        ({"mon": "8:00-12:00", "tue": "8:00"}, ["'8:00' is not a stretch of time"]),
        ({"mox": "8:00-12:00", "tue": "8-12", "wed": ["8:00-9:00", "25:00-26:00"]}, ["mox", "'8' is", "25:00"]),
        ({"mon-thu-fri": "8:00-12:00"}, ["'thu-fri' is not a day"]),
        ({"monkey": "8:00-12:00"}, ["'monkey' is not a day"]),
        ({"mon-": "8:00-12:00"}, ["'' is not a day"]),
        ({"": "8:00-12:00"}, ["'' is not a day"]),
        ({"mon": "8:00-8:00"}, ["has no length"]),
        ({"mon": ["8:00-12:00", "11:00-13:00"], "tue": ["8:00-12:00", "9:00-10:00"]}, ["on mon", "on tue"]),
        ({"mon": "22:00-6:00", "tue": "5:00-9:00"}, ["the night of mon runs into the hours of tue"]),
        ({"sun": "22:00-6:00", "mon": "5:00-9:00"}, ["the night of sun runs into the hours of mon"]),
        ({}, ["these are not working hours"]),
        ([], ["these are not working hours"]),
    ],
)
def test_everything_that_is_wrong_is_told(hours: object, expected: list[str]) -> None:
    _, findings = validate(Person, {"name": "Ines", "hours": hours})
    assert len(findings) == len(expected), findings
    for finding, words in zip(findings, expected, strict=True):
        assert words in finding.wrong
        assert finding.path[0] == "hours"


def single_days(days: object) -> list[str]:
    """Return what is wrong with hours of single days."""
    _, findings = validate(Person, {"name": "Ines", "hours": {"mon": "8:00-12:00"}, "days": days})
    assert all(finding.path[0] == "days" for finding in findings)
    return [finding.wrong for finding in findings]


def test_single_days_stand_for_themselves() -> None:
    # The sixth of March 2027 is a Saturday; by hand, in minutes after midnight.
    fields = {"name": "Help", "days": {"2027-03-06": ["13:00-15:00", "8:00-12:00"], "2027-03-08": []}}
    person, findings = validate(Person, fields)
    assert findings == []
    assert person is not None
    assert not any(person.hours)
    assert [(one.start_min, one.end_min) for one in person.days[date(2027, 3, 6)]] == [(480, 720), (780, 900)]
    assert person.days[date(2027, 3, 8)] == ()


def test_what_is_wrong_with_single_days_is_told() -> None:
    overlap = ["8:00-10:00", "9:00-11:00"]
    told = single_days({"sat": "8:00-9:00", "2027-03-06": "8:00", "2027-02-29": "8:00-9:00", "2027-03-07": overlap})
    assert [one.split(" is ")[0] for one in told] == [
        *("'sat'", "'8:00'", "'2027-02-29'", "stretches on 2027-03-07 overlap")
    ]
    assert single_days({}) == ["these are not hours of single days"]
    assert single_days({f"{2030 + n // 300}-{n // 28 % 11 + 1:02}-{n % 28 + 1:02}": "8:00-9:00" for n in range(501)})


def test_somebody_who_is_never_there_is_told() -> None:
    _, (finding,) = validate(Person, {"name": "Ines"})
    assert finding.wrong == "nothing says when this person works"

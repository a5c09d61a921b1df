"""The file of a data logger, or a forecast in the same form: rows of time, temperature and humidity."""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta, timezone, tzinfo

from finplan.problems import Finding
from finplan.reading import FIRST_YEAR, LAST_YEAR, fail, fail_each

MAX_LOG_GAP = timedelta(hours=6)
MAX_LOG_ROWS = 300_000
_COLUMNS = ("time", "temperature", "humidity")
_IN_FAHRENHEIT = re.compile(r"\b(?:deg(?:rees)? ?)?f(?:ahrenheit)?\W*$", re.IGNORECASE)
_MAX_TOLD = 10
"""Of each kind of fault so many rows are named; the others are counted."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One row of a logger: °C, % relative humidity, and a time by the clock on the wall that knows its offset."""

    when: datetime
    temperature_c: float
    humidity_pct: float


class _SkippedError(ValueError):
    """A time that the clock on the wall never shows."""


@dataclass(slots=True)
class _Faults:
    """The lines of a log that cannot be used, by what is wrong with them, and its gaps."""

    not_readings: list[int] = field(default_factory=list)
    not_air: list[int] = field(default_factory=list)
    skipped: list[int] = field(default_factory=list)
    not_later: list[int] = field(default_factory=list)
    gaps: list[str] = field(default_factory=list)

    def findings(self, name: str) -> list[Finding]:
        """Return one finding for each kind of fault."""
        kinds = (
            (
                self.not_readings,
                ("is not a reading", "are not readings"),
                "expected a time, °C and % humidity: 2027-03-02 08:00, 18.5, 52",
            ),
            (
                self.not_air,
                ("is not the air of a shop", "are not the air of a shop"),
                "expected -60 to 100 °C and 0 to 100 %",
            ),
            (
                self.skipped,
                ("is at a time that the clock skips", "are at times that the clock skips"),
                "expected times by the clock on the wall, or with their offset: 2027-03-28T02:30+02:00",
            ),
            (
                self.not_later,
                ("is not later than the one before", "are not later than the one before"),
                "expected rows in order of time",
            ),
        )
        findings = [
            Finding((), f"'{name}' {_lines(lines, words)}", expected) for lines, words, expected in kinds if lines
        ]
        if self.gaps:
            gap = "a gap" if len(self.gaps) == 1 else "gaps"
            wrong = f"'{name}' has {gap} of more than 6 h: {_some(self.gaps)}"
            findings.append(Finding((), wrong, "fill it, or write day and night"))
        return findings


def _lines(lines: Sequence[int], words: tuple[str, str]) -> str:
    one, many = words
    return f"line {lines[0]} {one}" if len(lines) == 1 else f"lines {_some([str(n) for n in lines])} {many}"


def _some(named: Sequence[str]) -> str:
    more = len(named) - _MAX_TOLD
    return ", ".join(named[:_MAX_TOLD]) + (f" and {more} more" if more > 0 else "")


def read_log(name: str, text: str, zone: tzinfo) -> tuple[Reading, ...]:
    """Return the readings in the text of a log, in order of time.

    Columns are parted by commas, or by semicolons, and then a number may have a decimal comma. A time without an offset
    is by the clock on the wall in *zone*; where the clock goes back, a row that repeats an hour is taken to be in the
    second one.

    Raises
    ------
    PydanticCustomError, ValidationError
        Rows or columns are wrong; carries one finding for each kind of fault, with the lines.
    """
    rows, comma = _columns(name, text)
    readings: list[Reading] = []
    faults = _Faults()
    for number, row in rows:
        before = readings[-1].when if readings else None
        try:
            when_text, *numbers = row
            temperature_c, humidity_pct = (float(number_text.replace(comma, ".")) for number_text in numbers)
            when = _moment(when_text, zone, before)
        except _SkippedError:
            faults.skipped.append(number)
        except (ValueError, OverflowError):
            faults.not_readings.append(number)
        else:
            if not (-60 <= temperature_c <= 100 and 0 < humidity_pct <= 100):
                faults.not_air.append(number)
            elif before is not None and when <= before:
                faults.not_later.append(number)
            else:
                if before is not None and when - before > MAX_LOG_GAP:
                    faults.gaps.append(f"{before:%Y-%m-%d %H:%M} to {when:%Y-%m-%d %H:%M}")
                readings.append(Reading(when, temperature_c, humidity_pct))
    findings = faults.findings(name)
    if findings:
        fail_each(findings)
    if len(readings) < 2:
        fail(f"'{name}' holds {len(readings)} readings", "expected two or more")
    return tuple(readings)


def _columns(name: str, text: str) -> tuple[list[tuple[int, list[str]]], str]:
    """Return time, temperature and humidity of every row with its line, as text, and the sign of decimals."""
    lines = text.splitlines()
    if len(lines) > MAX_LOG_ROWS:
        fail(
            f"'{name}' has {len(lines):,} rows",
            f"expected at most {MAX_LOG_ROWS:,}: a year, one row every two minutes; air changes more slowly than that",
        )
    semicolons = bool(lines) and ";" in lines[0]
    try:
        table = list(csv.reader(lines, delimiter=";" if semicolons else ","))
    except csv.Error:
        fail(f"'{name}' is not a table of columns", f"expected {', '.join(_COLUMNS)}")
    heading = [column.strip().lower().split(" ")[0] for column in (table[0] if table else [])]
    if any(column not in heading for column in _COLUMNS):
        fail(f"'{name}' has the columns {', '.join(heading)[:80]}", f"expected {', '.join(_COLUMNS)}")
    places = [heading.index(column) for column in _COLUMNS]
    temperature = table[0][places[1]].strip()
    if _IN_FAHRENHEIT.search(temperature):
        fail(f"'{name}' has the column '{temperature[:40]}'", "expected temperature in °C: let the logger write that")
    rows = [
        (number, [row[place].strip() if place < len(row) else "" for place in places])
        for number, row in enumerate(table[1:], start=2)
        if any(cell.strip() for cell in row)
    ]
    return rows, "," if semicolons else "."


def _moment(text: str, zone: tzinfo, before: datetime | None) -> datetime:
    """Return a time with its offset; of the two times of a repeated hour, the first that is after *before*."""
    when = datetime.fromisoformat(text)
    if not FIRST_YEAR <= when.year <= LAST_YEAR:
        msg = f"nobody logs in {when.year}"
        raise ValueError(msg)
    if when.tzinfo is not None:
        return _with_offset(when.astimezone(zone))
    local = when.replace(tzinfo=zone)
    if local.astimezone(UTC).astimezone(zone).replace(tzinfo=None) != when:
        msg = f"{text} does not exist"
        raise _SkippedError(msg)
    first = _with_offset(local)
    return first if before is None or first > before else _with_offset(local.replace(fold=1))


def _with_offset(when: datetime) -> datetime:
    # Times that share a zone are compared by the clock on the wall, which goes back in autumn; offsets are not.
    return when.replace(tzinfo=timezone(when.utcoffset() or timedelta(0)), fold=0)

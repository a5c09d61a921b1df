"""The air of the shop as it is written: day and night, by month, or a logger's file."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from pathlib import Path
from typing import Annotated, Self

from pydantic import PlainValidator, ValidationInfo, model_validator

from finplan.inputs.hours import Clock
from finplan.problems import did_you_mean
from finplan.reading import Percentage, Record, TemperatureC, fail

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
MAX_LOG_BYTES = 20_000_000
MAX_LOG_GAP = timedelta(hours=6)
_COLUMNS = ("time", "temperature", "humidity")


class DayAir(Record):
    """The air while the shop is heated, and from when to when that is."""

    from_: Clock = time(8)
    to: Clock = time(18)
    temperature_c: TemperatureC
    humidity_pct: Percentage


class NightAir(Record):
    """The air for the rest of the day."""

    temperature_c: TemperatureC
    humidity_pct: Percentage


class DayAndNight(Record):
    """The air of a day."""

    day: DayAir
    night: NightAir


@dataclass(frozen=True, slots=True)
class Reading:
    """One row of a logger: wall-clock time, °C, % relative humidity."""

    when: datetime
    temperature_c: float
    humidity_pct: float


def _log(value: object, info: ValidationInfo) -> tuple[Reading, ...]:
    folder = (info.context or {}).get("folder")
    name = str(value)
    if folder is None or not name.lower().endswith(".csv") or Path(name).name != name:
        fail(f"'{name[:60]}' is not a log beside the shop file", "expected the plain name of a .csv file in its folder")
    file = Path(folder) / name
    try:
        if file.resolve().parent != Path(folder).resolve():
            fail(f"'{name}' leads out of the folder", "expected a file beside the shop file")
        if file.stat().st_size > MAX_LOG_BYTES:
            fail(f"'{name}' is longer than {MAX_LOG_BYTES:,} bytes", "expected a shorter log")
        text = file.read_text(encoding="utf-8-sig")
    except OSError as error:
        fail(
            f"'{name}' cannot be read: {(error.strerror or 'it is no file').lower()}",
            "expected a file beside the shop file",
        )
    except UnicodeDecodeError:
        fail(f"'{name}' is not text in UTF-8", "expected columns time, temperature, humidity")
    return _readings(name, text)


def _readings(name: str, text: str) -> tuple[Reading, ...]:
    rows = csv.reader(text.splitlines())
    heading = [column.strip().lower().split(" ")[0] for column in next(rows, [])]
    if any(column not in heading for column in _COLUMNS):
        fail(f"'{name}' has the columns {', '.join(heading)[:80]}", f"expected {', '.join(_COLUMNS)}")
    places = [heading.index(column) for column in _COLUMNS]
    readings: list[Reading] = []
    for number, row in enumerate(rows, start=2):
        if not any(cell.strip() for cell in row):
            continue
        try:
            when = datetime.fromisoformat(row[places[0]].strip()).replace(tzinfo=None)
            reading = Reading(when, float(row[places[1]]), float(row[places[2]]))
        except (ValueError, IndexError):
            fail(
                f"'{name}' line {number} is not a reading",
                "expected a time, °C and % humidity: 2027-03-02 08:00, 18.5, 52",
            )
        if not (-60 <= reading.temperature_c <= 100 and 0 < reading.humidity_pct <= 100):
            fail(f"'{name}' line {number} is not the air of a shop", "expected -60 to 100 °C and 0 to 100 %")
        if readings and when <= readings[-1].when:
            fail(f"'{name}' line {number} is not later than the one before", "expected rows in order of time")
        if readings and when - readings[-1].when > MAX_LOG_GAP:
            gap = f"{readings[-1].when:%Y-%m-%d %H:%M} to {when:%Y-%m-%d %H:%M}"
            fail(f"'{name}' has a gap of more than 6 h: {gap}", "fill it, or write day and night")
        readings.append(reading)
    if len(readings) < 2:
        fail(f"'{name}' holds {len(readings)} readings", "expected two or more")
    return tuple(readings)


def _months(value: object, info: ValidationInfo) -> dict[int, DayAndNight]:
    if not isinstance(value, dict):
        fail("these are not months", "expected jan: {day: {…}, night: {…}}, … dec")
    months: dict[int, DayAndNight] = {}
    for name, data in value.items():
        if name[:3].lower() not in MONTHS:
            fail(f"'{name[:20]}' is not a month", did_you_mean(name, MONTHS), (name,), at_key=True)
        months[MONTHS.index(name[:3].lower()) + 1] = DayAndNight.model_validate(data, context=info.context)
    missing = [name for number, name in enumerate(MONTHS, start=1) if number not in months]
    if missing:
        fail(f"the months {', '.join(missing)} are missing", "expected all twelve")
    return months


class Climate(Record):
    """The air of the shop: one of day and night, months, or a log."""

    day: DayAir | None = None
    night: NightAir | None = None
    months: Annotated[dict[int, DayAndNight] | None, PlainValidator(_months)] = None
    log: Annotated[tuple[Reading, ...] | None, PlainValidator(_log)] = None

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        ways: Sequence[object] = (self.day or self.night, self.months, self.log)
        if sum(way is not None for way in ways) != 1:
            fail("the climate has to be said in one way", "expected day and night, or months, or log")
        if (self.day is None) != (self.night is None):
            fail("day and night belong together", "expected both")
        return self

"""The air of the shop as it is written: day and night, by month, or a logger's file."""

from collections.abc import Sequence
from datetime import UTC, time, tzinfo
from pathlib import Path
from typing import Annotated, Self
from zoneinfo import ZoneInfo

from pydantic import ValidationInfo, model_validator

from finplan import moments
from finplan.inputs.hours import ClockTime
from finplan.inputs.logger import Reading, read_log
from finplan.problems import Finding, did_you_mean, shown
from finplan.reading import (
    Form,
    Percentage,
    Reads,
    Record,
    TemperatureC,
    UnreadableError,
    beside,
    fail,
    fail_each,
    month_number,
    read_bytes,
    validate,
)

MONTHS = tuple(name[:3].lower() for name in moments.MONTHS)
MAX_LOG_BYTES = 20_000_000


class DayAir(Record):
    """The air while the shop is heated, and from when to when that is."""

    from_: ClockTime = time(8)
    """From when the shop is heated."""
    to: ClockTime = time(18)
    """Until when."""
    temperature_c: TemperatureC
    """How warm it is then."""
    humidity_pct: Percentage
    """The relative humidity then."""


class NightAir(Record):
    """The air for the rest of the day."""

    temperature_c: TemperatureC
    """How warm it is then."""
    humidity_pct: Percentage
    """The relative humidity then."""


class DayAndNight(Record):
    """The air of a day."""

    day: DayAir
    """The air while the shop is heated."""
    night: NightAir
    """The air for the rest of the day."""


def _log(value: object, info: ValidationInfo) -> tuple[Reading, ...]:
    folder = (info.context or {}).get("folder")
    name = str(value)
    if folder is None or not name.lower().endswith(".csv") or Path(name).name != name:
        fail(f"{shown(name)} is not a log beside the shop file", "expected the plain name of a .csv file in its folder")
    try:
        raw = read_bytes(beside(folder, name), MAX_LOG_BYTES)
    except UnreadableError as error:
        fail(f"{shown(name)} {error.wrong}", "expected a file beside the shop file")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        fail(f"{shown(name)} is not text in UTF-8", "expected columns time, temperature, humidity")
    return read_log(name, text, _zone(info))


def _zone(info: ValidationInfo) -> tzinfo:
    """Return the zone of the shop's clock; where it is not one, which is an error of its own, universal time."""
    try:
        return ZoneInfo((info.context or {})["time-zone"])
    except (KeyError, TypeError, ValueError, OSError):
        return UTC


def _months(value: object, info: ValidationInfo) -> dict[int, DayAndNight]:
    if not isinstance(value, dict):
        fail("these are not months", "expected jan: {day: {…}, night: {…}}, … dec")
    months: dict[int, DayAndNight] = {}
    findings: list[Finding] = []
    named: set[int] = set()
    for name, data in value.items():
        month = month_number(name)
        if month is None:
            hint = did_you_mean(name, MONTHS)
            findings.append(Finding((name,), f"'{name[:20]}' is not a month", hint, at_key=True))
            continue
        if month in named:
            findings.append(Finding((name,), f"{shown(name)} is named twice", "expected each month once", at_key=True))
        named.add(month)
        air, of_month = validate(DayAndNight, data)
        findings += [finding.within(name) for finding in of_month]
        if air is not None:
            months[month] = air
    missing = [name for number, name in enumerate(MONTHS, start=1) if number not in named]
    if missing and all(month_number(name) is not None for name in value):
        findings.append(Finding((), f"the months {', '.join(missing)} are missing", "expected all twelve"))
    if findings:
        fail_each(findings)
    return months


_LOG_FORM = Form("the name of a file beside the shop file: shop-logger.csv")


class Climate(Record):
    """The air of the shop: one of day and night, months, or a log."""

    day: DayAir | None = None
    """The air while the shop is heated."""
    night: NightAir | None = None
    """The air for the rest of the day."""
    months: Annotated[dict[int, DayAndNight] | None, Reads(_months, in_context=True)] = None
    """Day and night by month, all twelve: {jan: {day: …, night: …}, …}."""
    log: Annotated[tuple[Reading, ...] | None, Reads(_log, in_context=True), _LOG_FORM] = None
    """The file of a logger, beside the shop file: columns time, temperature in °C, humidity in %."""

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        ways: Sequence[object] = (self.day or self.night, self.months, self.log)
        if sum(way is not None for way in ways) != 1:
            fail("the climate has to be said in one way", "expected day and night, or months, or log")
        if (self.day is None) != (self.night is None):
            fail("day and night belong together", "expected both")
        return self

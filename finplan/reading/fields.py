"""The types of fields: text with a unit in the file, a plain float in one unit in the model."""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, time
from typing import Annotated, Any, NoReturn

from pydantic import PlainValidator, ValidationError, ValidationInfo
from pydantic_core import InitErrorDetails, PydanticCustomError

from finplan import quantity
from finplan.problems import Finding, Where
from finplan.quantity import Kind, QuantityError, Range

MIN_LENGTH_MM = 1e-3
MAX_LENGTH_MM = 1e5
"""No piece of furniture has a part longer than a hundred metres; beyond it a unit is wrong."""

_CALENDAR = re.compile(r"(?P<day>\d{4}-\d{2}-\d{2})(?:[T ]+(?P<hour>\d{1,2}):(?P<minute>\d{2}))?")
MAX_COUNT = 1000
FIRST_YEAR, LAST_YEAR = 1970, 2199
"""Far enough for any delivery, and well within what clocks and calendars can count."""


@dataclass(frozen=True, slots=True)
class Form:
    """How a field is written, in words, beside the type that reads it."""

    words: str


def fail(wrong: str, expected: str, path: Where = (), *, at_key: bool = False) -> NoReturn:
    """Raise an error for a pydantic validator: *wrong* and *expected* in our words, *path* further down from here."""
    context: dict[str, Any] = {"wrong": wrong, "expected": expected, "path": path, "at_key": at_key}
    raise PydanticCustomError("finplan", "{wrong}", context)


def finding_of(error: PydanticCustomError) -> Finding:
    """Return as a finding what ``fail`` has raised."""
    return _finding(error.context or {})


def _finding(said: Mapping[str, Any]) -> Finding:
    return Finding(said["path"], said["wrong"], said["expected"], at_key=said["at_key"])


def fail_each(findings: Iterable[Finding]) -> NoReturn:
    """Raise one error for a pydantic validator about all of *findings*, their paths further down from here."""
    errors: list[InitErrorDetails] = []
    for finding in findings:
        try:
            fail(finding.wrong, finding.expected, finding.path, at_key=finding.at_key)
        except PydanticCustomError as error:
            errors.append({"type": error, "loc": (), "input": None})
    raise ValidationError.from_exception_data("findings", errors)


def check_all(*checks: Callable[[], None]) -> None:
    """Run every check of a pydantic validator, and raise one error about all that they found."""
    found: list[Finding] = []
    for check in checks:
        try:
            check()
        except PydanticCustomError as error:
            found.append(finding_of(error))
        except ValidationError as error:
            found += [_finding(detail["ctx"]) for detail in error.errors()]
    if found:
        fail_each(found)


def _quantity(
    kind: Kind, low: float | None = None, high: float | None = None, *, above: float | None = None
) -> Callable[..., float]:
    def validate(value: object, info: ValidationInfo) -> float:
        bare = (info.context or {}).get("lengths") if kind is quantity.LENGTH else None
        try:
            number = quantity.read(value, kind, bare_unit=bare)
        except QuantityError as error:
            fail(error.wrong, error.expected)
        unit = kind.unit.replace("**", "")
        if above is not None and number <= above:
            fail(f"'{value}' is not more than {above:g}", f"expected {kind.name} above {above:g} {unit}")
        if low is not None and number < low:
            fail(f"'{value}' is too small", f"expected at least {low:g} {unit}")
        if high is not None and number > high:
            fail(f"'{value}' is too large", f"expected at most {high:g} {unit}")
        return number

    return validate


def _length(value: object, info: ValidationInfo) -> float:
    bare = (info.context or {}).get("lengths")
    try:
        number = quantity.read(value, quantity.LENGTH, bare_unit=bare)
    except QuantityError as error:
        fail(error.wrong, error.expected)
    if number <= 0:
        fail(f"'{value}' is {'zero' if number == 0 else 'negative'}", "expected a length above zero")
    if number < MIN_LENGTH_MM:
        fail(f"'{value}' is too small", f"expected at least {MIN_LENGTH_MM:g} mm")
    if number > MAX_LENGTH_MM:
        fail(f"'{value}' is too large", f"expected at most {MAX_LENGTH_MM / 1000:g} m")
    return number


def _length_or_zero(value: object, info: ValidationInfo) -> float:
    number = _quantity(quantity.LENGTH)(value, info)
    return number if number == 0 else _length(value, info)


def _range(kind: Kind, *, low: float = 0.0, high: float = math.inf) -> Callable[[object], Range]:
    def validate(value: object) -> Range:
        if isinstance(value, Range):
            return value
        try:
            found = quantity.read_range(value, kind)
        except QuantityError as error:
            fail(error.wrong, error.expected)
        if found.high > high:
            fail(f"'{value}' is too large", f"expected at most {high:g}")
        if found.low < low:
            fail(f"'{value}' is too small", f"expected at least {low:g}")
        return found

    return validate


def _text(longest: int) -> Callable[[object], str]:
    def validate(value: object) -> str:
        if isinstance(value, bool) or not isinstance(value, (str, int, float)):
            fail(f"{'nothing' if value is None else 'this'} is not text", "expected a few words")
        text = " ".join(str(value).split())
        if not text:
            fail("the text is empty", "expected a few words")
        if len(text) > longest:
            fail(f"the text is {len(text)} characters long", f"expected at most {longest}")
        # Most text is printable, which is told at once; not all that is not is a control character.
        if not text.isprintable() and any(
            unicodedata.category(character) in ("Cc", "Cs", "Co", "Cn") for character in text
        ):
            fail("the text holds a control character", "remove it")
        return text

    return validate


def _count(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        fail(f"'{value}' is not a whole number" if value is not None else "nothing is given", "expected 1, 2, 3, …")
    if not 1 <= value <= MAX_COUNT:
        fail(f"{value} is out of range", f"expected 1 to {MAX_COUNT}")
    return value


@dataclass(frozen=True, slots=True)
class Span:
    """The lower and the upper limit of what is allowed; the unit stands in the name of the field that holds it."""

    low: float
    high: float

    def holds(self, value: float) -> bool:
        """Return whether *value* lies within, ends included."""
        return self.low <= value <= self.high


def _span(kind: Kind) -> Callable[[object], Span]:
    def validate(value: object) -> Span:
        if isinstance(value, Span):
            return value
        expected = f"expected two limits such as 12 to 30 {kind.unit.replace('percent', '%')}"
        found = (
            re.fullmatch(r"\s*(-?[\d.]+)\s*(\D*?)\s+to\s+(-?[\d.]+)\s*(\D+)", value) if isinstance(value, str) else None
        )
        if found is None or len(str(value)) > quantity.MAX_TEXT:
            fail(f"'{str(value)[:40]}' is not a span", expected)
        try:
            low = quantity.read(f"{found.group(1)} {found.group(2) or found.group(4)}", kind)
            high = quantity.read(f"{found.group(3)} {found.group(4)}", kind)
        except QuantityError as error:
            fail(error.wrong, error.expected)
        if low > high:
            fail(f"the limits of '{value}' are not in order", expected)
        return Span(low, high)

    return validate


@dataclass(frozen=True, slots=True)
class Calendar:
    """A date, and the time of day where one was given."""

    day: date
    clock: time | None = None

    @classmethod
    def parse(cls, value: object) -> Calendar:
        """Return the date that a person wrote: 2027-03-12, or 2027-03-12 15:00.

        Raises
        ------
        ValueError
            It is not of that form, or there is no such day or time.
        """
        text = str(value).strip()
        found = _CALENDAR.fullmatch(text)
        try:
            if found is None:
                raise ValueError
            day = date.fromisoformat(found["day"])
            clock = time(int(found["hour"]), int(found["minute"])) if found["hour"] else None
        except ValueError:
            msg = f"'{text[:40]}' is not a date"
            raise ValueError(msg) from None
        if not FIRST_YEAR <= day.year <= LAST_YEAR:
            msg = f"'{text[:40]}' is not a date from {FIRST_YEAR} to {LAST_YEAR}"
            raise ValueError(msg)
        return cls(day, clock)

    def __str__(self) -> str:
        return self.day.isoformat() + (f" {self.clock:%H:%M}" if self.clock else "")


def _calendar(value: object) -> Calendar:
    if isinstance(value, Calendar):
        return value
    try:
        return Calendar.parse(value)
    except ValueError as error:
        fail(str(error), "expected 2027-03-12, or 2027-03-12 15:00")


def _one(kind: Kind) -> Form:
    return Form(f"{kind.name}: {kind.example}")


def _three(kind: Kind, example: str) -> Form:
    return Form(f"{kind.name} or three, low/typical/high: {example}")


LengthMm = Annotated[float, PlainValidator(_length), _one(quantity.LENGTH)]
LengthOrZeroMm = Annotated[float, PlainValidator(_length_or_zero), _one(quantity.LENGTH)]
"""Where nothing is as good as leaving the field out: a corner radius, say."""
AreaM2 = Annotated[float, PlainValidator(_quantity(quantity.AREA, above=0.0, high=1e4)), _one(quantity.AREA)]
VolumeMl = Annotated[float, PlainValidator(_quantity(quantity.VOLUME, above=0.0, high=1e12)), _one(quantity.VOLUME)]
MassG = Annotated[float, PlainValidator(_quantity(quantity.MASS, above=0.0, high=1e7)), _one(quantity.MASS)]
TemperatureC = Annotated[
    float, PlainValidator(_quantity(quantity.TEMPERATURE, -60.0, 100.0)), _one(quantity.TEMPERATURE)
]
DurationH = Annotated[float, PlainValidator(_quantity(quantity.DURATION, 0.0, 24.0 * 3650)), _one(quantity.DURATION)]
Percentage = Annotated[float, PlainValidator(_quantity(quantity.PERCENTAGE, 0.0, 100.0)), _one(quantity.PERCENTAGE)]
FlowM3H = Annotated[float, PlainValidator(_quantity(quantity.FLOW, 0.0, 1e6)), _one(quantity.FLOW)]
ConcentrationGL = Annotated[
    float, PlainValidator(_quantity(quantity.CONCENTRATION, 0.0, 2e4)), _one(quantity.CONCENTRATION)
]
ShareOfAirPpm = Annotated[
    float, PlainValidator(_quantity(quantity.SHARE_OF_AIR, above=0.0, high=1e6)), _one(quantity.SHARE_OF_AIR)
]
MassInAirMgM3 = Annotated[
    float, PlainValidator(_quantity(quantity.MASS_IN_AIR, above=0.0, high=1e6)), _one(quantity.MASS_IN_AIR)
]
Count = Annotated[int, PlainValidator(_count), Form(f"a whole number from 1 to {MAX_COUNT}")]
Title = Annotated[str, PlainValidator(_text(200)), Form("a few words")]
Sentence = Annotated[str, PlainValidator(_text(600)), Form("a sentence or two")]
Name = Annotated[str, PlainValidator(_text(60)), Form("a name")]
Day = Annotated[Calendar, PlainValidator(_calendar), Form("a day: 2027-03-12, or 2027-03-12 15:00")]

SpreadRateRange = Annotated[
    Range, PlainValidator(_range(quantity.SPREAD_RATE, low=0.1)), _three(quantity.SPREAD_RATE, "15/22/30 m2/l")
]
DurationHRange = Annotated[Range, PlainValidator(_range(quantity.DURATION)), _three(quantity.DURATION, "6/9/12 h")]
PercentageRange = Annotated[
    Range, PlainValidator(_range(quantity.PERCENTAGE, high=100.0)), _three(quantity.PERCENTAGE, "45/58/75 %")
]
LossRange = Annotated[
    Range, PlainValidator(_range(quantity.PERCENTAGE, high=95.0)), _three(quantity.PERCENTAGE, "3/5/10 %")
]
TransferRange = Annotated[
    Range, PlainValidator(_range(quantity.PERCENTAGE, low=1.0, high=100.0)), _three(quantity.PERCENTAGE, "50/65/75 %")
]
ConcentrationRange = Annotated[
    Range, PlainValidator(_range(quantity.CONCENTRATION)), _three(quantity.CONCENTRATION, "350/430/450 g/l")
]
RatioRange = Annotated[
    Range, PlainValidator(_range(quantity.RATIO, low=0.01, high=100.0)), _three(quantity.RATIO, "0.4/0.5/0.7")
]
CountRange = Annotated[Range, PlainValidator(_range(quantity.RATIO)), _three(quantity.RATIO, "1/2/3")]
SpeedRange = Annotated[Range, PlainValidator(_range(quantity.SPEED, low=0.01)), _three(quantity.SPEED, "6/10/16 m2/h")]
MassPerTimeRange = Annotated[
    Range, PlainValidator(_range(quantity.MASS_PER_TIME, low=0.01)), _three(quantity.MASS_PER_TIME, "2.2/3.4/4.5 g/min")
]
PerAreaRange = Annotated[
    Range, PlainValidator(_range(quantity.PER_AREA)), _three(quantity.PER_AREA, "0.6/1/1.5 per m2")
]
VolumeMlRange = Annotated[Range, PlainValidator(_range(quantity.VOLUME)), _three(quantity.VOLUME, "10/20/30 ml")]
MolarMassRange = Annotated[
    Range, PlainValidator(_range(quantity.MOLAR_MASS, low=1.0)), _three(quantity.MOLAR_MASS, "130/140/150 g/mol")
]
PressureRange = Annotated[Range, PlainValidator(_range(quantity.PRESSURE)), _three(quantity.PRESSURE, "2.8/2.9/3 kPa")]
TemperatureSpan = Annotated[Span, PlainValidator(_span(quantity.TEMPERATURE)), Form("two temperatures: 12 to 30 degC")]
PercentageSpan = Annotated[Span, PlainValidator(_span(quantity.PERCENTAGE)), Form("two percentages: 30 to 75 %")]
MillimetreRange = Annotated[
    Range, PlainValidator(_range(quantity.LENGTH)), _three(quantity.LENGTH, "0.03/0.05/0.08 mm")
]

"""The types of fields: text with a unit in the file, a plain float in one unit in the model."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Annotated, Any, NoReturn

from pydantic import PlainValidator, ValidationInfo
from pydantic_core import PydanticCustomError

from finplan import quantity
from finplan.problems import Where
from finplan.quantity import Kind, QuantityError, Range

MIN_LENGTH_MM = 1e-3
MAX_LENGTH_MM = 1e5
"""No piece of furniture has a part longer than a hundred metres; beyond it a unit is wrong."""

MAX_COUNT = 1000


def fail(wrong: str, expected: str, path: Where = (), *, at_key: bool = False) -> NoReturn:
    """Raise an error for a pydantic validator: *wrong* and *expected* in our words, *path* further down from here."""
    context: dict[str, Any] = {"wrong": wrong, "expected": expected, "path": path, "at_key": at_key}
    raise PydanticCustomError("finplan", "{wrong}", context)


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


def _range(kind: Kind, *, low: float = 0.0) -> Callable[[object], Range]:
    def validate(value: object) -> Range:
        if isinstance(value, Range):
            return value
        try:
            found = quantity.read_range(value, kind)
        except QuantityError as error:
            fail(error.wrong, error.expected)
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
        if any(unicodedata.category(character) in ("Cc", "Cs", "Co", "Cn") for character in text):
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


class Calendar:
    """A date, and the time of day where one was given."""

    __slots__ = ("day", "time")

    def __init__(self, day: date, time_of_day: time | None) -> None:
        self.day = day
        self.time = time_of_day

    @classmethod
    def parse(cls, value: object) -> Calendar:
        """Return the date that a person wrote: 2027-03-12, or 2027-03-12 15:00.

        Raises
        ------
        ValueError
            It is not of that form, or there is no such day.
        """
        text = str(value).strip()
        if not re.fullmatch(r"\d{4}-\d{2}-\d{2}([T ]+\d{1,2}:\d{2})?", text):
            msg = f"'{text[:40]}' is not a date"
            raise ValueError(msg)
        day = date.fromisoformat(text[:10])
        rest = text[10:].strip("T ")
        return cls(day, datetime.strptime(rest, "%H:%M").time() if rest else None)

    def __repr__(self) -> str:
        return f"Calendar({self})"

    def __str__(self) -> str:
        return self.day.isoformat() + (f" {self.time:%H:%M}" if self.time else "")

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Calendar) and (self.day, self.time) == (other.day, other.time)

    def __hash__(self) -> int:
        return hash((self.day, self.time))


def _calendar(value: object) -> Calendar:
    if isinstance(value, Calendar):
        return value
    try:
        return Calendar.parse(value)
    except ValueError:
        fail(f"'{str(value)[:40]}' is not a date", "expected 2027-03-12, or 2027-03-12 15:00")


LengthMm = Annotated[float, PlainValidator(_length)]
AreaM2 = Annotated[float, PlainValidator(_quantity(quantity.AREA, above=0.0, high=1e4))]
VolumeMl = Annotated[float, PlainValidator(_quantity(quantity.VOLUME, above=0.0, high=1e12))]
MassG = Annotated[float, PlainValidator(_quantity(quantity.MASS, above=0.0, high=1e7))]
TemperatureC = Annotated[float, PlainValidator(_quantity(quantity.TEMPERATURE, -60.0, 100.0))]
DurationH = Annotated[float, PlainValidator(_quantity(quantity.DURATION, 0.0, 24.0 * 3650))]
Percentage = Annotated[float, PlainValidator(_quantity(quantity.PERCENTAGE, 0.0, 100.0))]
FlowM3H = Annotated[float, PlainValidator(_quantity(quantity.FLOW, 0.0, 1e6))]
ConcentrationGL = Annotated[float, PlainValidator(_quantity(quantity.CONCENTRATION, 0.0, 2e4))]
Count = Annotated[int, PlainValidator(_count)]
Title = Annotated[str, PlainValidator(_text(200))]
Sentence = Annotated[str, PlainValidator(_text(600))]
Name = Annotated[str, PlainValidator(_text(60))]
Day = Annotated[Calendar, PlainValidator(_calendar)]

SpreadRateRange = Annotated[Range, PlainValidator(_range(quantity.SPREAD_RATE, low=0.1))]
DurationHRange = Annotated[Range, PlainValidator(_range(quantity.DURATION))]
PercentageRange = Annotated[Range, PlainValidator(_range(quantity.PERCENTAGE))]
ConcentrationRange = Annotated[Range, PlainValidator(_range(quantity.CONCENTRATION))]
RatioRange = Annotated[Range, PlainValidator(_range(quantity.RATIO))]
CountRange = RatioRange
SpeedRange = Annotated[Range, PlainValidator(_range(quantity.SPEED))]
PerAreaRange = Annotated[Range, PlainValidator(_range(quantity.PER_AREA))]
VolumeMlRange = Annotated[Range, PlainValidator(_range(quantity.VOLUME))]
TemperatureSpan = Annotated[Span, PlainValidator(_span(quantity.TEMPERATURE))]
PercentageSpan = Annotated[Span, PlainValidator(_span(quantity.PERCENTAGE))]
MillimetreRange = Annotated[Range, PlainValidator(_range(quantity.LENGTH))]

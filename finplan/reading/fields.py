"""The types of fields: text with a unit in the file, a plain float in one unit in the model."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Any

from pydantic import ValidationInfo

from finplan import quantity
from finplan.problems import shown
from finplan.quantity import Kind, QuantityError, Range
from finplan.reading.failing import fail
from finplan.reading.given_date import DATE_FORM, GivenDate
from finplan.reading.reads import Reads
from finplan.reading.text import MAX_NAME, given_name, text_up_to

MIN_LENGTH_MM = 1e-3
MAX_LENGTH_MM = 1e5
"""No piece of furniture has a part longer than a hundred metres; beyond it a unit is wrong."""

MAX_COUNT = 1000


@dataclass(frozen=True, slots=True)
class Form:
    """How a field is written, beside the type that reads it."""

    words: str
    """What it is, and behind a colon an example as it stands in a file."""
    schema: Mapping[str, Any] | None = field(default=None, hash=False, compare=False)
    """The same as JSON Schema; where it is None, it is text, or a quantity."""
    kind: Kind | None = None
    """Of a quantity, which."""


def whole_number(low: int, high: int, what: str = "a whole number") -> Form:
    """Return the form of a whole number within bounds.

    >>> whole_number(0, 20).words
    'a whole number from 0 to 20'
    """
    return Form(f"{what} from {low} to {high}", {"type": "integer", "minimum": low, "maximum": high})


_NEXT_TO_NOTHING = 1e-3
"""Of a bound below this nobody wants to know how small it is."""


@dataclass(frozen=True, slots=True)
class Within:
    """Reads a quantity, which has to lie within bounds, in the unit of its kind."""

    kind: Kind
    low: float
    high: float

    def __call__(self, value: object, info: ValidationInfo) -> float:
        """Return what *value* says."""
        bare = (info.context or {}).get("lengths") if self.kind is quantity.LENGTH else None
        try:
            number = quantity.read_quantity(value, self.kind, bare_unit=bare)
        except QuantityError as error:
            fail(error.wrong, error.expected)
        self.check(number, number, value)
        return number

    def check(self, lowest: float, highest: float, value: object) -> None:
        """Fail where what *value* says is out of bounds."""
        unit = _shown_unit(self.kind)
        if lowest < self.low:
            above = f"{self.kind.name} above 0" if 0 < self.low < _NEXT_TO_NOTHING else f"at least {self.low:g}"
            fail(f"{shown(value)} is too small", f"expected {above}{unit}")
        if highest > self.high:
            fail(f"{shown(value)} is too large", f"expected at most {self.high:g}{unit}")


@dataclass(frozen=True, slots=True)
class RangeWithin:
    """Reads a range, all of which has to lie within bounds, in the unit of its kind."""

    kind: Kind
    low: float
    high: float

    def __call__(self, value: object) -> Range:
        """Return what *value* says."""
        if isinstance(value, Range):
            return value
        try:
            range_ = quantity.read_range(value, self.kind)
        except QuantityError as error:
            fail(error.wrong, error.expected)
        Within(self.kind, self.low, self.high).check(range_.low, range_.high, value)
        return range_


def _shown_unit(kind: Kind) -> str:
    unit = kind.unit.replace("**", "").replace("percent", "%")
    return "" if kind is quantity.RATIO else f" {unit}"


def length_mm(value: object, bare_unit: str | None) -> float:
    """Return a length that a part of furniture can have. The one door for all of them. [mm]

    Raises
    ------
    PydanticCustomError
        By way of ``fail``: it is none, or not between a thousandth of a millimetre and a hundred metres.
    """
    try:
        number = quantity.read_quantity(value, quantity.LENGTH, bare_unit=bare_unit)
    except QuantityError as error:
        fail(error.wrong, error.expected)
    if number <= 0:
        fail(f"{shown(value)} is {'zero' if number == 0 else 'negative'}", "expected a length above zero")
    if number < MIN_LENGTH_MM:
        fail(f"{shown(value)} is too small", f"expected at least {MIN_LENGTH_MM:g} mm")
    if number > MAX_LENGTH_MM:
        fail(f"{shown(value)} is too large", f"expected at most {MAX_LENGTH_MM / 1000:g} m")
    return number


def _length(value: object, info: ValidationInfo) -> float:
    return length_mm(value, (info.context or {}).get("lengths"))


def _length_or_zero(value: object, info: ValidationInfo) -> float:
    number = Within(quantity.LENGTH, -math.inf, math.inf)(value, info)
    return number if number == 0 else _length(value, info)


def _count(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        fail(
            f"{shown(value)} is not a whole number" if value is not None else "nothing is given", "expected 1, 2, 3, …"
        )
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


_LIMIT = re.compile(r"\s*+(-?[\d.]++)\s*+([^\d\s][^\d]*+)?")


@dataclass(frozen=True, slots=True)
class SpanWithin:
    """Reads two limits, both of which have to lie within bounds, in the unit of their kind."""

    kind: Kind
    low: float
    high: float

    def __call__(self, value: object) -> Span:
        """Return what *value* says."""
        if isinstance(value, Span):
            return value
        expected = f"expected two limits such as 12 to 30{_shown_unit(self.kind)}"
        parts = value.split(" to ") if isinstance(value, str) and len(value) <= quantity.MAX_TEXT else []
        limits = [_LIMIT.fullmatch(part) for part in parts]
        first, last = limits if len(limits) == 2 else (None, None)
        if first is None or last is None or not last.group(2):
            fail(f"{shown(value)} is not a span", expected)
        try:
            low = quantity.read_quantity(f"{first.group(1)} {first.group(2) or last.group(2)}", self.kind)
            high = quantity.read_quantity(f"{last.group(1)} {last.group(2)}", self.kind)
        except QuantityError as error:
            fail(error.wrong, error.expected)
        if low > high:
            fail(f"the limits of {shown(value)} are not in order", expected)
        Within(self.kind, self.low, self.high).check(low, high, value)
        return Span(low, high)


def _calendar(value: object) -> GivenDate:
    if isinstance(value, GivenDate):
        return value
    try:
        return GivenDate.parse(value)
    except ValueError as error:
        fail(str(error), f"expected {DATE_FORM}")


def _one(kind: Kind) -> Form:
    return Form(f"{kind.name}: {kind.example}", kind=kind)


def _three(kind: Kind, example: str) -> Form:
    return Form(f"{kind.name} or three, low/typical/high: {example}")


LengthMm = Annotated[float, Reads(_length, in_context=True), _one(quantity.LENGTH)]
OR_ZERO = {"anyOf": [{"const": 0}, {"$ref": "#/$defs/length"}]}
"""A length, or nothing, as JSON Schema."""
LengthOrZeroMm = Annotated[float, Reads(_length_or_zero, in_context=True), Form("a length, or 0: 6 mm", OR_ZERO)]
"""Where nothing is as good as leaving the field out: a corner radius, say."""
_YEARS_H = 24.0 * 3650
"""Ten years: nothing in a shop dries, keeps or waits for longer."""

AreaM2 = Annotated[float, Reads(Within(quantity.AREA, 1e-12, 1e4), in_context=True), _one(quantity.AREA)]
VolumeMl = Annotated[float, Reads(Within(quantity.VOLUME, 1.0, 1e12), in_context=True), _one(quantity.VOLUME)]
MassG = Annotated[float, Reads(Within(quantity.MASS, 1e-3, 1e7), in_context=True), _one(quantity.MASS)]
TemperatureC = Annotated[
    float, Reads(Within(quantity.TEMPERATURE, -60.0, 100.0), in_context=True), _one(quantity.TEMPERATURE)
]
DurationH = Annotated[float, Reads(Within(quantity.DURATION, 0.0, _YEARS_H), in_context=True), _one(quantity.DURATION)]
Percentage = Annotated[
    float, Reads(Within(quantity.PERCENTAGE, 0.0, 100.0), in_context=True), _one(quantity.PERCENTAGE)
]
LikelyPct = Annotated[float, Reads(Within(quantity.PERCENTAGE, 50.0, 99.0), in_context=True), _one(quantity.PERCENTAGE)]
"""How likely something has to be: less is a hope, and more is told by no number of cases that can be lived through."""
FlowM3H = Annotated[float, Reads(Within(quantity.FLOW, 0.0, 1e6), in_context=True), _one(quantity.FLOW)]
VelocityMS = Annotated[float, Reads(Within(quantity.VELOCITY, 0.0, 50.0), in_context=True), _one(quantity.VELOCITY)]
ConcentrationGL = Annotated[
    float, Reads(Within(quantity.CONCENTRATION, 0.0, 2e4), in_context=True), _one(quantity.CONCENTRATION)
]
ShareOfAirPpm = Annotated[
    float, Reads(Within(quantity.SHARE_OF_AIR, 1e-4, 1e6), in_context=True), _one(quantity.SHARE_OF_AIR)
]
MassInAirMgM3 = Annotated[
    float, Reads(Within(quantity.MASS_IN_AIR, 1e-4, 1e6), in_context=True), _one(quantity.MASS_IN_AIR)
]
Count = Annotated[int, Reads(_count), whole_number(1, MAX_COUNT)]
Title = Annotated[str, Reads(text_up_to(200)), Form("a few words")]
Sentence = Annotated[str, Reads(text_up_to(600)), Form("a sentence or two")]
Name = Annotated[str, Reads(text_up_to(MAX_NAME)), Form("a name")]
GivenName = Annotated[str, Reads(given_name), Form("a name")]
"""Of a field that is named by whoever writes the file."""
Day = Annotated[GivenDate, Reads(_calendar), Form(f"a day: {DATE_FORM}")]

SpreadRateRange = Annotated[
    Range, Reads(RangeWithin(quantity.SPREAD_RATE, 0.1, 1e3)), _three(quantity.SPREAD_RATE, "15/22/30 m2/l")
]
DurationHRange = Annotated[
    Range, Reads(RangeWithin(quantity.DURATION, 0.0, _YEARS_H)), _three(quantity.DURATION, "6/9/12 h")
]
PercentageRange = Annotated[
    Range, Reads(RangeWithin(quantity.PERCENTAGE, 0.0, 100.0)), _three(quantity.PERCENTAGE, "45/58/75 %")
]
FlammableRange = Annotated[
    Range, Reads(RangeWithin(quantity.PERCENTAGE, 0.05, 100.0)), _three(quantity.PERCENTAGE, "0.7/0.9/1.1 %")
]
"""The least share of vapour in air that burns: never nothing, or the air of no room would do."""
LossRange = Annotated[
    Range, Reads(RangeWithin(quantity.PERCENTAGE, 0.0, 95.0)), _three(quantity.PERCENTAGE, "3/5/10 %")
]
TransferRange = Annotated[
    Range, Reads(RangeWithin(quantity.PERCENTAGE, 1.0, 100.0)), _three(quantity.PERCENTAGE, "50/65/75 %")
]
ConcentrationRange = Annotated[
    Range,
    Reads(RangeWithin(quantity.CONCENTRATION, 0.0, 2e3)),
    _three(quantity.CONCENTRATION, "350/430/450 g/l"),
]
RatioRange = Annotated[Range, Reads(RangeWithin(quantity.RATIO, 0.01, 100.0)), _three(quantity.RATIO, "0.4/0.5/0.7")]
CountRange = Annotated[Range, Reads(RangeWithin(quantity.RATIO, 0.0, 1e4)), _three(quantity.RATIO, "1/2/3")]
SpeedRange = Annotated[Range, Reads(RangeWithin(quantity.SPEED, 0.01, 1e4)), _three(quantity.SPEED, "6/10/16 m2/h")]
MassPerTimeRange = Annotated[
    Range,
    Reads(RangeWithin(quantity.MASS_PER_TIME, 0.01, 1e4)),
    _three(quantity.MASS_PER_TIME, "2.2/3.4/4.5 g/min"),
]
PerAreaRange = Annotated[
    Range, Reads(RangeWithin(quantity.PER_AREA, 0.0, 1e4)), _three(quantity.PER_AREA, "0.6/1/1.5 per m2")
]
VolumeMlRange = Annotated[Range, Reads(RangeWithin(quantity.VOLUME, 0.0, 1e6)), _three(quantity.VOLUME, "10/20/30 ml")]
MolarMassRange = Annotated[
    Range, Reads(RangeWithin(quantity.MOLAR_MASS, 1.0, 1e4)), _three(quantity.MOLAR_MASS, "130/140/150 g/mol")
]
PressureRange = Annotated[
    Range, Reads(RangeWithin(quantity.PRESSURE, 1e-6, 1e3)), _three(quantity.PRESSURE, "2.8/2.9/3 kPa")
]
TemperatureSpan = Annotated[
    Span, Reads(SpanWithin(quantity.TEMPERATURE, -60.0, 100.0)), Form("two temperatures: 12 to 30 degC")
]
PercentageSpan = Annotated[
    Span, Reads(SpanWithin(quantity.PERCENTAGE, 0.0, 100.0)), Form("two percentages: 30 to 75 %")
]
MillimetreRange = Annotated[
    Range, Reads(RangeWithin(quantity.LENGTH, 0.0, 1e3)), _three(quantity.LENGTH, "0.03/0.05/0.08 mm")
]

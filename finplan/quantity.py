"""Reading quantities: the only module that knows pint.

What people write every day is looked up in ``unit-scales.json``, which pint made (``tests/unit_scales.py``), so that a
file in common units is read without loading it.

Text comes in with whatever unit the maker wrote, exact fractions carry it to one unit a kind, and a plain float with
the unit in its name goes on.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from finplan.problems import nearest, shown

if TYPE_CHECKING:
    import pint

Units = Literal["metric", "us"]


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of quantity and the one unit in which it is held inside."""

    name: str
    unit: str
    example: str


LENGTH = Kind("a length", "mm", "28 mm or 1-1/8 in")
AREA = Kind("an area", "m**2", "0.8 m2 or 12 ft2")
VOLUME = Kind("a volume", "ml", "250 ml or 1 US quart")
MASS = Kind("a mass", "g", "500 g or 2 lb")
TEMPERATURE = Kind("a temperature", "degC", "18 degC or 65 degF")
DURATION = Kind("a duration", "h", "45 min, 16 h or 7 d")
PERCENTAGE = Kind("a percentage", "percent", "55 %")
FLOW = Kind("a flow", "m**3/h", "300 m3/h")
SPREAD_RATE = Kind("a spread rate", "m**2/l", "12 m2/l or 500 ft2/gal")
CONCENTRATION = Kind("a concentration", "g/l", "450 g/l")
VELOCITY = Kind("a velocity", "m/s", "0.5 m/s or 100 ft/min")
SPEED = Kind("an area per time", "m**2/h", "8 m2/h")
MASS_PER_TIME = Kind("a mass per time", "g/min", "3 g/min")
PER_AREA = Kind("a number per area", "1/m**2", "0.5 per m2")
MOLAR_MASS = Kind("a molar mass", "g/mol", "92.1 g/mol")
PRESSURE = Kind("a pressure", "kPa", "2.9 kPa or 22 mmHg")
SHARE_OF_AIR = Kind("a share of the air", "ppm", "100 ppm")
MASS_IN_AIR = Kind("a mass in the air", "mg/m**3", "350 mg/m3")
RATIO = Kind("a plain number", "one", "1.5")
_PLAIN = (LENGTH, AREA, VOLUME, MASS, TEMPERATURE, DURATION)
"""Kinds of which no two share a unit."""


class QuantityError(ValueError):
    """Text that is not the quantity wanted: what is wrong, and what is expected."""

    def __init__(self, wrong: str, expected: str) -> None:
        self.wrong = wrong
        self.expected = expected
        super().__init__(f"{wrong}; {expected}")


@dataclass(frozen=True, slots=True)
class Range:
    """A value with its spread; the unit stands in the name of the field that holds it."""

    low: float
    """The low end: the 5th percentile of what is reckoned."""
    typical: float
    """The middle: the 50th."""
    high: float
    """The high end: the 95th."""

    def scaled(self, factor: float) -> Range:
        """Return the range with every value multiplied by *factor*."""
        return Range(self.low * factor, self.typical * factor, self.high * factor)

    def plus(self, other: Range) -> Range:
        """Return the sum of two ranges whose values rise and fall together."""
        return Range(self.low + other.low, self.typical + other.typical, self.high + other.high)

    def greater(self, other: Range) -> Range:
        """Return of each value the greater one: how long it takes where the slower of two things says it.

        >>> Range(1.0, 2.0, 5.0).greater(Range(2.0, 3.0, 4.0))
        Range(low=2.0, typical=3.0, high=5.0)
        """
        return Range(max(self.low, other.low), max(self.typical, other.typical), max(self.high, other.high))

    @staticmethod
    def total(ranges: Iterable[Range]) -> Range:
        """Return the sum of ranges whose values rise and fall together."""
        low = typical = high = 0.0
        for range_ in ranges:
            low, typical, high = low + range_.low, typical + range_.typical, high + range_.high
        return Range(low, typical, high)

    @staticmethod
    def time_for(amount: float, speed: Range) -> Range:
        """Return how long *amount* takes at a speed: least at the highest.

        >>> Range.time_for(2.0, Range(2.0, 4.0, 8.0))
        Range(low=0.25, typical=0.5, high=1.0)
        """
        return Range(amount / speed.high, amount / speed.typical, amount / speed.low)


_FOOT_MM = Fraction(3048, 10)

MAX_TEXT = 80
"""No quantity that a person writes is longer; a longer one is not looked into."""

_VULGAR = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8",
    "⅞": "7/8",
}  # fmt: skip
_VULGAR_SIGN = re.compile(rf"(?<!\s)\s*+([{''.join(_VULGAR)}])")
_DECIMAL = r"(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3}(?![\d.]))?"
_NUMBER = rf"(?:\d+[ -]+\d+/\d+|\d+\s*/\s*\d+|{_DECIMAL})"
_WORDS = r"°?[^\W\d]+\.?(?:[ ]+[^\W\d]+\.?)*(?:[23](?![\d.]))?"
_UNIT_TEXT = rf"(?:/\s*{_WORDS}|{_WORDS}(?:\s*/\s*{_WORDS})?|%|''|['’′\"”″])"
_TERM = re.compile(rf"(?P<number>{_NUMBER})\s*(?P<unit>{_UNIT_TEXT})?\s*")
_POWER = re.compile(r"(?<=[^\W\d])[²³]")
"""Of a unit; behind a number it is a slip, and no digit."""
_UNIT = re.compile(r"°?[^\W\d]+[23]?(?:/[^\W\d]+[23]?)?")


@cache
def _registry() -> pint.UnitRegistry[Fraction]:
    import pint

    return pint.UnitRegistry(str(Path(__file__).with_name("units.txt")), non_int_type=Fraction)


@cache
def _known_units(kind: Kind) -> tuple[str, ...]:
    """Return the names of the units of *kind* that are one word."""
    registry = _registry()
    wanted = registry.Unit(kind.unit).dimensionality
    words = [name for name in registry._units if name.isidentifier() and not name.startswith(("delta", "Δ"))]
    return tuple(name for name in words if registry.Unit(name).dimensionality == wanted)


def _unit_expression(text: str) -> str | None:
    """Return *text* as an expression for pint, or None where it is not the form of a unit at all."""
    plain = " ".join(text.replace(".", "").split())
    plain = plain.replace("°", "deg")
    plain = {'"': "inch", "″": "inch", "”": "inch", "''": "inch", "'": "foot", "′": "foot", "’": "foot"}.get(
        plain, plain
    )
    plain = _slash(plain)
    plain = re.sub(r"^(per\s+|/)", "1/", plain).replace(" per ", "/").replace(" ", "_")
    if plain.startswith("1/"):
        return f"1/{_powers(plain[2:])}" if _UNIT.fullmatch(plain[2:]) else None
    if plain == "%":
        return "percent"
    return _powers(plain) if _UNIT.fullmatch(plain) else None


def _powers(unit: str) -> str:
    return re.sub(r"([23])(?=/|$)", r"**\1", unit)


@cache
def _unit(text: str, kind: Kind) -> pint.Unit:
    """Return the unit that *text* names, or raise QuantityError if it is unknown or of another kind."""
    import pint

    registry = _registry()
    expression = _unit_expression(text)
    for candidate in (expression, expression.lower() if expression else None):
        if candidate is None:
            continue
        try:
            unit = registry.Unit(candidate)
        except (pint.PintError, ValueError, TypeError, KeyError):
            continue
        if unit.dimensionality != registry.Unit(kind.unit).dimensionality:
            raise _of_another_kind(text, kind)
        return unit
    near = nearest(text, _known_units(kind), cutoff=0.7)
    hint = f"did you mean '{near.replace('_', ' ')}'?" if near else f"expected {kind.name} such as {kind.example}"
    msg = f"unit {shown(text)} is unknown"
    raise QuantityError(msg, hint)


def _of_another_kind(unit: str, kind: Kind) -> QuantityError:
    wrong = f"'{unit}' is not a unit of {kind.name.removeprefix('a ').removeprefix('an ')}"
    return QuantityError(wrong, f"expected {kind.name} such as {kind.example}")


def _slash(text: str) -> str:
    """Return a text without space around its strokes."""
    return "/".join(part.strip() for part in text.split("/"))


def _number(text: str) -> Fraction:
    """Return a decimal, a fraction or a whole number with a fraction, exactly."""
    total = Fraction(0)
    for part in re.split(r"[ -]++(?=\d++/)", _slash(text.strip())):
        total += Fraction(part)
    return total


def _not_a(kind: Kind, quoted: str, *, bare_unit: str | None = None) -> QuantityError:
    also = f", or a bare number of {bare_unit}" if bare_unit else ""
    return QuantityError(f"{quoted} is not {kind.name}", f"expected {kind.name} such as {kind.example}{also}")


@cache
def _known_scales() -> dict[str, dict[str, list[str]]]:
    """Return the scales of common units, as pint has them: by the unit of the kind, then by what is written."""
    scales: dict[str, dict[str, list[str]]] = json.loads(
        Path(__file__).with_name("unit-scales.json").read_text(encoding="utf-8")
    )
    return scales


@cache
def _scale(unit: str, kind: Kind) -> tuple[Fraction, Fraction]:
    """Return what a number of *unit* is multiplied by, and what is then added, to be in the unit of its kind.

    Raises
    ------
    QuantityError
        The unit is unknown or of another kind.
    """
    scales = _known_scales()
    known = scales[kind.unit].get(f" {unit}".replace(" per ", "/").strip())
    if known:
        return Fraction(known[0]), Fraction(known[1])
    if kind in _PLAIN and any(unit in scales[other.unit] for other in _PLAIN):
        raise _of_another_kind(unit, kind)
    return _reckoned_scale(unit, kind)


def _reckoned_scale(unit: str, kind: Kind) -> tuple[Fraction, Fraction]:
    """Return the same as pint reckons it from ``units.txt``."""
    pint_unit, registry = _unit(unit, kind), _registry()
    zero, one = (Fraction(registry.Quantity(Fraction(n), pint_unit).to(kind.unit).magnitude) for n in (0, 1))
    return one - zero, zero


def _convert(number: Fraction, unit: str, kind: Kind) -> Fraction:
    factor, offset = _scale(unit, kind)
    return number * factor + offset


def _one_term(number: str, unit_text: str | None, kind: Kind, bare_unit: str | None) -> Fraction:
    if unit_text:
        return _convert(_number(number), unit_text.strip(), kind)
    if kind is RATIO:
        return _number(number)
    if bare_unit is None:
        raise QuantityError(f"'{number.strip()}' has no unit", f"expected {kind.name} such as {kind.example}")
    return _convert(_number(number), bare_unit, kind)


def read(value: object, kind: Kind, *, bare_unit: str | None = None) -> float:
    r"""Return the quantity that a person wrote, in the unit of its kind.

    Parameters
    ----------
    value
        Text with a unit, or a number
    kind
        The kind of quantity wanted, for example LENGTH
    bare_unit
        The unit of a number that stands alone; None makes such a number an error

    Raises
    ------
    QuantityError
        It is no quantity, of another kind, has no unit, or is not finite.

    Examples
    --------
    >>> read("5'-2 1/2\"", LENGTH)
    1587.5
    >>> read("1-1/2 in", LENGTH), read("62 in", LENGTH), read("1.1 m", LENGTH)
    (38.1, 1574.8, 1100.0)
    >>> read(28, LENGTH, bare_unit="mm")
    28.0
    >>> read("65 degF", TEMPERATURE)
    18.333
    """
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        raise _not_a(kind, shown(value), bare_unit=bare_unit)
    if isinstance(value, (int, float)):
        if not abs(value) <= 1e15:  # nan too
            raise QuantityError(f"{shown(value)} is not a finite size", f"expected {kind.name} such as {kind.example}")
        return _finite(_one_term(repr(value), None, kind, bare_unit), kind)
    return _finite(_read_text(value, kind, bare_unit), kind)


def _finite(value: Fraction, kind: Kind) -> float:
    try:
        return float(value)
    except OverflowError:
        msg = "the number is too large"
        raise QuantityError(msg, f"expected {kind.name} such as {kind.example}") from None


@lru_cache(maxsize=2**12)  # a catalogue says the same again and again
def _read_text(text: str, kind: Kind, bare_unit: str | None) -> Fraction:
    if len(text) > MAX_TEXT:
        raise _not_a(kind, shown(text), bare_unit=bare_unit)
    rest = _POWER.sub(lambda found: "23"["²³".index(found[0])], text.strip().replace("−", "-").replace("⁄", "/"))
    rest = _VULGAR_SIGN.sub(lambda found: f"{' ' if found.start() else ''}{_VULGAR[found.group(1)]}", rest)
    if re.search(r"\d,\d", rest):
        raise QuantityError(f"'{text}' has a comma in the number", "write 1.5, not 1,5, and 1100, not 1,100")
    negative = rest.startswith("-")
    rest = rest.removeprefix("-").removeprefix("+").lstrip()
    total = Fraction(0)
    sizes: list[Fraction] = []  # of the units met so far: feet before inches, hours before minutes
    while term := _TERM.match(rest):
        unit_text = term.group("unit")
        if unit_text is None and sizes == [_FOOT_MM] and kind is LENGTH:
            unit_text = "in"  # as it is said: 5 ft 2
        try:
            more = _one_term(term.group("number"), unit_text, kind, None if sizes else bare_unit)
        except ZeroDivisionError:
            break
        if sizes and more >= sizes[-1]:
            msg = f"'{text}' has more of the smaller unit than make one of the larger"
            raise QuantityError(msg, "carry it over: 6 ft 1 in, not 5 ft 13 in")
        total += more
        rest = rest[term.end() :]
        if unit_text is not None and kind is not TEMPERATURE:
            sizes.append(_convert(Fraction(1), unit_text.strip(), kind))
            if len(sizes) > 1 and sizes[-1] >= sizes[-2]:
                break
        if not rest:
            return -total if negative else total
        if not sizes or unit_text is None:
            break
        rest = rest.removeprefix("-").lstrip()
    raise _not_a(kind, shown(text), bare_unit=bare_unit)


def read_range(value: object, kind: Kind) -> Range:
    """Return a range written as low/typical/high with one unit behind, or one value for all three.

    Raises
    ------
    QuantityError
        It is no such range, or the three are not in order.

    Examples
    --------
    >>> read_range("20/24/28 m2/l", SPREAD_RATE)
    Range(low=20.0, typical=24.0, high=28.0)
    >>> read_range("7 d", DURATION)
    Range(low=168.0, typical=168.0, high=168.0)
    """
    text = str(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else value
    if isinstance(text, str) and len(text) <= MAX_TEXT:
        three = re.fullmatch(rf"\s*({_DECIMAL})\s*/\s*({_DECIMAL})\s*/\s*({_DECIMAL})\s*(\D.*)?", text)
        if three:
            unit = three.group(4) or ""
            low, typical, high = (read(f"{three.group(i)} {unit}", kind) for i in (1, 2, 3))
            if not low <= typical <= high:
                raise QuantityError(f"low, typical and high of '{text}' are not in order", "expected low/typical/high")
            return Range(low, typical, high)
    single = read(text, kind)
    return Range(single, single, single)


def known_length_unit(text: object) -> bool:
    """Return whether *text* names a unit of length."""
    if not isinstance(text, str) or len(text) > MAX_TEXT:
        return False
    try:
        _scale(text.strip(), LENGTH)
    except QuantityError:
        return False
    return True

"""Text with whatever unit the maker wrote: exact fractions carry it to the unit of its kind, and a float goes on."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache

from finplan.problems import shown
from finplan.quantity.kinds import LENGTH, RATIO, TEMPERATURE, Kind, QuantityError, not_a
from finplan.quantity.ranges import Range
from finplan.quantity.scales import MAX_TEXT, closed_strokes, scale_of

_FOOT_MM = Fraction(3048, 10)
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


def read_quantity(value: object, kind: Kind, *, bare_unit: str | None = None) -> float:
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
    >>> read_quantity("5'-2 1/2\"", LENGTH)
    1587.5
    >>> read_quantity("1-1/2 in", LENGTH), read_quantity("62 in", LENGTH), read_quantity("1.1 m", LENGTH)
    (38.1, 1574.8, 1100.0)
    >>> read_quantity(28, LENGTH, bare_unit="mm")
    28.0
    >>> read_quantity("65 degF", TEMPERATURE)
    18.333
    """
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        raise not_a(kind, shown(value), bare_unit=bare_unit)
    if isinstance(value, (int, float)):
        if not abs(value) <= 1e15:  # nan too
            raise QuantityError(f"{shown(value)} is not a finite size", f"expected {kind.name} such as {kind.example}")
        return _finite(_one_term(repr(value), None, kind, bare_unit), kind)
    return _finite(_read_text(value, kind, bare_unit), kind)


def read_range(value: object, kind: Kind) -> Range:
    """Return a range written as low/typical/high with one unit behind, or one value for all three.

    Raises
    ------
    QuantityError
        It is no such range, or the three are not in order.

    Examples
    --------
    >>> from finplan.quantity.kinds import DURATION, SPREAD_RATE
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
            low, typical, high = (read_quantity(f"{three.group(i)} {unit}", kind) for i in (1, 2, 3))
            if not low <= typical <= high:
                raise QuantityError(f"low, typical and high of '{text}' are not in order", "expected low/typical/high")
            return Range(low, typical, high)
    single = read_quantity(text, kind)
    return Range(single, single, single)


def _finite(value: Fraction, kind: Kind) -> float:
    try:
        return float(value)
    except OverflowError:
        msg = "the number is too large"
        raise QuantityError(msg, f"expected {kind.name} such as {kind.example}") from None


@lru_cache(maxsize=2**12)  # a catalogue says the same again and again
def _read_text(text: str, kind: Kind, bare_unit: str | None) -> Fraction:
    if len(text) > MAX_TEXT:
        raise not_a(kind, shown(text), bare_unit=bare_unit)
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
    raise not_a(kind, shown(text), bare_unit=bare_unit)


def _one_term(number: str, unit_text: str | None, kind: Kind, bare_unit: str | None) -> Fraction:
    if unit_text:
        return _convert(_number(number), unit_text.strip(), kind)
    if kind is RATIO:
        return _number(number)
    if bare_unit is None:
        raise QuantityError(f"'{number.strip()}' has no unit", f"expected {kind.name} such as {kind.example}")
    return _convert(_number(number), bare_unit, kind)


def _convert(number: Fraction, unit: str, kind: Kind) -> Fraction:
    factor, offset = scale_of(unit, kind)
    return number * factor + offset


def _number(text: str) -> Fraction:
    """Return a decimal, a fraction or a whole number with a fraction, exactly."""
    total = Fraction(0)
    for part in re.split(r"[ -]++(?=\d++/)", closed_strokes(text.strip())):
        total += Fraction(part)
    return total

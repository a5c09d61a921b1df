"""What is typed at the bench: numbers of steps, what was used, the air."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, time, timedelta

from finplan.catalogue import amount
from finplan.planning import date_of, moment_of
from finplan.problems import NotPossibleError, did_you_mean, printable, shown
from finplan.quantity import DURATION, MASS, PERCENTAGE, TEMPERATURE, QuantityError, read_quantity
from finplan.reading import MAX_NAME, wrong_with

_MOST = 500
"""Steps of one range."""
_LONGEST = 300
"""Letters of a note."""
_DEAREST = 1e9
"""No can costs more, in any money."""
_LONG_AGO = timedelta(days=183)
"""Nobody notes work down after so long: in January it is mostly the number of the old year."""


class TypedError(NotPossibleError):
    """What was typed cannot be understood; says what is expected, and of which option of the command line it is.

    ``words`` are without that option, for one who typed them elsewhere; ``of`` is its name, None where it is none's.
    """

    def __init__(self, words: str, of: str | None = None) -> None:
        self.words, self.of = words, of
        super().__init__(words if of is None else f"--{of} {words}")


def steps_of(typed: Iterable[str], numbers: Mapping[str, int]) -> tuple[str, ...]:
    """Return the ids of steps that are typed as ``7``, ``8-10``, ``3,5`` or as ids, each once, by their numbers.

    Parameters
    ----------
    typed
        As a person typed them
    numbers
        The short number of every step, by its id

    Raises
    ------
    TypedError
        A number is none of the plan's, or an id is none.
    """
    by_number = {number: step for step, number in numbers.items()}
    named: dict[str, None] = {}
    for text in (part.strip() for given in typed for part in ([given] if given in numbers else given.split(","))):
        if text in numbers:
            named[text] = None
            continue
        span = re.fullmatch(r"(\d{1,4})(?:\s*[-–]\s*(\d{1,4}))?", text)
        if span is None:
            raise TypedError(
                f"{shown(text)} is no step; expected a number as on the sheet, 8-10, or an id: "
                f"{did_you_mean(text, numbers)}"
            )
        first = int(span[1])
        last = int(span[2] or first)
        if last < first or last - first > _MOST:
            raise TypedError(f"{text} is no range of steps; expected the smaller number first: 8-10")
        lacking = [number for number in range(first, last + 1) if number not in by_number]
        if lacking:
            most = max(by_number, default=0)
            raise TypedError(f"there is no step {lacking[0]}; expected one of 1 to {most}, as they stand on the sheet")
        named.update(dict.fromkeys(by_number[number] for number in range(first, last + 1)))
    return tuple(sorted(named, key=lambda step: numbers[step]))


def words_of(typed: str | None, of: str) -> str | None:
    """Return a name or a note that is kept in the record for good, in one line; None where there are no words.

    Raises
    ------
    TypedError
        They are too long, or hold what no text may hold.
    """
    words = " ".join((typed or "").split())
    wrong = wrong_with(words, _LONGEST if of == "note" else MAX_NAME) if words else None
    if wrong is not None:
        raise TypedError(f"{shown(printable(words))}: {wrong[0]}; {wrong[1]}", of)
    return words or None


def price_of(typed: str) -> float:
    """Return what a can cost, in the shop's money.

    Raises
    ------
    TypedError
        It is no number, or one that no can costs.
    """
    try:
        price = float(typed)
    except ValueError:
        price = math.nan
    if not 0 <= price <= _DEAREST:
        raise TypedError(f"{shown(typed)} is no price; expected a number, in the shop's money: 61.50", "price")
    return price


@dataclass(frozen=True, slots=True)
class Used:
    """What was used: by volume, by mass, or as the can weighed before and after."""

    ml: float | None = None
    g: float | None = None
    before_g: float | None = None
    after_g: float | None = None


def used_of(used: str | None, can: str | None) -> Used:
    """Return what was used.

    Raises
    ------
    TypedError
        It is no amount, or both are given.
    """
    if used is not None and can is not None:
        raise TypedError("what was used is given twice; expected either --used '85 ml' or --can '812 g -> 731 g'")
    if used is not None:
        try:
            measured = amount(used)
        except ValueError as error:
            raise TypedError(f"{shown(used)}: {error}; expected 85 ml or 78 g", "used") from None
        return Used(ml=measured.value) if measured.measure == "ml" else Used(g=measured.value)
    if can is None:
        return Used()
    parts = re.split(r"\s*(?:->|→|–>)\s*", can)
    if len(parts) != 2:
        raise TypedError(f"{shown(can)} is no weight before and after; expected '812 g -> 731 g'", "can")
    if not re.search(r"[^\W\d]", parts[0]):
        parts[0] += f" {re.sub(r'[^A-Za-z]', '', parts[1])}"
    before, after = (_mass(part, can) for part in parts)
    if after > before:
        raise TypedError(f"{shown(can)}: the can weighs more afterwards; expected the weight before first", "can")
    return Used(before_g=before, after_g=after)


def _mass(text: str, whole: str) -> float:
    try:
        mass_g = read_quantity(text, MASS)
    except QuantityError as error:
        raise TypedError(f"{shown(whole)}: {error}; expected '812 g -> 731 g'", "can") from None
    if not 0 < mass_g < 1e6:
        raise TypedError(f"{shown(whole)}: {text} is no weight of a can; expected '812 g -> 731 g'", "can")
    return mass_g


def air_of(text: str | None) -> tuple[float | None, float | None]:
    """Return temperature and humidity as they are typed: ``17 degC 55 %``. [°C, %]

    Raises
    ------
    TypedError
        They are none, or beyond what a shop has.
    """
    if text is None:
        return None, None
    match = re.fullmatch(r"\s*(?P<c>[-−]?[\d.]+\s*°?[^\W\d]+(?:\s*[CF])?)?[\s,]*(?P<rh>[\d.]+\s*%)?\s*", text)
    if match is None or not any(match.groups()):
        raise TypedError(f"{shown(text)} is no air; expected '17 degC 55 %'", "air")
    try:
        air_c = None if match["c"] is None else read_quantity(match["c"].replace("−", "-"), TEMPERATURE)
        humidity = None if match["rh"] is None else read_quantity(match["rh"], PERCENTAGE)
    except QuantityError as error:
        raise TypedError(f"{shown(text)}: {error}; expected '17 degC 55 %'", "air") from None
    if not (air_c is None or -40 <= air_c <= 60) or not (humidity is None or 0 <= humidity <= 100):
        raise TypedError(f"{shown(text)} is no air that somebody works in; expected '17 degC 55 %'", "air")
    return air_c, humidity


def minutes_of(text: str | None) -> float | None:
    """Return how long something took. [min]

    Raises
    ------
    TypedError
        It is no duration.
    """
    if text is None:
        return None
    try:
        hours = read_quantity(text, DURATION)
    except QuantityError as error:
        raise TypedError(f"{shown(text)}: {error}; expected 45 min", "took") from None
    if not 0 < hours <= 1000:
        raise TypedError(f"{shown(text)} is no time that work takes; expected 45 min", "took")
    return hours * 60


def at_of(text: str | None, now: datetime) -> datetime:
    """Return when something was, typed as ``08:40`` of this day or as a date and time; now where nothing is typed.

    Parameters
    ----------
    text
        As typed, on the shop's clock
    now
        This moment, on the shop's clock

    Raises
    ------
    TypedError
        It is none, still to come, long ago, or a day without a time, which would be taken for its midnight.
    """
    if text is None:
        return now
    clock = re.fullmatch(r"\s*(\d{1,2})[:.](\d{2})\s*", text)
    if clock is not None:
        if int(clock[1]) > 23 or int(clock[2]) > 59:
            raise TypedError(f"{shown(text)} is no time of day; expected 08:40", "at")
        at = datetime.combine(now.date(), time(int(clock[1]), int(clock[2])), tzinfo=now.tzinfo)
    else:
        given = date_of("at", text)
        if given is None or now.tzinfo is None:
            return now
        at = moment_of(given, now.tzinfo)
        if given.clock is None and at <= now:
            raise TypedError(f"{shown(text)} says no time of day; expected {given.day:%Y-%m-%d} 15:10", "at")
    if at > now:
        raise TypedError(f"{shown(text)} is still to come; it is {now:%Y-%m-%d %H:%M}", "at")
    if now - at > _LONG_AGO:
        raise TypedError(f"{shown(text)} is more than half a year ago; it is {now:%Y-%m-%d %H:%M}", "at")
    return at

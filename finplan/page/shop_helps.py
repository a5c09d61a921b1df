"""What would help as edits of a shop file: more heat, more hands, a booth, no spray gun."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from finplan.inputs import (
    DayAir,
    NightAir,
    Person,
    Shift,
    Shop,
    days_through,
    default_shop_fields,
    worked_min,
    written_shifts,
)
from finplan.page.edits import AddItem, AnyEdit, PutValue, RemoveValue, SetValue
from finplan.page.field import value_at
from finplan.page.written import flow_text
from finplan.problems import Where
from finplan.quantity import TEMPERATURE, read_quantity
from finplan.reading import GivenDate
from finplan.timetable import BoothGiven, MoreHands, NeverColder, WarmerNights, longer_day, warmer_night

_WEEK = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_SATURDAY = 5
_FOOT_M, _HIGH_FT, _HIGH_M = 0.3048, 7, 2.1
Stretches = tuple[Shift, ...]


@dataclass(frozen=True, slots=True)
class ShopNow:
    """A shop file as it stands, and what was read of it."""

    data: Mapping[str, Any]
    """Of the file."""
    shop: Shop
    first: date
    """The first day of work that is thought of."""
    last: date
    """The last one."""

    def whole(self, name: str) -> Iterator[AnyEdit]:
        """Give the edit that writes a field of the default shop down, where the file leaves it out."""
        if name not in self.data:
            yield PutValue(path=(name,), value=flow_text(default_shop_fields()[name]))

    def said(self, *path: str | int) -> Any:
        """Return what stands at a path, once what the file leaves out is written down."""
        top = str(path[0])
        return value_at(dict(self.data if top in self.data else default_shop_fields()), path)

    @property
    def days(self) -> list[date]:
        """The days that are thought of."""
        return days_through(self.first, self.last)


# --- heat -----------------------------------------------------------------------------------------------------------


def warmer_nights(now: ShopNow, remedy: WarmerNights) -> tuple[AnyEdit, ...]:
    """Return the edits by which the nights are so much warmer, but no warmer than the days; none of a logged shop."""

    def edits(at: Where) -> Iterator[AnyEdit]:
        (day_c, day_pct), (night_c, night_pct) = (_air(now, (*at, half)) for half in ("day", "night"))
        day = DayAir.model_construct(temperature_c=day_c, humidity_pct=day_pct)
        night = NightAir.model_construct(temperature_c=night_c, humidity_pct=night_pct)
        warmer = warmer_night(day, night, remedy.degrees)
        if warmer.temperature_c == night.temperature_c:
            return
        yield _temperature(now, (*at, "night", "temperature"), warmer.temperature_c)
        if warmer.humidity_pct < night.humidity_pct:
            humidity = str(now.said(*at, "day", "humidity"))
            yield SetValue(path=(*at, "night", "humidity"), value=humidity)

    return _for_each_air(now, edits)


def never_colder(now: ShopNow, remedy: NeverColder) -> tuple[AnyEdit, ...]:
    """Return the edits by which it is never colder; none of a logged shop."""

    def edits(at: Where) -> Iterator[AnyEdit]:
        for half in ("day", "night"):
            if _celsius(now.said(*at, half, "temperature")) < remedy.lowest_c:
                yield _temperature(now, (*at, half, "temperature"), remedy.lowest_c)

    return _for_each_air(now, edits)


def _for_each_air(now: ShopNow, edits: Callable[[Where], Iterator[AnyEdit]]) -> tuple[AnyEdit, ...]:
    if now.shop.climate.log is not None:
        return ()
    months = now.said("climate", "months")
    places: list[Where] = [("climate", "months", str(name)) for name in months] if months else [("climate",)]
    changes = [edit for at in places for edit in edits(at)]
    return (*now.whole("climate"), *changes) if changes else ()


def _temperature(now: ShopNow, path: Where, celsius: float) -> AnyEdit:
    in_fahrenheit = str(now.said(*path)).rstrip().lower().endswith("f")
    # Never less than is meant: a tenth of a degree Fahrenheit is as fine as a thermostat.
    text = f"{math.ceil((celsius * 9 / 5 + 32) * 10 - 1e-6) / 10:g} degF" if in_fahrenheit else f"{celsius:g} degC"
    return SetValue(path=path, value=text)


def _air(now: ShopNow, at: Where) -> tuple[float, float]:
    """Return how warm and how damp the file says it is at a place. [°C, %]"""
    return _celsius(now.said(*at, "temperature")), float(str(now.said(*at, "humidity")).rstrip("% "))


def _celsius(written: Any) -> float:
    return read_quantity(str(written), TEMPERATURE)


# --- hands ----------------------------------------------------------------------------------------------------------


def works_more(now: ShopNow, more: MoreHands) -> tuple[AnyEdit, ...]:
    """Return the edits by which somebody works more."""
    if more.person is None:
        return (*now.whole("people"), AddItem(path=("people",), value=flow_text(_one_more(now, more))))
    number = next(at for at, person in enumerate(now.shop.people) if person.name == more.person)
    return (*now.whole("people"), *_works_more(now, number, more))


def _one_more(now: ShopNow, more: MoreHands) -> dict[str, Any]:
    taken = {person.name for person in now.shop.people}
    name = next(
        free for n in range(1, len(taken) + 2) if (free := "One more" if n == 1 else f"One more {n}") not in taken
    )
    if isinstance(more.on, date):
        return {"name": name, "days": {more.on.isoformat(): _stretches(more.shifts)}}
    week = tuple(max((person.hours[day] for person in now.shop.people), key=worked_min) for day in range(7))
    wanted = {day: now.shop.longest_day(day) for day in now.days}
    person = Person.model_construct(name=name, hours=week, days={})
    days = _unlike(now, person, {day: shifts for day, shifts in wanted.items() if shifts})
    whole: dict[str, Any] = {"name": name, "hours": _week_written(week)}
    return {**whole, "days": {day.isoformat(): _stretches(shifts) for day, shifts in days.items()}} if days else whole


def _works_more(now: ShopNow, number: int, more: MoreHands) -> Iterator[AnyEdit]:
    person, at = now.shop.people[number], ("people", number)
    wanted = _wanted(now, person, more)
    if not isinstance(more.on, date) and more.longer_h:
        week = tuple(longer_day(shifts, more.longer_h) for shifts in person.hours)
        yield from _lengthened(now, at, person, week, more.longer_h)
        person = person.model_copy(update={"hours": week})
    elif more.on == "saturdays":
        yield PutValue(path=(*at, "hours", _WEEK[_SATURDAY]), value=flow_text(_stretches(more.shifts)))
        hours = (*person.hours[:_SATURDAY], more.shifts, *person.hours[_SATURDAY + 1 :])
        person = person.model_copy(update={"hours": hours})
    for day, shifts in _unlike(now, person, wanted).items():
        yield PutValue(path=(*at, "days", _day_key(now, number, day)), value=flow_text(_stretches(shifts)))


def _wanted(now: ShopNow, person: Person, more: MoreHands) -> dict[date, Stretches]:
    """Return the hours of a person on those days on which they are others than now."""
    if isinstance(more.on, date):
        return {more.on: more.shifts}
    if more.on == "each-day":
        own = {day: now.shop.shifts(person, day) for day in now.days}
        return {day: longer_day(shifts, more.longer_h) for day, shifts in own.items() if shifts}
    free = [day for day in now.days if day not in now.shop.closed and not now.shop.shifts(person, day)]
    if more.on == "saturdays":
        return {day: more.shifts for day in free if day.weekday() == _SATURDAY}
    after = more.after or now.first
    return {day: more.shifts for day in free if day > after and day.weekday() < _SATURDAY and now.shop.open_on(day)}


def _unlike(now: ShopNow, person: Person, wanted: Mapping[date, Stretches]) -> dict[date, Stretches]:
    """Return the days on which a person's hours are not those that are wanted."""
    return {day: shifts for day, shifts in wanted.items() if now.shop.shifts(person, day) != shifts}


def _lengthened(
    now: ShopNow, at: Where, person: Person, week: Sequence[Stretches], longer_h: float
) -> Iterator[AnyEdit]:
    """Give the edits by which the last stretch of every day of the week is longer: each stretch where it stands."""
    changed: list[tuple[Where, Shift, bool]] = []
    for path, shift in written_shifts(now.said(*at, "hours")):
        last = [shifts[-1] == shift for shifts in person.hours if shift in shifts]
        if any(last):
            changed.append((path, shift, all(last)))
    if all(alone for _, _, alone in changed):
        for path, shift, _ in changed:
            yield SetValue(path=(*at, "hours", *path), value=_stretch(longer_day((shift,), longer_h)[0]))
    else:  # a stretch that is the last on one day and not on another
        yield PutValue(path=(*at, "hours"), value=flow_text(_week_written(week)))


def _day_key(now: ShopNow, number: int, day: date) -> str:
    """Return how a day is spelt in the file, where it is there already."""
    written = now.said("people", number, "days")
    for key in written if isinstance(written, dict) else ():
        if GivenDate.parse(str(key)).day == day:
            return str(key)
    return day.isoformat()


def _stretch(shift: Shift) -> str:
    """Return a stretch as a file has it.

    >>> _stretch(Shift(510, 1440)), _stretch(Shift(1320, 1800))
    ('8:30-24:00', '22:00-6:00')
    """
    start, end = shift.start_min, shift.end_min if shift.end_min <= 1440 else shift.end_min - 1440
    return f"{start // 60}:{start % 60:02d}-{end // 60}:{end % 60:02d}"


def _stretches(shifts: Stretches) -> Any:
    written = [_stretch(shift) for shift in shifts]
    return written[0] if len(written) == 1 else written


def _week_written(week: Sequence[Stretches]) -> dict[str, Any]:
    return {_WEEK[day]: _stretches(shifts) for day, shifts in enumerate(week) if shifts}


# --- what is in the shop --------------------------------------------------------------------------------------------


def booth(now: ShopNow, given: BoothGiven) -> tuple[AnyEdit, ...]:
    """Return the edits by which a room has a booth of that face and draught."""
    metres_s = given.flow_m3_h / given.face_m2 / 3600
    if given.units == "us":
        face = f"{given.face_m2 / _FOOT_M**2 / _HIGH_FT:.3g} x {_HIGH_FT} ft"
        value = {"face": face, "velocity": f"{metres_s / _FOOT_M * 60:.3g} ft/min"}
    else:
        value = {"face": f"{given.face_m2 / _HIGH_M:.3g} x {_HIGH_M} m", "velocity": f"{metres_s:.3g} m/s"}
    return (*now.whole("rooms"), PutValue(path=("rooms", given.room, "booth"), value=flow_text(value)))


def by_hand(now: ShopNow, sprayed: Sequence[str]) -> tuple[AnyEdit, ...]:
    """Return the edits by which the shop sprays no more: what is sprayed with goes out of its methods."""
    methods = now.said("methods")
    gone = [at for at, name in enumerate(methods) if name in sprayed]
    if not gone or len(gone) == len(methods):
        return ()
    return (*now.whole("methods"), *(RemoveValue(path=("methods", at)) for at in reversed(gone)))

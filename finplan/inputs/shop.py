"""The shop: who works when, in which rooms and air, with what."""

import re
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Annotated, Any, Literal, Self

from pydantic import Field, ValidationInfo, model_validator

from finplan.inputs.climate import Climate
from finplan.inputs.exhaust import Booth, Extraction, SprayWithoutBooth
from finplan.inputs.grade import KeptGrade
from finplan.inputs.hours import DaysField, Shift, WeekField, days_through, worked_min
from finplan.inputs.labels import Labels
from finplan.inputs.notes import Notes
from finplan.inputs.piece import MAX_ACCEPTED
from finplan.inputs.prices import HourRates, Prices, currency_of, money_in
from finplan.inputs.public_holidays import holidays_of, public_holidays
from finplan.inputs.shelf import ShelfItem
from finplan.inputs.time_zone import TimeZone
from finplan.problems import shown
from finplan.reading import (
    Currency,
    DurationH,
    FlowM3H,
    Form,
    GivenDate,
    GivenName,
    LikelyPct,
    Name,
    Percentage,
    Reads,
    Record,
    Title,
    UnreadableError,
    VolumeMl,
    beside,
    fail,
    whole_number,
)

Skill = Literal["sanding", "coating", "spraying", "assembly"]
Paper = Literal["a4", "letter"]
RoomUse = Literal["sanding", "assembly", "coating", "spraying", "drying"]
MAX_PEOPLE = 20
MAX_SHELF = 1000
MAX_ROOMS = 50
MAX_CLOSED = 500
"""Days and stretches of days, each of ten years at most."""
MAX_NAMED = 200
"""Of methods, and of grades."""
MAX_LABOUR = 1_000_000
DEFAULT_SUPPLIER = "default"
"""The name that stands for everything for which no supplier is named."""
_PRICE = re.compile(r"(\d++(?:\.\d++)?+)\s*+(?:/\s*+h)?+")


class Person(Record):
    """Someone who works in the shop."""

    name: Name
    """What they are called on the sheet."""
    hours: WeekField = ((),) * 7
    """Of every week; none of help that comes on single days."""
    days: DaysField = Field(default_factory=dict)
    """Of single days, in place of those of the week: a Saturday worked, a day off, help that comes for a day."""
    skills: tuple[Skill, ...] = ("sanding", "coating", "spraying", "assembly")
    """What they do; all of it, where nothing is said."""

    @model_validator(mode="after")
    def _is_ever_there(self) -> Self:
        if not any(self.hours) and not self.days:
            fail("nothing says when this person works", "expected hours: {mon-fri: 8:00-16:00}, or days:")
        return self


def _changes(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not 0 <= value <= 1000:
        fail(f"'{str(value)[:20]}' is not a number of air changes", "expected air changes per hour, such as 2")
    return float(value)


_CHANGES_FORM = Form("a number per hour: 2", {"type": "number", "minimum": 0, "maximum": 1000})


class Room(Record):
    """A room: what may happen in it, and its air."""

    for_: tuple[RoomUse, ...] = Field(min_length=1)
    """What may be done in it."""
    volume_ml: VolumeMl | None = None
    """How much air it holds: length x width x height."""
    air_changes: Annotated[float | None, Reads(_changes), _CHANGES_FORM] = None
    """How often an hour its air is renewed by itself."""
    fan_m3_h: FlowM3H | None = None
    """How much air its fan moves outdoors."""
    booth: Booth | None = None
    """Its spray booth."""
    extraction: Extraction | None = None
    """What draws off vapour at its bench."""


def _places(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= 10_000:
        fail(f"'{str(value)[:20]}' is not a number of places", "expected 0, 1, 2, …")
    return value


def _lathes(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= 100:
        fail(
            f"'{str(value)[:20]}' is not a number of lathes",
            "expected 1, 2, 3, …; without one leave lathe out of methods",
        )
    return value


class Rack(Record):
    """Where wet work can rest: flat places for tops and boards, hooks for legs and frames."""

    places: Annotated[int, Reads(_places), whole_number(0, 10_000)] = 0
    """Flat places for tops and boards."""
    hooks: Annotated[int, Reads(_places), whole_number(0, 10_000)] = 0
    """Hooks for legs and frames."""


def _closed(value: object) -> frozenset[date]:
    if not isinstance(value, list):
        fail("this is not a list of days", "expected [2027-03-08, 2027-07-26 to 2027-08-06]")
    if len(value) > MAX_CLOSED:
        fail(f"{len(value)} stretches are too many", f"expected at most {MAX_CLOSED}; longer ones take fewer lines")
    days: set[date] = set()
    for index, item in enumerate(value):
        first, _, last = str(item).partition(" to ")
        try:
            start = GivenDate.parse(first).day
            end = GivenDate.parse(last).day if last else start
        except ValueError:
            fail(f"'{str(item)[:40]}' is not a day", "expected 2027-03-08, or 2027-07-26 to 2027-08-06", (index,))
        if end < start or (end - start).days > 3660:
            wrong = f"{shown(item)} ends before it starts, or lasts for years"
            fail(wrong, "expected the first day, then the last", (index,))
        days.update(days_through(start, end))
    return frozenset(days)


def _labour(value: object) -> float:
    expected = "expected a number per hour: 42 / h"
    match = _PRICE.fullmatch(str(value).strip()) if isinstance(value, (int, float, str)) else None
    if match is None:
        fail(f"{shown(value)} is not a price of labour", expected)
    price = float(match.group(1))
    if price > MAX_LABOUR:
        fail(f"{shown(value)} is too large", f"{expected}, at most {MAX_LABOUR:,}")
    return price


def _records(value: object, info: ValidationInfo) -> Path:
    within = (info.context or {}).get("folder")
    name = str(value)
    expected = "expected the plain name of a folder beside the shop file"
    if within is None or not isinstance(value, str):
        fail(f"{shown(value)} is not a folder beside the shop file", expected)
    try:
        inside = beside(within, name)
    except UnreadableError as error:
        fail(f"{shown(name)} {error.wrong}", expected)
    if not inside.is_dir():
        fail(f"there is no folder {shown(name)}", expected)
    return Path(within) / name  # as it is given, which is how problems name its files


_CLOSED_SCHEMA = {"type": "array", "items": {"type": "string"}}
_CLOSED_FORM = Form("days, and stretches of days: [2027-03-08, 2027-07-26 to 2027-08-06]", _CLOSED_SCHEMA)
_OVERRIDES_FORM = "kinds of records, each with names and fields: {finishes: {hardwax-oil: {spread-rate: …}}}"
_COUNTRY_SCHEMA = {"type": "string", "pattern": "^[A-Z]{2,3}(-[A-Z0-9]{1,3})?$"}
_COUNTRY_FORM = Form("a country, or a part of one: GB-SCT", _COUNTRY_SCHEMA)
_LABOUR_FORM = Form("a number per hour: 42 / h", {"type": ["number", "string"]})
_RECORDS_FORM = Form("the name of a folder beside the shop file: my-records")


class Shop(Record):
    """The shop. A field left out takes the default shop's value. The buffer is in h, labour a number per hour."""

    shop: Title
    """What the workshop is called, as printed on the sheet."""
    units: Literal["metric", "us"]
    """How results are shown, where a piece does not say."""
    paper: Paper
    """The paper of the sheet."""
    time_zone: TimeZone
    """Where its clock is."""
    people: tuple[Person, ...] = Field(min_length=1, max_length=MAX_PEOPLE)
    """Who works there, and when."""
    closed: Annotated[frozenset[date], Reads(_closed), _CLOSED_FORM] = frozenset()
    """Days on which nobody works, and stretches of such days."""
    holidays: Annotated[str | None, Reads(holidays_of), _COUNTRY_FORM] = None
    """The country, or the part of one, whose public holidays are days off: its code by ISO 3166."""
    rooms: dict[GivenName, Room] = Field(min_length=1, max_length=MAX_ROOMS)
    """The rooms by their names; one may serve for everything."""
    rack: Rack
    """Where wet work can rest."""
    climate: Climate
    """The air of the shop: day and night, or months, or the file of a logger."""
    methods: tuple[Name, ...] = Field(min_length=1, max_length=MAX_NAMED)
    """What the shop has to put finishes on and to sand with, by the names of the catalogue."""
    lathes: Annotated[int, Reads(_lathes), whole_number(1, 100)] = 1
    """How many lathes there are, where methods names one: at a single one nobody sands beside another."""
    grits: tuple[KeptGrade, ...] = Field((), max_length=MAX_NAMED)
    """The grades of abrasive that it keeps."""
    buffer_h: DurationH | None = None
    """What is wanted between ready and delivery; of a shop that names none a working day for each week of plan."""
    in_time_pct: LikelyPct
    """In how many of a hundred cases a piece has to be ready by its date."""
    labour_per_h: Annotated[float | None, Reads(_labour), _LABOUR_FORM] = None
    """What an hour of work is reckoned at, in the shop's money: 'systems' tells what the work of each comes to."""
    rates: HourRates | None = None
    """What an hour is reckoned at in a quote, all kinds of work alike or each by itself; in the place of labour."""
    prices: Prices = Field(default_factory=dict)
    """What packs cost, without tax: a material is then bought in the packs that are named here, and in no others."""
    charged: Literal["used", "bought"] = "used"
    """What of the materials a quote charges: what is used up, or all the packs that are bought for it."""
    markup_pct: Percentage = 0.0
    """What is put on the price of materials."""
    vat_pct: Percentage | None = None
    """The tax that is put on a quote; its line is left out where nothing is said."""
    suppliers: dict[GivenName, DurationH] = Field(default_factory=dict, max_length=MAX_NAMED)
    """How many working days a thing takes until it comes, by its name in the catalogue; default: all others."""
    buy_ahead_h: DurationH | None = None
    """So long before its first use nothing is bought; where nothing is said it may be bought at once."""
    labels: Labels = Labels.model_construct()
    """What part tags are printed on."""
    notes: Notes = Notes.model_construct()
    """What the shop wants said on its sheets."""
    ring: Title | None = None
    """Who is rung when in doubt, with the number, as printed: Ada, +00 0000 000000."""
    shelf: tuple[ShelfItem, ...] = Field((), max_length=MAX_SHELF)
    """What is left of what, and since when it is open."""
    overrides: Annotated[dict[str, Any], Form(_OVERRIDES_FORM, {"type": "object"})] = Field(default_factory=dict)
    """Values of the catalogue that are otherwise here, by kind and name, such as of the tin in hand."""
    spray_without_booth: SprayWithoutBooth | None = None
    """That what burns or holds isocyanate may be sprayed here without a booth: whoever wrote it read the code."""
    records: Annotated[Path | None, Reads(_records, in_context=True), _RECORDS_FORM] = None
    """The folder of the shop's own records, one file a kind."""
    accept: tuple[Name, ...] = Field((), max_length=MAX_ACCEPTED)
    """Warnings that are meant so in this shop, by their names: they are not told again."""

    @model_validator(mode="after")
    def _says_an_hour_once(self) -> Self:
        if self.labour_per_h is not None and self.rates is not None and self.rates.hour is not None:
            fail("what an hour is reckoned at is said twice", "leave out labour: rates: says it", ("labour",))
        return self

    @property
    def hour(self) -> Decimal | None:
        """What an hour of work is reckoned at, where nothing else is said of its kind; None where nothing is."""
        if self.rates is not None and self.rates.hour is not None:
            return self.rates.hour.amount
        return None if self.labour_per_h is None else Decimal(str(self.labour_per_h))

    @property
    def currency(self) -> Currency | None:
        """The currency of its rates and prices, as it is first written; None where none is."""
        return currency_of(list(money_in(self.rates, self.prices)))

    def open_on(self, day: date) -> bool:
        """Return whether anyone may work on *day*, as far as closed days and public holidays go."""
        return day not in self.closed and not self.is_holiday(day)

    def longest_day(self, day: date) -> tuple[Shift, ...]:
        """Return the shifts of whoever works longest on a day."""
        return max((self.shifts(person, day) for person in self.people), key=worked_min)

    def shifts(self, person: Person, day: date) -> tuple[Shift, ...]:
        """Return the stretches that begin on *day* in which a person works.

        What is named for that very day holds on a public holiday too; where the shop is closed nobody works.
        """
        if day in person.days:
            return () if day in self.closed else person.days[day]
        return person.hours[day.weekday()] if self.open_on(day) else ()

    def is_holiday(self, day: date) -> bool:
        """Return whether a day is one of the public holidays that the shop names."""
        return self.holidays is not None and day in public_holidays(self.holidays, day.year)

    def room_for(self, use: RoomUse) -> str | None:
        """Return the name of the first room for *use*."""
        return next((name for name, room in self.rooms.items() if use in room.for_), None)

"""The shop file: who works when, in which rooms and air, with what."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Annotated, Any, Literal, Self
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from pydantic import Field, PlainValidator, ValidationInfo, model_validator

from finplan.catalogue import Catalogue, grade_name, grade_sizes, read_own
from finplan.inputs.climate import Climate
from finplan.inputs.concerns import concerns_of, unknown_concerns
from finplan.inputs.doubtful_hours import doubtful_hours
from finplan.inputs.doubtful_room import doubtful_rooms
from finplan.inputs.exhaust import Booth, Extraction, SprayWithoutBooth
from finplan.inputs.grade import KeptGrade, grade_hint
from finplan.inputs.hours import DaysField, Shift, WeekField
from finplan.inputs.labels import Labels
from finplan.inputs.mistaken import refuse_piece
from finplan.inputs.notes import Notes
from finplan.inputs.piece import MAX_ACCEPTED
from finplan.inputs.plausible_sizes import Sizes, plausible_sizes
from finplan.inputs.public_holidays import holidays_of, public_holidays
from finplan.inputs.shelf import ShelfItem, shelf_findings
from finplan.problems import Finding, Problem, RefusedError, did_you_mean, hint, likely, shown
from finplan.reading import (
    Document,
    DurationH,
    FlowM3H,
    Form,
    GivenDate,
    GivenName,
    LikelyPct,
    Name,
    Record,
    Title,
    UnreadableError,
    VolumeMl,
    beside,
    fail,
    read_document,
    validate,
    whole,
)
from finplan.resources import data_dir

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
_USUAL_ZONE = re.compile(r"[A-Z][a-z]++(?:/[A-Z][A-Za-z_-]++){1,2}")
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
    air_changes: Annotated[float | None, PlainValidator(_changes), _CHANGES_FORM] = None
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


class Rack(Record):
    """Where wet work can rest: flat places for tops and boards, hooks for legs and frames."""

    places: Annotated[int, PlainValidator(_places), whole(0, 10_000)] = 0
    """Flat places for tops and boards."""
    hooks: Annotated[int, PlainValidator(_places), whole(0, 10_000)] = 0
    """Hooks for legs and frames."""


def _nearest_zone(name: str) -> str:
    """Return the hint for an unknown time zone: the nearest name, or the zone of a place that was named alone."""
    zones = sorted(available_timezones())
    place = name.strip().replace(" ", "_").casefold()
    found = [zone for zone in zones if zone.rpartition("/")[2].casefold() == place]
    meant = likely(found[0] if found else name, zones)
    return hint(meant, zones) if meant else "expected a name such as Europe/London"


def _zone(value: object) -> ZoneInfo:
    # The list of all zones is read from a thousand files, so a usual name is tried without it.
    if isinstance(value, str) and _USUAL_ZONE.fullmatch(value):
        with suppress(ZoneInfoNotFoundError, ValueError, OSError):
            return ZoneInfo(value)
    if not isinstance(value, str) or value not in available_timezones():
        fail(f"'{str(value)[:40]}' is not a time zone", _nearest_zone(str(value)))
    return ZoneInfo(value)


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
        days |= {start + timedelta(days=n) for n in range((end - start).days + 1)}
    return frozenset(days)


def _labour(value: object) -> float:
    expected = "expected a number per hour: 42 / h"
    found = _PRICE.fullmatch(str(value).strip()) if isinstance(value, (int, float, str)) else None
    if found is None:
        fail(f"{shown(value)} is not a price of labour", expected)
    price = float(found.group(1))
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
    time_zone: Annotated[ZoneInfo, PlainValidator(_zone), Form("a time zone: Europe/Dublin")]
    """Where its clock is."""
    people: tuple[Person, ...] = Field(min_length=1, max_length=MAX_PEOPLE)
    """Who works there, and when."""
    closed: Annotated[frozenset[date], PlainValidator(_closed), _CLOSED_FORM] = frozenset()
    """Days on which nobody works, and stretches of such days."""
    holidays: Annotated[str | None, PlainValidator(holidays_of), _COUNTRY_FORM] = None
    """The country, or the part of one, whose public holidays are days off: its code by ISO 3166."""
    rooms: dict[GivenName, Room] = Field(min_length=1, max_length=MAX_ROOMS)
    """The rooms by their names; one may serve for everything."""
    rack: Rack
    """Where wet work can rest."""
    climate: Climate
    """The air of the shop: day and night, or months, or the file of a logger."""
    methods: tuple[Name, ...] = Field(min_length=1, max_length=MAX_NAMED)
    """What the shop has to put finishes on and to sand with, by the names of the catalogue."""
    grits: tuple[KeptGrade, ...] = Field((), max_length=MAX_NAMED)
    """The grades of abrasive that it keeps."""
    buffer_h: DurationH | None = None
    """What is wanted between ready and delivery; of a shop that names none a working day for each week of plan."""
    in_time_pct: LikelyPct
    """In how many of a hundred cases a piece has to be ready by its date."""
    labour_per_h: Annotated[float | None, PlainValidator(_labour), _LABOUR_FORM] = None
    """What an hour of work is reckoned at, in the shop's money: 'systems' tells what the work of each comes to."""
    labels: Labels = Labels()
    """What part tags are printed on."""
    notes: Notes = Notes()
    """What the shop wants said on its sheets."""
    ring: Title | None = None
    """Who is rung when in doubt, with the number, as printed: Ada, +00 0000 000000."""
    shelf: tuple[ShelfItem, ...] = Field((), max_length=MAX_SHELF)
    """What is left of what, and since when it is open."""
    overrides: Annotated[dict[str, Any], Form(_OVERRIDES_FORM, {"type": "object"})] = Field(default_factory=dict)
    """Values of the catalogue that are otherwise here, by kind and name, such as of the tin in hand."""
    spray_without_booth: SprayWithoutBooth | None = None
    """That what burns or holds isocyanate may be sprayed here without a booth: whoever wrote it read the code."""
    records: Annotated[Path | None, PlainValidator(_records), _RECORDS_FORM] = None
    """The folder of the shop's own records, one file a kind."""
    accept: tuple[Name, ...] = Field((), max_length=MAX_ACCEPTED)
    """Warnings that are meant so in this shop, by their names: they are not told again."""

    def open_on(self, day: date) -> bool:
        """Return whether anyone may work on *day*, as far as closed days and public holidays go."""
        return day not in self.closed and not self._holiday(day)

    def shifts(self, person: Person, day: date) -> tuple[Shift, ...]:
        """Return the stretches that begin on *day* in which a person works.

        What is named for that very day holds on a public holiday too; where the shop is closed nobody works.
        """
        if day in person.days:
            return () if day in self.closed else person.days[day]
        return person.hours[day.weekday()] if self.open_on(day) else ()

    def _holiday(self, day: date) -> bool:
        return self.holidays is not None and day in public_holidays(self.holidays, day.year)

    def room_for(self, use: RoomUse) -> str | None:
        """Return the name of the first room for *use*."""
        return next((name for name, room in self.rooms.items() if use in room.for_), None)


@dataclass(frozen=True)
class ShopFile:
    """What was read: the shop, the fields that the default shop gave, and the files."""

    shop: Shop
    defaults: tuple[str, ...]
    document: Document | None
    records: Mapping[str, Document] = field(default_factory=dict)
    """The files of the shop's own records, by kind."""
    doubts: tuple[Problem, ...] = ()
    """What is possible but unlikely in it; nothing of the default shop."""


@cache
def default_shop_fields() -> Mapping[str, Any]:
    """Return the fields of the default shop, as they stand in its file."""
    return MappingProxyType(read_document(data_dir("catalogue") / "default-shop.yaml").data)


@cache
def default_shop() -> ShopFile:
    """Return the shop that is taken where none is named."""
    fields = default_shop_fields()
    shop, findings = validate(Shop, dict(fields))
    if shop is None:
        msg = f"the default shop is broken: {findings}"
        raise AssertionError(msg)
    return ShopFile(shop, tuple(name for name in fields if name != "shop"), None)


def load_shop(file: Path, catalogue: Catalogue) -> ShopFile:
    """Return the shop in *file*, as ``shop_of``."""
    return shop_of(read_document(file), catalogue, folder=file.parent)


def shop_of(document: Document, catalogue: Catalogue, *, folder: Path | None) -> ShopFile:
    """Return the shop in a document; what it leaves out is taken from the default shop.

    Parameters
    ----------
    document
        What a shop file says
    catalogue
        What is known without it
    folder
        Where the files that it names lie; without one it may name none

    Raises
    ------
    RefusedError
        Something in it is wrong; carries every problem.
    """
    refuse_piece(document)
    fields = default_shop_fields()
    given = document.data
    laid = {**fields, **given}
    methods, grits = {**catalogue.methods, **catalogue.sanding_methods}, grade_sizes(catalogue)
    context = {"folder": folder, "time-zone": laid["time-zone"], "grades": grits}
    shop, findings = validate(Shop, laid, more=context)
    findings = [finding for finding in findings if finding.path[:1] != ("shop",) or "shop" in given]
    if "shop" not in given:
        findings.append(Finding(("shop",), "field 'shop' is missing", "expected the name of the workshop"))
    problems: list[Problem] = []
    records: dict[str, Document] = {}
    if shop is not None:
        try:
            records = read_own(shop.records) if shop.records else {}
        except RefusedError as error:
            problems += error.problems
        own_methods = {
            name for kind in ("methods", "sanding-methods") if kind in records for name in records[kind].data
        }
        findings += _unknown(shop.methods, "methods", {*methods, *own_methods})
        findings += _unknown(shop.grits, "grits", grits) + _rooms(shop) + _people(shop)
        findings += unknown_concerns(shop.accept, concerns_of(catalogue))
        if shop.shelf:
            findings += shelf_findings(shop.shelf, _records_by_kind(catalogue, records, shop.overrides))
    else:
        findings += _unknown_at_once(given, {"methods": methods, "grits": grits})
    problems += [document.problem(finding) for finding in findings]
    if shop is None or problems:
        raise RefusedError(problems)
    doubts = tuple(document.problem(finding) for finding in _doubts(shop, given, plausible_sizes(catalogue.files)))
    return ShopFile(shop, tuple(name for name in fields if name not in given), document, records, doubts)


def _doubts(shop: Shop, given: Mapping[str, Any], sizes: Sizes) -> Iterator[Finding]:
    volumes = {name: room.volume_ml for name, room in shop.rooms.items()}
    yield from doubtful_hours(given, sizes.hours)
    yield from doubtful_rooms(volumes, shop.climate, least_ml=sizes.room.least_ml)


def _records_by_kind(
    catalogue: Catalogue, own: Mapping[str, Document], overrides: Mapping[str, Any]
) -> dict[str, dict[str, Any]]:
    """Return what may be named, by kind: bundled records; the shop's own, and mixes that it overrules, as written."""
    records = {kind: {**named, **(own[kind].data if kind in own else {})} for kind, named in catalogue.kinds().items()}
    finishes = overrides.get("finishes", {})
    for name, fields in finishes.items() if isinstance(finishes, dict) else ():
        if name in records["finishes"] and isinstance(fields, dict) and "mix" in fields:
            records["finishes"][name] = fields
    return records


def _unknown_at_once(given: Mapping[str, Any], known: Mapping[str, Collection[str]]) -> list[Finding]:
    """Return the unknown names of a shop that has other errors too, as far as they can be told."""
    if "records" in given:
        return []
    lists = {field: given[field] for field in known if isinstance(given.get(field), list)}
    lists["grits"] = [grade_name(grit) or grit for grit in lists.get("grits", [])]
    return [
        finding
        for field, names in lists.items()
        for finding in _unknown(tuple(name for name in names if isinstance(name, str)), field, known[field])
    ]


def _unknown(names: tuple[str, ...], where: str, known: Collection[str]) -> list[Finding]:
    hint = grade_hint if where == "grits" else did_you_mean
    return [
        Finding((where, index), f"{shown(name)} is not in the catalogue", hint(name, known))
        for index, name in enumerate(names)
        if name not in known
    ]


def _people(shop: Shop) -> list[Finding]:
    names = [person.name for person in shop.people]
    return [
        Finding(("people", index, "name"), f"{shown(name)} is named twice", "give each person a name of their own")
        for index, name in enumerate(names)
        if name in names[:index]
    ]


def _rooms(shop: Shop) -> list[Finding]:
    uses: tuple[RoomUse, ...] = ("sanding", "coating", "drying")
    return [
        Finding(("rooms",), f"no room is for {use}", f"add {use} to the 'for' of a room")
        for use in uses
        if shop.room_for(use) is None
    ]

"""Warnings: each mistake that passes for sound is named, what is ordinary is left alone, and a file can accept them."""

from __future__ import annotations

import json
import re
from datetime import date
from pathlib import Path
from typing import Any

import pytest

import finplan
from finplan.catalogue import bundled_catalogue
from finplan.inputs import (
    CONCERNS,
    Known,
    concerns_of,
    dated_in_piece,
    dated_in_shop,
    doubtful_build,
    piece_from,
    plausible_sizes,
)
from finplan.inputs.climate import Climate
from finplan.inputs.doubtful_hours import doubtful_hours
from finplan.inputs.doubtful_room import doubtful_rooms
from finplan.inputs.shop import Shop
from finplan.inputs.shop_file import default_shop_fields
from finplan.problems import Finding
from finplan.reading import GivenDate, validate
from finplan.surface import measured
from tests.conftest import EXAMPLE, Cli

KNOWN = Known(timbers=["ash"], systems=["hardwax-oil"], surfaces=[])
TODAY = date(2027, 2, 1)
SIZES = plausible_sizes(bundled_catalogue().files)


def piece_with(parts: dict[str, Any], **more: Any) -> Any:
    made, findings = piece_from({"piece": "Stand", "lengths": "mm", "parts": parts, **more}, KNOWN)
    assert not findings, findings
    return made


def names(findings: Any) -> list[str]:
    found: list[Finding] = list(findings)
    assert all(one.severity == "warning" for one in found)
    return [one.name for one in found]


# --- joints ---------------------------------------------------------------------------------------------------------

LEG = {"shape": "turned", "count": 3, "elements": [
    {"block": {"side": 60, "length": 100}}, {"cylinder": {"diameter": 40, "length": 500}},
]}  # fmt: skip
SPINDLE = {"shape": "turned", "elements": [{"cylinder": {"diameter": 30, "length": 400}}]}
PLATE = {"shape": "disc", "diameter": 600, "thickness": 25}


@pytest.mark.parametrize(
    ("joint", "warned"),
    [
        ({"from": "spindle", "face": "turning", "to": "plate", "on": "underside"}, True),
        ({"from": "spindle", "face": "top-end", "to": "plate", "on": "underside"}, False),
        ({"from": "leg", "face": "blocks", "to": "plate", "on": "underside"}, False),  # 240 of 933 cm²
        ({"from": "leg", "face": "turning", "to": "plate", "on": "underside"}, True),
    ],
)
def test_a_joint_that_covers_a_turned_part(joint: dict[str, str], warned: bool) -> None:
    piece = piece_with({"leg": LEG, "spindle": SPINDLE, "plate": PLATE}, joints=[joint])
    _, findings = measured(piece, SIZES)
    found = [finding for finding in findings if finding.name == "large-joint"]
    assert bool(found) == warned
    assert all(one.path == ("joints", 0) for one in found)


# --- a top beside its aprons, and an underside left bare --------------------------------------------------------------


def apron(length: float, count: int = 4) -> dict[str, Any]:
    return {"shape": "board", "count": count, "length": length, "width": 90, "thickness": 20}


@pytest.mark.parametrize(
    ("top", "aprons", "said"),
    [
        ({"circumference": 780}, apron(400), "was diameter: 780 mm meant?"),  # 248 across, over a circle of 566
        ({"diameter": 2450}, apron(400), "was circumference: 2450 mm meant?"),
        ({"diameter": 780}, apron(400), None),
        ({"circumference": 2450}, apron(400), None),
        ({"diameter": 1700}, apron(400), None),  # large, but no circle of 541 covers aprons of 566
        ({"circumference": 780}, apron(400, 2), None),  # two aprons close no ring
        ({"circumference": 780}, apron(200, 3), None),  # a circle of 231 within one of 248
    ],
)
def test_a_round_top_against_its_own_aprons(top: dict[str, float], aprons: dict[str, Any], said: str | None) -> None:
    piece = piece_with({"top": {"shape": "disc", "thickness": 25, **top}, "apron": aprons})
    found = doubtful_build(piece)
    assert [one.expected for one in found] == ([said] if said else [])
    assert all(one.path[:2] == ("parts", "top") and one.name == "top-beside-aprons" for one in found)


@pytest.mark.parametrize(
    ("fields", "path"),
    [
        ({"faces": {"underside": {"coats": 0}}}, ("underside", "coats")),
        ({"faces": {"underside": {"exposure": "covered"}}}, ("underside", "exposure")),
        ({"faces": {"underside": {"coats": 1}}}, None),
        ({"faces": {"underside": {"coats": 0}, "top": {"coats": 0}}}, None),
        ({"veneer": 0.6, "faces": {"underside": {"coats": 0}}}, None),  # on a board that stays flat
        ({}, None),
    ],
)
def test_an_underside_left_bare(fields: dict[str, Any], path: tuple[str, str] | None) -> None:
    found = doubtful_build(piece_with({"top": {**PLATE, **fields}}))
    assert [one.path for one in found] == ([("parts", "top", "faces", *path)] if path else [])
    assert names(found) == ["bare-underside"] * len(found)


@pytest.mark.parametrize(
    ("rule", "field"),
    [
        ({"coats": 3}, "coats"),
        ({"system": "hardwax-oil"}, "system"),
        ({"stop-grit": "P320"}, "stop-grit"),
        ({"coats": 0}, None),  # which is what covered says
        ({}, None),
    ],
)
def test_what_is_asked_for_on_a_covered_face(rule: dict[str, Any], field: str | None) -> None:
    found = doubtful_build(piece_with({"top": {**PLATE, "faces": {"edge": {"exposure": "covered", **rule}}}}))
    assert [one.path for one in found] == ([("parts", "top", "faces", "edge", field)] if field else [])
    assert names(found) == ["covered-face"] * len(found)
    shown = doubtful_build(piece_with({"top": {**PLATE, "faces": {"edge": {"exposure": "secondary", **rule}}}}))
    assert not shown


def test_what_is_glued_is_not_bare() -> None:
    joint = {"from": "top", "face": "underside", "to": "plate", "on": "top"}
    top = {**PLATE, "diameter": 300, "faces": {"underside": {"exposure": "covered"}}}
    assert not doubtful_build(piece_with({"top": top, "plate": PLATE}, joints=[joint]))


# --- hours ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("hours", "meant"),
    [
        ("1:00-5:00", "13:00-17:00"),
        ("12:30-5:00", "12:30-17:00"),
        ("8:00-5:00", "8:00-17:00"),
        ("2:15-4:45", "14:15-16:45"),
        ("22:00-6:00", None),  # a night shift
        ("0:00-6:00", None),  # its second half
        ("20:00-4:30", None),
        ("5:00-9:00", None),  # early, and before other work
        ("8:00-12:00", None),
    ],
)
def test_hours_of_a_clock_of_twelve(hours: str, meant: str | None) -> None:
    found = list(
        doubtful_hours({"people": [{"name": "Ada", "hours": {"mon-fri": ["12:00-12:15", hours]}}]}, SIZES.hours)
    )
    assert [one.expected for one in found] == ([f"times are of 24 hours: did you mean {meant}?"] if meant else [])
    assert all(one.path == ("people", 0, "hours", "mon-fri", 1) for one in found)
    assert names(found) == ["twelve-hour-times"] * len(found)


def test_rooms_that_hold_nobody_and_a_shop_that_freezes() -> None:
    air = {"night": {"temperature": "5 degC", "humidity": "60 %"}}
    cold = {**air, "day": {"temperature": "20 degF", "humidity": "50 %"}}
    mild = {**air, "day": {"temperature": "20 degC", "humidity": "50 %"}}
    for climate, volumes, found in ((cold, {"a": 1e5, "b": 6e7, "c": None}, 2), (mild, {"a": 6e7}, 0)):
        read, findings = validate(Climate, climate)
        assert read is not None, findings
        assert names(doubtful_rooms(volumes, read, least_ml=SIZES.room.least_ml)) == ["unlikely-room"] * found


def test_the_least_room_is_that_of_the_catalogue() -> None:
    read, _ = validate(
        Climate,
        {"day": {"temperature": "0 degC", "humidity": "50 %"}, "night": {"temperature": "0 degC", "humidity": "60 %"}},
    )
    assert read is not None
    least_ml = SIZES.room.least_ml
    assert list(doubtful_rooms({"a": least_ml}, read, least_ml=least_ml)) == []
    (told,) = doubtful_rooms({"a": least_ml}, read, least_ml=least_ml + 1)
    assert told.name == "unlikely-room"
    # In the unit that is to be written, whichever was: of '1 m3' nobody is asked whether m3 was meant.
    assert told.wrong == f"a room of {least_ml / 1e6:.2g} m³ holds nobody at work"
    assert "meant" not in told.expected


def test_patches_that_cover_a_turned_part() -> None:
    leg = {**SPINDLE, "faces": {"turning": {"less": ["3 x 60 x 120"]}}}
    _, findings = measured(piece_with({"leg": leg}), SIZES)
    assert [(finding.name, finding.path) for finding in findings] == [
        ("large-joint", ("parts", "leg", "faces", "turning", "less"))
    ]


@pytest.mark.parametrize(
    ("field", "name", "near"),
    [("timber", "tulipwood", "poplar"), ("timber", "linden", "lime"), ("system", "paint", "acrylic-enamel")],
)
def test_a_name_is_found_in_titles_too(field: str, name: str, near: str) -> None:
    known = Known.of(bundled_catalogue())
    _, findings = piece_from({"piece": "Stand", "lengths": "mm", "parts": {"plate": PLATE}, field: name}, known)
    (found,) = (finding for finding in findings if finding.path == (field,))
    assert f"'{near}'" in found.expected


# --- days -----------------------------------------------------------------------------------------------------------


def shop_with(**fields: Any) -> Shop:
    shop, findings = validate(Shop, {**default_shop_fields(), **fields}, more={"time-zone": "UTC"})
    assert shop is not None, findings
    return shop


@pytest.mark.parametrize(
    ("fields", "expected"),
    [
        ({"time-zone": "Europe/Dublin"}, "holidays: IE takes out those of Europe/Dublin"),
        ({"time-zone": "America/Chicago"}, "holidays: US takes out those of America/Chicago"),
        ({"time-zone": "UTC"}, "holidays: GB, say, takes out those"),
        ({"holidays": "IE"}, None),
        ({"closed": ["24 Dec 2027 to 2 Jan 2028"]}, None),
        ({"people": [{"name": "Ada", "hours": {"sun": "8:00-12:00"}}]}, None),  # 2027 to 2029: Sat, Mon, Tue
    ],
)
def test_a_shop_that_works_at_christmas(fields: dict[str, Any], expected: str | None) -> None:
    # The countries of the zones: zone.tab of the tz database, which names one for each.
    found = list(dated_in_shop(shop_with(**fields), TODAY))
    assert [one.expected.split(", a list")[0] for one in found] == ([expected] if expected else [])
    assert names(found) == ["open-at-christmas"] * len(found)


@pytest.mark.parametrize(
    ("fields", "found"),
    [
        ({"deliver": "2027-01-31"}, ["past-date"]),
        ({"deliver": "2027-02-01"}, []),
        ({"deliver": "29 Jan 2027 15:00"}, ["past-date"]),
        ({"refinish": {"built": 2028}}, ["future-date"]),
        ({"refinish": {"built": 1936}}, []),
    ],
)
def test_dates_against_today(fields: dict[str, Any], found: list[str]) -> None:
    assert names(dated_in_piece(piece_with({"top": PLATE}, **fields), TODAY)) == found


@pytest.mark.parametrize(
    ("text", "iso"),
    [
        ("29 Jan 2027", "2027-01-29"),
        ("1 March 2028 8:30", "2028-03-01 08:30"),
        ("3. sept 2027", "2027-09-03"),
        ("May 7, 2027", "2027-05-07"),
        ("29 Feb 2028", "2028-02-29"),
        ("29 Feb 2027", None),
        ("29 Foo 2027", None),
        ("29/1/2027", None),  # 29 January here, no day at all there
        ("01/02/2027", None),
        ("29 Jan", None),
    ],
)
def test_dates_with_a_month_in_letters(text: str, iso: str | None) -> None:
    try:
        assert str(GivenDate.parse(text)) == iso
    except ValueError:
        assert iso is None


# --- names, and accepting -------------------------------------------------------------------------------------------


def test_every_warning_has_a_name_that_is_listed() -> None:
    """Whatever is given as a warning in the code is named, and what is listed is given somewhere."""
    sources = "\n".join(file.read_text("utf-8") for file in Path(finplan.__file__).parent.rglob("*.py"))
    given = {name for name in re.findall(r'"([a-z]+(?:-[a-z]+)+)"', sources) if name in CONCERNS}
    assert given == CONCERNS.keys()
    assert not CONCERNS.keys() & bundled_catalogue().compatibility.keys()
    assert all(re.fullmatch(r"[a-z]+(-[a-z]+)*", name) for name in concerns_of(bundled_catalogue()))


TABLE = EXAMPLE.replace("2027-03-12 15:00", "2025-03-12").replace("ends: {exposure: covered}", "ends: {coats: 2}")
BARE = TABLE.replace("thickness: 28", "thickness: 28\n    faces: {underside: {coats: 0}}")


def test_what_is_accepted_is_not_told_again(tmp_path: Path, cli: Cli) -> None:
    file, shop = tmp_path / "table.yaml", tmp_path / "shop.yaml"
    shop.write_text("shop: Mill\npeople: [{name: Ada, hours: {mon-fri: 1:00-5:00}}]\n", encoding="utf-8")
    file.write_text(BARE, encoding="utf-8")
    told = json.loads(cli("check", file, "--json").out)
    assert {problem["name"] for problem in told["problems"]} == {
        "past-date", "bare-underside", "twelve-hour-times", "open-at-christmas"
    }  # fmt: skip
    assert told["sound"]
    assert "[bare-underside]" in cli("areas", file).err
    file.write_text(f"{BARE}accept: [past-date, bare-underside]\n", encoding="utf-8")
    shop.write_text(f"{shop.read_text('utf-8')}accept: [twelve-hour-times]\n", encoding="utf-8")
    told = json.loads(cli("check", file, "--json").out)
    assert [problem["name"] for problem in told["problems"]] == ["open-at-christmas"]
    assert told["accepted"] == ["bare-underside", "past-date", "twelve-hour-times"]
    assert cli("areas", file).err == ""


def test_one_warning_is_told_once(tmp_path: Path, cli: Cli) -> None:
    """Of several parts without a timber, and of one file that is planned six times."""
    file = tmp_path / "table.yaml"
    file.write_text(EXAMPLE.replace("timber: ash\n", ""), encoding="utf-8")
    told = [line for line in cli("check", file).out.splitlines() if "missing-timber" in line and "warning" in line]
    assert len(told) == 1
    assert "(also lines " in told[0]
    pieces = [tmp_path / f"bench-{number}.yaml" for number in range(6)]
    for piece in pieces:
        piece.write_text(BARE, encoding="utf-8")
    assert cli("materials", *pieces).err.count("the underside is left bare") == 1


def test_all_warnings_are_listed(cli: Cli) -> None:
    listed = cli("check", "--warnings")
    assert listed.status == 0
    assert [line.split()[0] for line in listed.out.splitlines()] == sorted(concerns_of(bundled_catalogue()))

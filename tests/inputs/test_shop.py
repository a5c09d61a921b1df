"""The shop file."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from finplan.catalogue import bundled_catalogue
from finplan.inputs import Shop, ShopFile
from finplan.problems import RefusedError
from tests.inputs.shops import load_shop

CATALOGUE = bundled_catalogue()

# The example of the shop format: an invented workshop.
SHOP = """\
shop: Harbour Lane workshop
units: metric
paper: a4
time-zone: Europe/London
people:
  - name: Ines
    hours: {mon-thu: [8:00-12:00, 12:30-17:00], fri: 8:00-13:00}
  - name: Tam
    hours: {tue: 9:00-12:00, thu: 9:00-12:00}
    skills: [sanding, coating]
closed: [2027-03-08, 2027-07-26 to 2027-08-06]
holidays: GB-SCT
rooms:
  bench: {for: [sanding, assembly]}
  finishing: {for: [coating, drying], volume: 60 m3, air-changes: 2, fan: 300 m3/h}
rack: {places: 12, hooks: 8}
climate:
  day: {from: 8:00, to: 18:00, temperature: 19 degC, humidity: 50 %}
  night: {temperature: 11 degC, humidity: 65 %}
methods: [wipe, brush, random-orbit-150, hand]
grits: [P80, P120, P150, P180, P240, P320]
buffer: 1 d
labour: 42 / h
overrides:
  finishes:
    hardwax-oil: {spread-rate: {first: 20/24/28 m2/l, next: 30/34/40 m2/l}, packs: [{size: 1 l, price: 61.50}]}
"""


def load(file: Path, text: str) -> ShopFile:
    file.write_text(text, encoding="utf-8")
    return load_shop(file, CATALOGUE)


def shop_of(tmp_path: Path, text: str = SHOP) -> Shop:
    return load(tmp_path / "shop.yaml", text).shop


def test_the_example(tmp_path: Path) -> None:
    shop = shop_of(tmp_path)
    assert [person.name for person in shop.people] == ["Ines", "Tam"]
    assert [(shift.start_min, shift.end_min) for shift in shop.people[0].hours[0]] == [(480, 720), (750, 1020)]
    assert shop.people[0].hours[5] == ()
    assert shop.people[1].skills == ("sanding", "coating")
    assert shop.room_for("coating") == "finishing"
    assert shop.rack.hooks == 8
    assert shop.buffer_h == 24.0
    assert shop.labour_per_h == 42.0


@pytest.mark.parametrize(
    ("day", "works"),
    [
        (date(2027, 3, 5), True),
        (date(2027, 3, 8), False),  # closed
        (date(2027, 8, 6), False),  # the last of the closed days
        (date(2027, 8, 9), True),
        (date(2027, 1, 2), False),  # Scotland keeps 2 January; the Bank Holidays (Scotland) order
        (date(2027, 12, 25), False),
    ],
)
def test_open_days(day: date, works: bool, tmp_path: Path) -> None:
    assert shop_of(tmp_path).open_on(day) is works


def test_whom_to_ring_is_kept_as_it_is_written(tmp_path: Path) -> None:
    """A number alone keeps its zero: nothing is reckoned with it."""
    assert shop_of(tmp_path).ring is None
    for written in ("Ada, +00 0000 000000", "0012 3456"):
        assert shop_of(tmp_path, f"{SHOP}ring: {written}\n").ring == written


def test_a_night_shift_crosses_midnight(tmp_path: Path) -> None:
    shop = shop_of(tmp_path, SHOP.replace("fri: 8:00-13:00", "fri: 22:00-6:00"))
    assert [(shift.start_min, shift.end_min) for shift in shop.people[0].hours[4]] == [(1320, 1800)]


def test_what_is_left_out_comes_from_the_default_shop(tmp_path: Path) -> None:
    loaded = load(tmp_path / "shop.yaml", "shop: Back room\nunits: us\n")
    assert loaded.shop.units == "us"
    assert "people" in loaded.defaults
    assert "units" not in loaded.defaults


@pytest.mark.parametrize(
    ("old", "new", "line", "words"),
    [
        ("Europe/London", "Europe/Londn", 4, "did you mean 'Europe/London'?"),
        ("mon-thu", "mon-thx", 7, "'thx' is not a day of the week"),
        ("12:30-17:00", "12:30-25:00", 7, "'25:00' is not a time of day"),
        ("12:30-17:00", "11:30-17:00", 7, "stretches on mon overlap"),
        ("2027-03-08", "2027-13-08", 11, "is not a day"),
        ("GB-SCT", "GB-XYZ", 12, "no subdivision 'XYZ'"),
        ("GB-SCT", "Scotland", 12, "country 'Scotland' is unknown"),
        ("[sanding, assembly]", "[sandng, assembly]", 14, "did you mean 'sanding'?"),
        ("places: 12", "places: -1", 16, "not a number of places"),
        ("temperature: 11 degC", "temperature: 11", 19, "'11' has no unit"),
        ("humidity: 65 %", "humidity: 165 %", 19, "is too large"),
        ("[wipe, brush", "[wip, brush", 20, "did you mean 'wipe'?"),
        ("P80", "P85", 21, "'P85' is not in the catalogue"),
        ("buffer:", "bufer:", 22, "did you mean 'buffer'?"),
        ("42 / h", "cheap", 23, "not a price of labour"),
        ("labour: 42 / h", "notes: {every-days: [x]}", 23, "did you mean 'every-day'?"),
        ("labour: 42 / h", "notes: {every-day: x}", 23, "stands where a list belongs"),
        ("labour: 42 / h", f"notes: {{every-day: [{'x' * 601}]}}", 23, "at most 600"),
        ("labour: 42 / h", f"ring: {'1' * 201}", 23, "at most 200"),
        ("labour: 42 / h", "ring: [Ada, 0]", 23, "a list is not text"),
        ("labour: 42 / h", "rings: Ada", 23, "did you mean 'ring'?"),
        ("  night: {temperature: 11 degC, humidity: 65 %}\n", "", 17, "day and night belong together"),
        ("[coating, drying]", "[coating]", 13, "no room is for drying"),
    ],
)
def test_refused(old: str, new: str, line: int, words: str, tmp_path: Path) -> None:
    with pytest.raises(RefusedError) as refused:
        shop_of(tmp_path, SHOP.replace(old, new))
    told = [str(problem) for problem in refused.value.problems]
    assert any(words in one for one in told), told
    assert any(problem.line == line for problem in refused.value.problems), told


LOG = "time,temperature,humidity\n2027-03-01 00:00,12,60\n2027-03-01 06:00,11,62\n2027-03-01 12:00,19,48\n"
LOGGED = SHOP.replace(
    "  day: {from: 8:00, to: 18:00, temperature: 19 degC, humidity: 50 %}\n"
    "  night: {temperature: 11 degC, humidity: 65 %}\n",
    "  log: logger.csv\n",
)


def test_a_log(tmp_path: Path) -> None:
    (tmp_path / "logger.csv").write_text(LOG, encoding="utf-8")
    log = shop_of(tmp_path, LOGGED).climate.log
    assert log is not None
    assert [reading.temperature_c for reading in log] == [12.0, 11.0, 19.0]


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        (LOG + "2027-03-01 20:00,18,50\n", "a gap of more than 6 h: 2027-03-01 12:00 to 2027-03-01 20:00"),
        (LOG + "2027-03-01 11:00,18,50\n", "line 5 is not later"),
        (LOG + "yesterday,18,50\n", "line 5 is not a reading"),
        (LOG + "2027-03-01 13:00,18\n", "line 5 is not a reading"),
        (LOG + "2027-03-01 13:00,180,50\n", "line 5 is not the air of a shop"),
        ("when,t,rh\n", "has the columns"),
        ("", "has the columns"),
    ],
)
def test_a_log_that_cannot_be_used(rows: str, words: str, tmp_path: Path) -> None:
    (tmp_path / "logger.csv").write_text(rows, encoding="utf-8")
    with pytest.raises(RefusedError, match=words):
        shop_of(tmp_path, LOGGED)


@pytest.mark.parametrize("name", ["/etc/passwd", "../logger.csv", "logger.txt", "nothing.csv"])
def test_a_log_from_elsewhere(name: str, tmp_path: Path) -> None:
    with pytest.raises(RefusedError):
        shop_of(tmp_path, LOGGED.replace("logger.csv", name))


def test_grades_of_both_scales(tmp_path: Path) -> None:
    """A number without a P is a CAMI grade, quoted or not."""
    file = tmp_path / "shop.yaml"
    file.write_text("shop: Mixed\ngrits: [P80, 120, '180', p220, CAMI 320]\n", encoding="utf-8")
    assert _mixed(file).grits == ("P80", "CAMI 120", "CAMI 180", "P220", "CAMI 320")


def _mixed(file: Path) -> Shop:
    return load_shop(file, CATALOGUE).shop


@pytest.mark.parametrize(
    ("grit", "told"),
    [
        ("P175", "'P175' is not in the catalogue; did you mean 'P180'?"),
        ("175", "'CAMI 175' is not in the catalogue; did you mean 'CAMI 180'?"),
        ("fine", "'fine' is not in the catalogue; expected a P-grade such as P180, or a CAMI grade such as 180"),
        ("[80]", "'[80]' is not a grade; expected a P-grade such as P180, or a CAMI grade such as 180"),
        ("1.5", "'1.5' is not a grade"),
    ],
)
def test_what_is_no_grade(grit: str, told: str, tmp_path: Path) -> None:
    file = tmp_path / "shop.yaml"
    file.write_text(f"shop: Mixed\ngrits: [P80, {grit}]\n", encoding="utf-8")
    with pytest.raises(RefusedError) as refused:
        _mixed(file)
    assert [str(problem) for problem in refused.value.problems if told in str(problem)]

"""The commands end to end, on the demo's files."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.conftest import EXAMPLE, Cli

FROM = ("--from", "2026-11-30")


def test_check(demo: Path, cli: Cli) -> None:
    ended = cli("check", demo / "round-table.yaml")
    assert (ended.status, ended.err) == (0, "")
    assert ended.out.endswith("in order: Round table for the mill reading room, 9 parts\n")


def test_check_json(demo: Path, cli: Cli) -> None:
    file = demo / "round-table.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("timber: ash", "timber: ahs"), encoding="utf-8")
    ended = cli("check", file, "--json")
    told = json.loads(ended.out)
    assert ended.status == 2
    assert told["format"] == "finplan-check/1"
    assert told["sound"] is False
    (problem,) = told["problems"]
    assert (problem["line"], problem["where"]) == (6, "timber")


@pytest.mark.parametrize("name", ["round-table", "hall-bench", "book-shelf"])
@pytest.mark.parametrize("command", ["areas", "materials", "sanding", "timetable"])
@pytest.mark.parametrize("units", [None, "metric", "us"])
def test_every_table_is_aligned_and_narrow_enough(
    command: str, name: str, units: str | None, demo: Path, cli: Cli
) -> None:
    dated = FROM if command == "timetable" else ()
    shown = ("--units", units) if units else ()
    ended = cli(command, demo / f"{name}.yaml", *dated, *shown)
    assert (ended.status, ended.err) == (0, "")
    for line in ended.out.splitlines():
        assert len(line) <= 120, line
        assert line == line.rstrip()


@pytest.mark.parametrize(
    ("command", "form"),
    [
        ("areas", "finplan-areas/1"),
        ("materials", "finplan-materials/1"),
        ("sanding", "finplan-sanding/1"),
        ("timetable", "finplan-timetable/1"),
    ],
)
def test_json(command: str, form: str, demo: Path, cli: Cli) -> None:
    dated = FROM if command == "timetable" else ()
    arguments = (command, demo / "round-table.yaml", *dated, "--json")
    first, second = cli(*arguments), cli(*arguments)
    assert first.out == second.out
    assert json.loads(first.out)["format"] == form


def test_us_units_change_what_is_shown_and_nothing_else(demo: Path, cli: Cli) -> None:
    file = demo / "round-table.yaml"
    assert cli("areas", file, "--json").out == cli("areas", file, "--json", "--units", "us").out
    assert "ft²" in cli("areas", file, "--units", "us").out
    assert "m²" in cli("areas", file).out


def test_the_default_shop_is_named(demo: Path, cli: Cli) -> None:
    (demo / "shop.yaml").unlink()
    said = cli("materials", demo / "round-table.yaml").out.splitlines()[1]
    assert said == (
        "No shop file: the default shop is assumed, Mon–Fri 08:00–12:00, 13:00–17:00, "
        "20 °C by day and 16 °C at night; name yours with --shop."
    )


def test_what_a_shop_overrules(demo: Path, cli: Cli) -> None:
    shop = demo / "shop.yaml"
    label = (
        "overrides:\n  finishes:\n    hardwax-oil:\n"
        "      spread-rate: {first: 40/44/48 m2/l}\n      packs: [{size: 1 l, price: 61.50}]\n"
    )
    plain = json.loads(cli("materials", demo / "round-table.yaml", "--shop", shop, "--json").out)["materials"][0]
    shop.write_text(shop.read_text(encoding="utf-8") + label, encoding="utf-8")
    ended = cli("materials", demo / "round-table.yaml", "--shop", shop, "--json")
    overruled = json.loads(ended.out)["materials"][0]
    assert overruled["needed"]["typical"] < plain["needed"]["typical"]
    assert overruled["buy"] == [{"pack": 1000.0, "count": 1, "price": 61.5}]
    assert overruled["cost"] == 61.5
    assert plain["cost"] is None


@pytest.mark.parametrize(
    ("label", "words"),
    [
        ("  finishes: {hardwx-oil: {cure: 5 d}}", "did you mean 'hardwax-oil'?"),
        ("  finish: {hardwax-oil: {cure: 5 d}}", "did you mean 'finishes'?"),
        ("  finishes: {hardwax-oil: {cures: 5 d}}", "did you mean 'cure'?"),
        ("  finishes: {hardwax-oil: {spread-rate: {first: 40/30/20 m2/l}}}", "not in order"),
    ],
)
def test_an_override_that_is_wrong(label: str, words: str, demo: Path, cli: Cli) -> None:
    shop = demo / "shop.yaml"
    shop.write_text(shop.read_text(encoding="utf-8") + f"overrides:\n{label}\n", encoding="utf-8")
    ended = cli("materials", demo / "round-table.yaml", "--shop", shop)
    line = len(shop.read_text(encoding="utf-8").splitlines())
    assert ended.status == 2
    assert f"{shop}:{line}:" in ended.err
    assert words in ended.err


def test_more_confidence_never_needs_less(demo: Path, cli: Cli) -> None:
    def needed(sure: str) -> float:
        told = json.loads(cli("materials", demo / "round-table.yaml", "--sure", sure, "--json").out)
        return float(told["materials"][0]["needed"]["at_confidence"])

    assert needed("50 %") < needed("90%") < needed("99")


@pytest.mark.parametrize("sure", ["lots", "10 %", "100 %"])
def test_a_confidence_that_is_none(sure: str, demo: Path, cli: Cli) -> None:
    ended = cli("materials", demo / "round-table.yaml", "--sure", sure)
    assert ended.status == 2
    assert "--sure" in ended.err


def test_a_timetable_that_does_not_fit(demo: Path, cli: Cli) -> None:
    arguments = ("timetable", demo / "round-table.yaml", "--from", "2026-12-01", "--deliver", "2026-12-02")
    ended = cli(*arguments)
    assert ended.status == 3
    assert ended.out.splitlines()[3] == "This does not fit."
    told = json.loads(cli(*arguments, "--json").out)
    assert told["status"] == "impossible"
    assert told["clashes"]
    assert told["steps"] == []


@pytest.mark.parametrize("option", ["--from", "--deliver"])
def test_a_date_that_is_none(option: str, demo: Path, cli: Cli) -> None:
    ended = cli("timetable", demo / "round-table.yaml", option, "tomorrow")
    assert ended.status == 2
    assert "is not a date" in ended.err


def test_catalogue(cli: Cli) -> None:
    told = json.loads(cli("catalogue", "--json").out)
    assert told["format"] == "finplan-catalogue/1"
    assert "hardwax-oil" in told["kinds"]["finishes"]
    assert len(told["kinds"]["finishes"]) >= 8
    assert len(told["kinds"]["systems"]) >= 4
    assert len(told["kinds"]["timbers"]) >= 10
    assert "[practice]" in cli("catalogue", "hardwax-oil").out
    misspelt = cli("catalogue", "hardwx-oil")
    assert misspelt.status == 2
    assert "did you mean 'hardwax-oil'?" in misspelt.err


@pytest.mark.parametrize(
    ("label", "words"),
    [
        ("sanding-methods: {hand: {bare-wood: {flat: 0 m2/h}}}", "is too small"),
        ("sanding-methods: {hand: {bare-wood: {life: 0 min}}}", "is out of range"),
        ("abrasives: {sheet: {packs: [0]}}", "packs[0]"),
        ("methods: {wipe: {loss: 100 %}}", "is too large"),
        ("methods: {spray-hvlp: {transfer: 0 %}}", "is too small"),
        ("surfaces: {planed: {start: P999}}", "is not among the P-grades"),
        ("absorption: {ring-porous: {first: 0/1/2}}", "is too small"),
        ("drying: {oxidation: {by: vapour-pressure}}", "says no heat"),
        ("work: {raise-grain: {speed: 0 m2/h}}", "is too small"),
        ("finishes: {hardwax-oil: {wipe-off: 0 min}}", "nobody wipes off at once"),
        ("finishes: {shellac: {wet-edge: 0/1/2 min}}", "never wet"),
        ("finishes: {polyurethane-2k: {apply: {temperature: -9 to 0 degC, humidity: 30 to 75 %}}}", "in frost alone"),
    ],
)
def test_an_override_that_nothing_could_be_computed_with(label: str, words: str, demo: Path, cli: Cli) -> None:
    shop = demo / "shop.yaml"
    shop.write_text(shop.read_text(encoding="utf-8") + f"overrides:\n  {label}\n", encoding="utf-8")
    for command in ("materials", "sanding", "timetable"):
        ended = cli(command, demo / "round-table.yaml", "--shop", shop)
        assert ended.status == 2
        assert f"{shop}:" in ended.err
        assert words in ended.err


@pytest.mark.parametrize("day", ["9999-12-31", "0001-01-01", "2027-02-05 25:00", "2027-02-30"])
def test_days_beyond_any_calendar(day: str, demo: Path, cli: Cli) -> None:
    piece = demo / "round-table.yaml"
    assert cli("timetable", piece, "--from", day).status == 2
    assert "is not a date" in cli("timetable", piece, "--deliver", day).err
    lines = piece.read_text(encoding="utf-8").splitlines()
    piece.write_text("\n".join(f"deliver: {day}" if line.startswith("deliver") else line for line in lines))
    assert cli("check", piece).status == 2


def test_check_tells_what_the_air_does_to_the_wood(tmp_path: Path) -> None:
    """By the Hailwood-Horrobin equation of the Wood Handbook, wood at 18 °C and 75 % settles far above 10 %."""
    (tmp_path / "shop.yaml").write_text(
        "shop: X\nclimate:\n  day: {from: 8:00, to: 18:00, temperature: 18 degC, humidity: 75 %}\n"
        "  night: {temperature: 18 degC, humidity: 75 %}\n",
        encoding="utf-8",
    )
    (tmp_path / "table.yaml").write_text(EXAMPLE, encoding="utf-8")
    command = [sys.executable, "-m", "finplan", "check", "table.yaml", "--shop", "shop.yaml"]
    done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=tmp_path)
    assert done.returncode == 0
    assert "shop.yaml:2:1: warning: climate: wood in this air settles at 1" in done.stdout

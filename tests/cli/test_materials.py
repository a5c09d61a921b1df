"""The materials command end to end: several pieces, JSON, CSV, shelf, prices."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path
from typing import Any

import pytest

from tests.conftest import Cli

SHELF = """\
shelf:
  - {finish: hardwax-oil, left: 150 ml, opened: 2026-10-01}
  - {finish: hardwax-oil, left: 90 ml, opened: 2024-01-01}
  - {solvent: white-spirit, left: 1 l}
  - {consumable: nitrile-gloves, left: 40}
"""
PRICES = """\
overrides:
  finishes:
    hardwax-oil: {packs: [{size: 500 ml, price: 24.50}, {size: 1 l, price: 41}]}
"""
ALL = ("round-table", "hall-bench", "book-shelf")


def told(cli: Cli, *arguments: object) -> dict[str, Any]:
    ended = cli("materials", *arguments, "--json")
    assert ended.status == 0, ended.err
    data: dict[str, Any] = json.loads(ended.out)
    return data


def shop_with(demo: Path, *more: str) -> Path:
    file = demo / "shop.yaml"
    file.write_text(file.read_text(encoding="utf-8") + "".join(more), encoding="utf-8")
    return file


def material(data: dict[str, Any], name: str) -> dict[str, Any]:
    found: dict[str, Any] = next(one for one in data["materials"] if one["material"] == name)
    return found


@pytest.mark.parametrize("sure", ["50%", "90 %", "99 %"])
def test_what_the_json_holds(sure: str, demo: Path, cli: Cli) -> None:
    data = told(cli, *(demo / f"{name}.yaml" for name in ALL), "--sure", sure)
    assert data["format"] == "finplan-materials/1"
    assert data["confidence"] == pytest.approx(float(sure.rstrip(" %")) / 100)
    for one in data["materials"]:
        assert one["measure"] in ("ml", "g")
        needed = one["needed"]
        assert needed["low"] <= needed["typical"] <= needed["high"]
        assert needed["at_confidence"] >= needed["typical"] * (1 - 1e-9)
        of_coats = {level: sum(coat["needed"][level] for coat in one["coats"]) for level in needed}
        assert of_coats["typical"] == pytest.approx(needed["typical"])
        # Coats are not all at their worst at once.
        assert of_coats["low"] <= needed["low"] * (1 + 1e-9)
        assert of_coats["high"] >= needed["high"] * (1 - 1e-9)
        if data["confidence"] > 0.5:
            assert of_coats["at_confidence"] >= needed["at_confidence"] * (1 - 1e-9)
        bought = sum(pack["pack"] * pack["count"] for pack in one["buy"])
        assert bought + one["on_shelf"] >= needed["at_confidence"] * (1 - 1e-9)
        assert one["enough_probability"] >= data["confidence"] - 1e-9
        assert one["left_over"] == pytest.approx(max(0.0, bought + one["on_shelf"] - needed["typical"]))
        assert one["cost"] is None
    for one in data["consumables"]:
        bought = sum(pack["pack"] * pack["count"] for pack in one["buy"])
        assert bought + one["on_shelf"] >= one["needed"]["at_confidence"]


def test_several_pieces_make_one_order(demo: Path, cli: Cli) -> None:
    files = [demo / f"{name}.yaml" for name in ALL]
    together = told(cli, *files)
    apart = [told(cli, file) for file in files]
    for one in together["materials"]:
        alone = [found for data in apart for found in data["materials"] if found["material"] == one["material"]]
        assert one["needed"]["at_confidence"] <= sum(found["needed"]["at_confidence"] for found in alone) + 1e-9
        assert len(one["coats"]) <= sum(len(found["coats"]) for found in alone)
    assert {coat["piece"] for one in together["materials"] for coat in one["coats"]} > {
        "Round table for the mill reading room",
        "Hall bench",
    }
    ended = cli("materials", *files)
    assert ended.out.splitlines()[:3] == ["Round table for the mill reading room", "Hall bench", "Shelf for atlases"]
    assert "What each coat takes: Hall bench" in ended.out
    assert (
        ended.out.count("\nWhat is worn and kept ready for safety is listed by 'finplan safety' and on the sheet") == 1
    )


def test_a_piece_in_two_files_needs_no_more(demo: Path, cli: Cli) -> None:
    whole = demo / "round-table.yaml"
    text = whole.read_text(encoding="utf-8")
    head, _, parts = text.partition("parts:\n  top:")
    top, _, rest = parts.partition("  leg:")
    one, other = demo / "one.yaml", demo / "other.yaml"
    one.write_text(f"{head.partition('assemblies:')[0]}parts:\n  top:{top}", encoding="utf-8")
    other.write_text(f"{head}parts:\n  leg:{rest}", encoding="utf-8")
    for sure in ("50 %", "95 %"):
        as_one = told(cli, whole, "--sure", sure)
        as_two = told(cli, one, other, "--sure", sure)
        assert [found["needed"] for found in as_two["materials"]] == [
            pytest.approx(found["needed"]) for found in as_one["materials"]
        ]
        assert [found["buy"] for found in as_two["materials"]] == [found["buy"] for found in as_one["materials"]]


def test_the_shelf_is_used_first(demo: Path, cli: Cli) -> None:
    plain = told(cli, demo / "round-table.yaml")
    shop = shop_with(demo, SHELF)
    data = told(cli, demo / "round-table.yaml", "--shop", shop)
    oil = material(data, "hardwax-oil")
    assert oil["on_shelf"] == 150.0
    assert [one["left"] for one in oil["spoiled"]] == [90.0]
    bought = [sum(p["pack"] * p["count"] for p in material(one, "hardwax-oil")["buy"]) for one in (data, plain)]
    assert bought[0] < bought[1]
    assert material(data, "white-spirit")["buy"] == []
    safety = cli("safety", demo / "round-table.yaml", "--shop", shop, "--json")
    assert safety.status == 0, safety.err
    needs = [one["need"] for one in json.loads(safety.out)["gear"]["buy"]]
    (gloves,) = (one for one in needs if one["consumable"] == "nitrile-gloves")
    assert (gloves["on_shelf"], gloves["buy"]) == (40.0, [])
    said = cli("materials", demo / "round-table.yaml").out
    assert "Not counted: 90 ml of Hardwax oil, opened Mon 1 Jan 2024" in said


def test_prices_that_are_given_and_not(demo: Path, cli: Cli) -> None:
    shop = shop_with(demo, PRICES)
    data = told(cli, demo / "round-table.yaml", "--shop", shop)
    assert material(data, "hardwax-oil")["cost"] == 24.5  # half a litre, of which 445 ml are needed
    assert material(data, "white-spirit")["cost"] is None
    assert data["cost"] is None
    said = cli("materials", demo / "round-table.yaml", "--shop", shop).out
    assert "Together 24.50 for what has a price, without what is bought for safety." in said


def test_the_rows_of_the_spreadsheet(demo: Path, cli: Cli) -> None:
    ended = cli("materials", demo / "book-shelf.yaml", "--shop", shop_with(demo, PRICES), "--csv")
    assert ended.status == 0
    rows = list(csv.DictReader(io.StringIO(ended.out)))
    data = told(cli, demo / "book-shelf.yaml")
    packs = [pack for one in data["materials"] for pack in one["buy"]]
    bought = [row for row in rows if row["kind"] in ("finish", "solvent")]
    assert [float(row["pack"]) for row in bought] == pytest.approx([pack["pack"] for pack in packs], abs=1e-3)
    assert [int(row["count"]) for row in bought] == [pack["count"] for pack in packs]
    assert all(row["price"] == row["cost"] == "" for row in rows)  # not given, and not zero
    assert {row["kind"] for row in rows} == {"finish", "solvent", "abrasive", "consumable"}


def test_finishes_are_called_by_their_titles(demo: Path, cli: Cli) -> None:
    said = cli("materials", *(demo / f"{name}.yaml" for name in ALL)).out
    for key in ("hardwax-oil", "waterborne-polyurethane", "oil-varnish-blend", "acrylic-enamel"):
        assert key not in said
    assert "Waterborne polyurethane or acrylic varnish\n  seat " in said


def test_coats_that_are_alike_share_a_line(demo: Path, cli: Cli) -> None:
    (demo / "shop.yaml").unlink()  # the default shop sprays too
    piece = demo / "round-table.yaml"
    text = piece.read_text(encoding="utf-8").replace("system: hardwax-oil", "system: shellac")
    piece.write_text(text, encoding="utf-8")
    rows = [line.split() for line in cli("materials", piece, "--units", "metric").out.splitlines()]
    measured = [row for row in rows if row[:1] == ["top"]]
    # Coat 1 is thinned, coats 2 to 4 are as they are, coat 5 is wax, which is weighed: once each in two tables.
    assert [row[1:3] for row in measured] == [["coat", "1"], ["coats", "2–4"], ["coat", "5"]] * 2
    assert measured[2][6] == measured[5][4] == "g"
    assert [row[2:4] for row in rows if row[:2] == ["sample", "board"]][:2] == [["all", "coats"], ["coat", "5"]]


def test_a_strength_in_the_units_of_the_shop(demo: Path, cli: Cli) -> None:
    (demo / "shop.yaml").unlink()  # the default shop sprays too
    piece = demo / "round-table.yaml"
    text = piece.read_text(encoding="utf-8").replace("system: hardwax-oil", "system: shellac")
    piece.write_text(text, encoding="utf-8")
    # A two pound cut: two pounds to a gallon of four quarts are eight ounces to a quart.
    assert "(8 oz to a quart, a 2 lb cut)" in cli("materials", piece, "--units", "us").out
    assert "(240 g to a litre, a 2 lb cut)" in cli("materials", piece, "--units", "metric").out


def test_what_is_opened_after_it_is_needed_is_not_counted(demo: Path, cli: Cli) -> None:
    shop = shop_with(demo, "shelf: [{finish: hardwax-oil, left: 2 l, opened: 2099-01-01}]\n")
    oil = material(told(cli, demo / "round-table.yaml", "--shop", shop), "hardwax-oil")
    assert (oil["on_shelf"], oil["spoiled"][0]["good_until"], bool(oil["buy"])) == (0.0, None, True)
    said = cli("materials", demo / "round-table.yaml", "--shop", shop).out
    assert "Not counted: 2 L of Hardwax oil, opened Thu 1 Jan 2099, after it is needed." in said


def test_json_or_csv(demo: Path, cli: Cli) -> None:
    ended = cli("materials", demo / "round-table.yaml", "--csv", "--json")
    assert ended.status == 2
    assert "either --json or --csv" in ended.err


def test_two_pieces_of_one_name(demo: Path, cli: Cli) -> None:
    data = told(cli, demo / "hall-bench.yaml", demo / "hall-bench.yaml")
    pieces = {coat["piece"] for one in data["materials"] for coat in one["coats"]}
    assert pieces == {"Hall bench (hall-bench-1)", "Hall bench (hall-bench-2)", ""}


@pytest.mark.parametrize("system", ["shellac", "polyurethane-2k", "casein-paint", "catalysed-lacquer", "soap"])
@pytest.mark.parametrize("units", ["metric", "us"])
def test_every_way_of_buying_fits_the_screen(system: str, units: str, demo: Path, cli: Cli) -> None:
    (demo / "shop.yaml").unlink()  # the default shop sprays too
    piece = demo / "round-table.yaml"
    text = piece.read_text(encoding="utf-8").replace("system: hardwax-oil", f"system: {system}")
    piece.write_text(text, encoding="utf-8")
    ended = cli("materials", piece, "--units", units)
    assert ended.status == 0
    assert "nan" not in ended.out
    assert "None" not in ended.out
    for line in ended.out.splitlines()[2:]:
        assert len(line) <= 115, line
        assert line == line.rstrip()


@pytest.mark.parametrize(
    ("label", "words"),
    [
        ("finishes: {hardwax-oil: {density: 0 g/l}}", "is out of range"),
        ("finishes: {shellac: {dissolve: {strength: 0 g/l}}}", "is out of range"),
        ("finishes: {shellac: {dissolve: {liquid: etanol}}}", "did you mean 'ethanol'?"),
        ("finishes: {hardwax-oil: {packs: [{parts: [1 l, 250 ml]}]}}", "does not fit the mix"),
        ("finishes: {hardwax-oil: {packs: [1 l, 500 g]}}", "volumes and masses are mixed"),
        (
            "finishes: {polyurethane-2k: {mix: {components: [{name: a, parts: 1e300}, {name: b, parts: 1}]}}}",
            "does not fit",
        ),
        ("consumables: {dust-mask: {life: 0/8/8 h}}", "is out of range"),
        ("consumables: {dust-mask: {spared-by: mask}}", "is not among the consumables"),
        ("consumables: {dust-mask: {packs: [{count: 10, price: 0}]}}", "is not a price"),
        ("allowances: {sample-board: {area: -1 m2}}", "is out of range"),
        ("absorption: {sanded-fine: {finest: P999}}", "is not among the P-grades"),
        ("systems: {oil-varnish: {steps: [{do: coat, finish: oil-varnish, dry-film: 3 mm}]}}", "is out of range"),
    ],
)
def test_what_nothing_could_be_computed_with(label: str, words: str, demo: Path, cli: Cli) -> None:
    shop = shop_with(demo, f"overrides:\n  {label}\n")
    ended = cli("materials", demo / "round-table.yaml", "--shop", shop)
    assert ended.status == 2
    assert f"{shop}:" in ended.err
    assert words in ended.err


@pytest.mark.parametrize(
    "label",
    [
        "methods: {wipe: {fixed-loss: 0/20/30 ml, rinse: 0 ml}}",
        "finishes: {hardwax-oil: {spread-rate: {first: 0.1/1/1000 m2/l}}}",
        "finishes: {hardwax-oil: {packs: [0.001 ml]}}",
        "finishes: {hardwax-oil: {sold-by: mass}}",
        "finishes: {hardwax-oil: {packs: [{size: 500 g, price: 20}]}}",
        "solvents: {white-spirit: {packs: [{size: 800 g, price: 4}]}}",
        "allowances: {sample-board: {area: 0 m2}}",
    ],
)
def test_what_is_odd_but_can_be_computed_with(label: str, demo: Path, cli: Cli) -> None:
    data = told(cli, demo / "round-table.yaml", "--shop", shop_with(demo, f"overrides:\n  {label}\n"))
    for one in data["materials"]:
        held = sum(pack["pack"] * pack["count"] for pack in one["buy"]) + one["on_shelf"]
        assert held >= one["needed"]["at_confidence"] * (1 - 1e-9)


def test_the_total_of_a_plan_that_is_held_is_that_of_the_sheet(demo: Path, cli: Cli) -> None:
    """What is worn for safety follows from the timetable: it is told, and in the total, where one is held."""
    oil = "hardwax-oil: {packs: [{size: 500 ml, price: 31.50}]}"
    gloves = "nitrile-gloves: {packs: [{count: 10, price: 4.25}]}"
    shop, piece = demo / "shop.yaml", demo / "round-table.yaml"
    shop.write_text(f"{shop.read_text()}overrides:\n  finishes: {{{oil}}}\n  consumables: {{{gloves}}}\n")
    before = told(cli, piece)
    assert (before["safety"], before["cost_with_safety"]) == (None, None)
    said = " ".join(cli("materials", piece).out.split())
    assert "Together 31.50 for what has a price, without what is bought for safety." in said
    sheet = demo / "sheet.html"
    assert cli("sheet", piece, "--from", "2026-11-30", "-o", sheet).status == 0
    printed = " ".join(sheet.read_text(encoding="utf-8").split())
    after = told(cli, piece)
    worn = {one["consumable"]: one["needed"]["at_confidence"] for one in after["safety"]}
    assert worn["nitrile-gloves"] > 0
    plan = json.loads(cli("plan", piece).out)
    assert after == plan["materials"]
    assert [one["need"] for one in plan["safety"]["gear"]["buy"]] == after["safety"]
    said = " ".join(cli("materials", piece).out.split())
    assert "What is worn and used up for safety" in said
    assert "Together 35.75 for what has a price." in said
    assert "35.75 for what has a price" in printed
    rows = cli("materials", piece, "--csv").out.splitlines()
    assert sum(row.startswith("safety,") for row in rows) == len(after["safety"])

"""The systems side by side."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from tests.conftest import Cli
from tests.plan_guide import read_schema
from tests.plan_schema import ANSWERS
from tests.planned_once import made_at_once

FROM = ("--from", "2026-12-01")


def told(cli: Cli, piece: Path, *more: object) -> dict[str, dict[str, object]]:
    ended = cli("systems", piece, *FROM, *more, "--json")
    assert ended.status == 0
    result = json.loads(ended.out)
    assert result["format"] == "finplan-systems/1"
    Draft202012Validator(read_schema(ANSWERS)).validate(result)
    return {system["system"]: system for system in result["systems"]}


def test_every_system_is_tried(demo: Path, cli: Cli) -> None:
    found = told(cli, demo / "round-table.yaml")
    catalogue = json.loads(cli("catalogue", "--json").out)
    assert list(found) == catalogue["kinds"]["systems"]
    assert found["hardwax-oil"]["verdict"] == "in time"
    assert found["lacquer"]["verdict"] == "not here"  # nobody sprays there
    assert "which the shop does not have" in str(found["lacquer"]["why"])


def test_the_same_as_planned_by_itself(demo: Path, cli: Cli) -> None:
    # What the comparison says of the piece's own system is what the other commands say.
    piece, shop = demo / "round-table.yaml", demo / "shop.yaml"
    one = told(cli, piece, "--shop", shop)["hardwax-oil"]
    need = json.loads(cli("materials", piece, "--shop", shop, "--json").out)["materials"][0]["needed"]
    assert one["coats"] == 2
    assert one["volume_ml"] == pytest.approx({level: need[level] for level in ("low", "typical", "high")})
    text = piece.read_text(encoding="utf-8")
    piece.write_text("\n".join(line for line in text.splitlines() if not line.startswith("deliver")), encoding="utf-8")
    at_once = json.loads(cli("timetable", piece, "--shop", shop, *FROM, "--json").out)
    assert one["ready"] == at_once["ready"]


@pytest.mark.parametrize(("deliver", "verdict"), [("2026-12-03", "late"), ("2026-12-20", "in time")])
def test_the_date_decides(deliver: str, verdict: str, demo: Path, cli: Cli) -> None:
    found = told(cli, demo / "round-table.yaml", "--deliver", deliver)
    assert found["hardwax-oil"]["verdict"] == verdict


def test_a_part_that_names_its_own_system_keeps_it(demo: Path, cli: Cli) -> None:
    # The shelf's top is oiled whatever the case gets: every candidate holds its three coats' worth of oil.
    with made_at_once():
        found = told(cli, demo / "book-shelf.yaml")
    oil = json.loads(cli("materials", demo / "book-shelf.yaml", "--json").out)
    (blend,) = (material for material in oil["materials"] if material["material"] == "oil-varnish-blend")
    for one in found.values():
        if one["volume_ml"]:
            assert one["volume_ml"]["typical"] >= blend["needed"]["typical"]  # type: ignore[index]


def test_the_work_never_comes_to_more_than_all_of_it(demo: Path, cli: Cli) -> None:
    """Oil that soaks in beside the next coat is charged once: its work was told at more than work and oil together."""
    shop = demo / "shop.yaml"
    rated = shop.read_text(encoding="utf-8") + "rates: {hour: 55 EUR}\n"
    shop.write_text(rated, encoding="utf-8")
    with made_at_once():
        found = told(cli, demo / "round-table.yaml")
        lines = cli("systems", demo / "round-table.yaml", *FROM).out.splitlines()
    worth = {name: one for name, one in found.items() if one["labour"] and one["price"]}
    assert {"linseed-oil", "tung-oil", "hardwax-oil"} <= set(worth)
    for name, one in worth.items():
        assert float(str(one["labour"])) <= one["price"]["typical"] + 1e-6, name  # type: ignore[index]
    assert re.search(r"^linseed-oil .* [1-9]\d+ EUR +[1-9]\d+ EUR \+$", "\n".join(lines), re.MULTILINE)


def test_for_people(demo: Path, cli: Cli) -> None:
    ended = cli("systems", demo / "round-table.yaml", *FROM)
    assert ended.status == 0
    lines = ended.out.splitlines()
    assert all(len(line) <= 120 for line in lines)
    assert any(line.startswith("hardwax-oil ") for line in lines)
    assert any("cloths catch fire by themselves" in line for line in lines)
    assert "These do not fit:" in lines


@pytest.mark.parametrize(
    ("units", "volumes", "masses"), [("us", {"fl oz", "qt", "gal"}, {"oz", "lb"}), ("metric", {"ml", "L"}, {"g", "kg"})]
)
def test_a_column_is_in_one_unit_of_the_shop(
    units: str, volumes: set[str], masses: set[str], demo: Path, cli: Cli
) -> None:
    """Vapour of 18 oz stood as 1.1 lb among ounces, and a litre among millilitres: figures did not compare."""
    with made_at_once():
        lines = cli("systems", demo / "book-shelf.yaml", *FROM, "--units", units).out.splitlines()
        found = told(cli, demo / "book-shelf.yaml")
    rows = [re.search(r"\d h +([\d.]+) ([a-zL ]+?) +([\d.]+) ([a-z]+) +\d ", line) for line in lines]
    told_rows = [row.groups() for row in rows if row is not None]
    assert len(told_rows) == sum(one["days"] is not None for one in found.values())
    of_volume, of_mass = ({row[at] for row in told_rows} for at in (1, 3))
    assert (len(of_volume), len(of_mass)) == (1, 1)
    assert of_volume < volumes
    assert of_mass < masses


def test_the_vapour_of_thinner_counts(demo: Path, cli: Cli) -> None:
    # Pure tung oil holds no solvent; thinned one to one for its first coat it gives off that of the thinner.
    assert float(str(told(cli, demo / "round-table.yaml")["tung-oil"]["voc_g"])) > 50


def test_a_piece_without_a_system(demo: Path, cli: Cli) -> None:
    piece = demo / "round-table.yaml"
    piece.write_text(piece.read_text(encoding="utf-8").replace("system: hardwax-oil\n", ""), encoding="utf-8")
    assert told(cli, piece)["wax"]["verdict"] == "in time"

"""What ``finplan sanding`` tells."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.conftest import Cli

CABINET = """\
piece: Cabinet
lengths: mm
timber: walnut
system: stain-and-varnish
parts:
  top: {shape: rectangle, length: 900, width: 500, thickness: 19, veneer: 0.6, faces: {edge: {surface: sawn}}}
  rail: {shape: board, count: 2, length: 600, width: 80, thickness: 20, faces: {ends: {exposure: covered}}}
"""
SHOP = "shop: Test\nmethods: [wipe, brush, random-orbit-125, hand]\ngrits: [P80, P150, P180, P240, P320]\n"


@pytest.fixture
def told(tmp_path: Path, cli: Cli) -> dict[str, Any]:
    """The JSON of the cabinet."""
    (tmp_path / "cabinet.yaml").write_text(CABINET, encoding="utf-8")
    (tmp_path / "shop.yaml").write_text(SHOP, encoding="utf-8")
    ended = cli("sanding", tmp_path / "cabinet.yaml", "--shop", tmp_path / "shop.yaml", "--json")
    assert ended.status == 0
    found: dict[str, Any] = json.loads(ended.out)
    return found


def test_the_form_of_the_data(told: dict[str, Any]) -> None:
    assert told["format"] == "finplan-sanding/1"
    assert [part["part"] for part in told["parts"]] == ["top", "rail"]
    for part in told["parts"]:
        for group in part["groups"]:
            assert set(group) >= {"faces", "surface", "steps", "stop_reason"}
            for step in group["steps"]:
                assert set(step) >= {"grit", "size_um", "method", "minutes", "use"}
                assert 0 < step["minutes"]["low"] <= step["minutes"]["typical"] <= step["minutes"]["high"]
                assert set(step["use"]) == {"product", "low", "typical", "high"}
    for need in told["abrasives"]:
        assert set(need) >= {"product", "grit", "needed", "packs"}
        assert sum(pack["packs"] * pack["of"] for pack in need["packs"]) >= need["needed"]["high"]
    assert told["dust_g"]["low"] < told["dust_g"]["typical"] < told["dust_g"]["high"]


def test_where_the_cap_is_passed_and_what_to_buy(told: dict[str, Any]) -> None:
    """201 µm to 100 µm is 2.01, over 1.5 under a stain; P100 alone leaves 162/100 = 1.62, P120 alone 201/125 = 1.61."""
    edge = next(group for group in told["parts"][0]["groups"] if group["faces"] == ["edge"])
    assert [step["grit"] for step in edge["steps"]] == ["P80", "P150", "P180"]
    (fall,) = edge["beyond_cap"]
    assert (fall["from"], fall["to"], round(fall["ratio"], 2)) == ("P80", "P150", 2.01)
    assert edge["cap"] == 1.5
    assert edge["buy"] == ["P100", "P120"]
    assert edge["mended"] == ["P80", "P100", "P120", "P150", "P180"]
    assert set(told["buy_grits"]) >= {"P100", "P120"}


def test_the_veneer_and_both_scales(told: dict[str, Any]) -> None:
    top = told["parts"][0]["groups"][0]
    assert top["veneer"]["budget_mm"] == pytest.approx(0.15)
    assert top["veneer"]["depth_mm"]["typical"] < 0.15
    assert [(step["p_grade"], step["cami"]) for step in top["steps"]] == [("P150", "CAMI 150"), ("P180", "CAMI 180")]


def test_what_follows_and_the_order(told: dict[str, Any]) -> None:
    assert [(work["item"], work["grit"]) for work in told["later"]] == [
        (i, "P320") for i in ("top", "top", "rail", "rail")
    ]
    assert [step["do"] for step in told["order"] if step["item"] == "rail"] == ["sand", "mask"]
    assert told["extraction"]["limits"][0]["limit_mg_m3"] == 1.0


def test_it_agrees_with_the_order_of_materials(tmp_path: Path, told: dict[str, Any], cli: Cli) -> None:
    """What is needed is one figure; the order counts packs for the certainty asked for, sanding for the high end."""
    files = (tmp_path / "cabinet.yaml", "--shop", tmp_path / "shop.yaml")
    order = json.loads(cli("materials", *files, "--json").out)
    listed = {(one["grit"], one["needed"]["high"]) for one in order["consumables"] if one["grit"]}
    assert listed == {(one["grit"], one["needed"]["high"]) for one in told["abrasives"]}


def test_a_veneer_sanded_through_is_refused_by_every_command(tmp_path: Path, cli: Cli) -> None:
    file = tmp_path / "cabinet.yaml"
    file.write_text(CABINET.replace("veneer: 0.6", "veneer: 0.6, surface: sawn"), encoding="utf-8")
    for command in ("check", "sanding", "materials"):
        ended = cli(command, file)
        assert ended.status == 2
        assert "cabinet.yaml:6:" in ended.err + ended.out
        assert "into a veneer of 0.6 mm, which has 0.15 mm to spare" in ended.err + ended.out


def test_the_room_gives_the_dust_a_meaning(tmp_path: Path, cli: Cli) -> None:
    (tmp_path / "cabinet.yaml").write_text(CABINET, encoding="utf-8")
    room = "rooms: {shop: {for: [sanding, assembly, coating, drying], volume: 60 m3}}\n"
    (tmp_path / "shop.yaml").write_text(SHOP + room, encoding="utf-8")
    out = cli("sanding", tmp_path / "cabinet.yaml", "--shop", tmp_path / "shop.yaml").out
    assert "In shop (60 m³) no more than 60 mg may hang" in out  # 1 mg/m³ x 60 m³
    assert "The extractor is of class M" in out


def test_an_old_film_that_stays_is_abraded_and_told_no_dust_of_wood(tmp_path: Path, cli: Cli) -> None:
    """Nothing was said to be left to do beside its abrading, and its dust to be 0 times what may be breathed."""
    file = tmp_path / "kept.yaml"
    file.write_text(
        CABINET.replace("lengths: mm", "lengths: mm\nrefinish: {built: 2005, keep: true}"), encoding="utf-8"
    )
    told = cli("sanding", file).out
    assert "No bare wood has to be sanded." in told
    assert "After that" in told
    for words in ("Nothing is left to do", " 0 ml", "0 times"):
        assert words not in told

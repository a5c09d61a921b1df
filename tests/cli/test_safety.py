"""``finplan safety`` as it is typed."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from finplan.catalogue import bundled_catalogue
from tests.conftest import Cli, Ended

FROM = ("--from", "2027-01-04 8:00", "--deliver", "2027-03-12 15:00")


def told(cli: Cli, *arguments: object) -> dict[str, Any]:
    ended: Ended = cli("safety", *arguments, *FROM, "--json")
    assert ended.status == 0, ended.err
    data: dict[str, Any] = json.loads(ended.out)
    return data


def test_the_shape_of_the_data(demo: Path, cli: Cli) -> None:
    data = told(cli, demo / "round-table.yaml")
    assert data["format"] == "finplan-safety/1"
    assert {"sessions", "cautions", "dust_g"} <= set(data)
    for session in data["sessions"]:
        assert {"start", "steps", "vapour_g", "air_m3", "room_gives_m3_h", "verdict", "remedies"} <= set(session)
        assert {"fire", "health"} <= set(session["air_m3"])
        assert datetime.fromisoformat(session["start"]).tzinfo is not None
        assert session["vapour_g"] == session["vapour_g_range"]["high"] > 0
        assert session["room_gives_m3_h"] == 60 * 2 + 300
    for caution in data["cautions"]:
        assert {"code", "when", "text", "reason", "source", "comes_first"} <= set(caution)
        assert caution["source"] in bundled_catalogue().sources
    assert data["dust_g"] == data["dust"]["dust_g"]["high"] > 0


def test_the_steps_are_those_of_the_timetable(demo: Path, cli: Cli) -> None:
    file, shop = demo / "round-table.yaml", demo / "shop.yaml"
    data = told(cli, file, "--shop", shop)
    ended = cli("timetable", file, "--shop", shop, *FROM, "--json")
    rows = {row["id"]: row for row in json.loads(ended.out)["steps"] if row["kind"] == "attended"}
    for session in data["sessions"]:
        assert set(session["steps"]) <= set(rows)
        assert session["start"] == min(rows[step]["start"] for step in session["steps"])
    coats = {step for step, row in rows.items() if row["deed"] == "coat"}
    assert coats <= {step for session in data["sessions"] for step in session["steps"]}


def test_the_vapour_is_what_the_materials_hold(demo: Path, cli: Cli) -> None:
    # By hand: every coat's finish at 0 to 450 g/L of hardwax oil, and 5 to 20 ml of white spirit for each cleaning.
    file, shop = demo / "round-table.yaml", demo / "shop.yaml"
    data = told(cli, file, "--shop", shop)
    materials = json.loads(cli("materials", file, "--shop", shop, "--json").out)
    (oil,) = [one for one in materials["materials"] if one["material"] == "hardwax-oil"]
    high_ml = sum(coat["as_put_on_ml"]["high"] for coat in oil["coats"] if coat["item"] != "sample board")
    cleanings = sum(step.endswith("/clean-up") for session in data["sessions"] for step in session["steps"])
    expected_g = high_ml * 0.450 + cleanings * 20 * 0.800
    assert sum(session["vapour_g"] for session in data["sessions"]) == pytest.approx(expected_g, rel=1e-6)


def test_the_default_shop_s_air_is_nobody_s(demo: Path, cli: Cli) -> None:
    (demo / "shop.yaml").unlink()
    data = told(cli, demo / "round-table.yaml")
    assert {session["verdict"] for session in data["sessions"]} == {"unknown"}
    assert {session["room_gives_m3_h"] for session in data["sessions"]} == {None}
    assert "`volume`" in data["sessions"][0]["remedies"][0]


def test_a_date_that_cannot_be_kept_hides_nothing(demo: Path, cli: Cli) -> None:
    ended = cli(
        *("safety", demo / "round-table.yaml"),
        *("--from", "2027-01-04", "--deliver", "2027-01-05", "--json"),
    )
    data = json.loads(ended.out)
    assert ended.status == 0
    assert [session["start"] for session in data["sessions"]] == [None, None]
    assert all(session["vapour_g"] > 0 for session in data["sessions"])
    assert "oily-cloths" in {caution["code"] for caution in data["cautions"]}


def test_for_a_person(demo: Path, cli: Cli) -> None:
    ended = cli("safety", demo / "round-table.yaml", *FROM)
    assert (ended.status, ended.err) == (0, "")
    lines = ended.out.splitlines()
    assert lines[3].startswith("Local codes, the product's own label")
    assert "Session 1: " in ended.out
    assert "[ ] " in ended.out
    assert "nobody sleeps above until" in ended.out
    assert max(map(len, lines)) <= 120


@pytest.mark.parametrize(("units", "flow"), [("metric", "m³/h"), ("us", "cfm")])
def test_in_the_units_of_the_person(units: str, flow: str, demo: Path, cli: Cli) -> None:
    file = demo / "round-table.yaml"
    ended = cli("safety", file, "--units", units, *FROM)
    assert flow in ended.out


def test_the_same_bytes_each_time(demo: Path, cli: Cli) -> None:
    arguments = ("safety", demo / "round-table.yaml", *FROM, "--json")
    assert cli(*arguments).out == cli(*arguments).out


def test_the_cured_date_stands_by_what_touches_food(demo: Path, cli: Cli) -> None:
    file = demo / "round-table.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("hardwax-oil", "tung-oil"), encoding="utf-8")
    shop = demo / "shop.yaml"
    data = told(cli, file, "--shop", shop)
    cured = json.loads(cli("timetable", file, "--shop", shop, *FROM, "--json").out)["cured"]
    food = {line["item"]: line["cured"] for line in data["contact"] if line["contact"] == "food"}
    assert food == cured
    assert all("ask its maker" in line["text"] for line in data["contact"])

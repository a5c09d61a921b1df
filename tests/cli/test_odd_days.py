"""A shop's own odd days: everything done, nothing coated, hardly anything there, files of one name, wet on wet."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

from finplan import nothing
from tests.conftest import EXAMPLE, Cli

HEAD = "piece: Box in the wall\nlengths: mm\ntimber: ash\nsystem: hardwax-oil\ndeliver: 2027-03-12\nparts:\n"
FACES = ("front", "back", "top-edge", "bottom-edge", "ends")
_HIDDEN = ", ".join(f"{face}: {{exposure: covered}}" for face in FACES)
COVERED = f"{HEAD}  top: {{shape: board, length: 400, width: 100, thickness: 20, faces: {{{_HIDDEN}}}}}\n"
TINY = f"{HEAD}  top: {{shape: board, length: 0.001, width: 0.001, thickness: 0.001}}\n"
ALL_DONE = [
    argument for step in ("top/hardwax-oil/4", "base/hardwax-oil/4", "put-together") for argument in ("--done", step)
]
ON_A_DAY = ["--from", "2027-03-01"]


def _no_constant(name: str) -> None:
    raise AssertionError(name)


def finite(text: str) -> Any:
    """Return what JSON says, and fail where it says anything but numbers that there are."""
    data = json.loads(text, parse_constant=_no_constant)

    def look(value: Any) -> None:
        assert not isinstance(value, float) or math.isfinite(value)
        for one in value.values() if isinstance(value, dict) else value if isinstance(value, list) else ():
            look(one)

    look(data)
    return data


@pytest.mark.parametrize(
    ("name", "text", "more"),
    [
        ("covered", COVERED, []),
        ("tiny", TINY, []),
        ("done", EXAMPLE, ALL_DONE),
    ],
    ids=["nothing coated", "hardly anything there", "everything done"],
)
def test_every_output_is_made_and_holds_numbers(
    name: str, text: str, more: list[str], tmp_path: Path, cli: Cli
) -> None:
    file = tmp_path / f"{name}.yaml"
    file.write_text(text, encoding="utf-8")
    for command in (
        ["plan"],
        ["timetable", "--json"],
        ["timetable"],
        ["sheet", "-o", "s.html"],
        ["calendar", "-o", "c.ics"],
    ):
        command = [str(tmp_path / one) if one in ("s.html", "c.ics") else one for one in command]
        ended = cli(command[0], file, *command[1:], *ON_A_DAY, *more)
        assert ended.status == 0, ended.err
        assert " nan" not in ended.out
        if "--json" in command or command == ["plan"]:
            finite(ended.out)
    assert not {"nan", "inf"} & set((tmp_path / "s.html").read_text(encoding="utf-8").split("<main", 1)[-1].split())
    ended = cli("safety", file, *ON_A_DAY)
    assert ended.status == 0
    assert "Local codes" in ended.out


def test_what_there_is_nothing_of_has_words_of_its_own(tmp_path: Path, cli: Cli) -> None:
    file, page = tmp_path / "piece.yaml", tmp_path / "sheet.html"
    file.write_text(COVERED, encoding="utf-8")
    materials = cli("materials", file).out
    assert nothing.TO_BUY in materials
    assert nothing.TO_USE_UP in materials
    assert "enough with" not in materials
    sanding = cli("sanding", file).out
    assert nothing.TO_SAND in sanding
    assert nothing.ABRASIVES in sanding
    assert "Nothing is left to do" in cli("timetable", file, *ON_A_DAY).out
    assert nothing.VAPOUR in cli("safety", file, *ON_A_DAY).out
    assert nothing.TO_COAT in cli("systems", file, *ON_A_DAY).out
    assert "nothing is left to be coated" in cli("tags", file, "-o", page, *ON_A_DAY).err
    assert cli("sheet", file, "-o", page, *ON_A_DAY).status == 0
    printed = page.read_text(encoding="utf-8")
    for words in (
        nothing.TO_COAT,
        nothing.TO_BUY,
        nothing.TO_MEASURE_OUT,
        nothing.TO_SAND,
        nothing.TO_DO,
        nothing.VAPOUR,
    ):
        assert words in printed
    assert nothing.TO_CARE_FOR in printed


def test_nothing_coated_past_its_date(tmp_path: Path, cli: Cli) -> None:
    file = tmp_path / "piece.yaml"
    file.write_text(COVERED, encoding="utf-8")
    ended = cli("timetable", file, "--from", "2027-04-01")
    assert ended.status == 3
    assert "which is before work may begin (2027-04-01 " in ended.out


@pytest.mark.parametrize("zone", ["Pacific/Auckland", "America/Los_Angeles"])
def test_the_first_day_is_that_of_the_shop(zone: str, tmp_path: Path, cli: Cli) -> None:
    file, shop = tmp_path / "piece.yaml", tmp_path / "shop.yaml"
    file.write_text(COVERED, encoding="utf-8")
    shop.write_text(f"shop: Yard\ntime-zone: {zone}\n", encoding="utf-8")
    assert "before work may begin (2027-04-01 00:00)" in cli("timetable", file, "--from", "2027-04-01").out
    file.write_text(EXAMPLE, encoding="utf-8")
    shop.write_text(f"shop: Yard\ntime-zone: {zone}\nclosed: [2027-01-01 to 2027-12-31]\n", encoding="utf-8")
    assert "nobody works in the shop from 2027-03-01 to " in cli("timetable", file, *ON_A_DAY).out


def test_what_is_done_gives_off_nothing(example: Path, cli: Cli) -> None:
    assert finite(cli("plan", example, *ON_A_DAY, *ALL_DONE).out)["safety"]["sessions"] == []


def test_three_files_whose_names_would_make_one_id(tmp_path: Path, cli: Cli) -> None:
    (tmp_path / "x").mkdir()
    files = [tmp_path / "a.yaml", tmp_path / "x" / "a.yaml", tmp_path / "a-1.yaml"]
    for file in files:
        file.write_text(f"{HEAD}  top: {{shape: board, length: 400, width: 100, thickness: 20}}\n", encoding="utf-8")
    data = finite(cli("timetable", *files, *ON_A_DAY, "--json", "--limit", "5").out)
    rows = [step for step in data["steps"] if step["kind"] == "attended"]
    assert {row["id"].split("/")[0] for row in rows} == {"a-2", "a-3", "a-1"}
    assert len({(row["id"], row["start"]) for row in rows}) == len(rows)


def test_a_label_that_lets_the_next_coat_follow_at_once(example: Path, tmp_path: Path, cli: Cli) -> None:
    """Wet on wet is a way to work, and dries no sooner for it."""
    shop = tmp_path / "shop.yaml"
    shop.write_text("shop: Wet on wet\noverrides: {finishes: {hardwax-oil: {recoat: 0 h}}}\n", encoding="utf-8")
    ended = cli("safety", example, "--shop", shop, *ON_A_DAY, "--json")
    assert ended.status == 0, ended.err
    finite(ended.out)

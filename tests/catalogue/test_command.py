"""``finplan catalogue`` as it is typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.conftest import Cli


@pytest.mark.parametrize(
    ("arguments", "expected"),
    [
        (["--kind", "timbers", "--where", "oily"], ["timbers", "  teak   Teak", "  iroko  Iroko"]),
        (["--kind", "finishes", "--where", "food-contact"], ["finishes", "  tung-oil  Pure tung oil"]),
        (
            ["--where", "oil", "--where", "no-isocyanate", "--dry-by", "60 h", "--kind", "systems"],
            [
                "systems",
                "  hardwax-oil  Hardwax oil, two coats, ready in 60 h (32 h to 4 days)",
                "  tinted-oil   Tinted hardwax oil, then clear, ready in 60 h (32 h to 4 days)",
            ],
        ),
        (["--kind", "finishes", "--where", "child-contact"], ["finishes", "  none"]),
    ],
)
def test_a_list_of_what_is_asked_for(arguments: list[str], expected: list[str], cli: Cli) -> None:
    ended = cli("catalogue", *arguments)
    assert (ended.status, ended.err) == (0, "")
    assert [line.rstrip() for line in ended.out.splitlines()] == expected


def test_the_same_for_programs(cli: Cli) -> None:
    told = json.loads(cli("catalogue", "--kind", "timbers", "--where", "oily", "--json").out)
    assert told == {"format": "finplan-catalogue/1", "kinds": {"timbers": ["teak", "iroko"]}}
    told = json.loads(cli("catalogue", "--dry-by", "3d", "--json").out)
    assert list(told["kinds"]) == ["finishes", "systems"]


def test_a_name_among_what_is_asked_for(cli: Cli) -> None:
    assert cli("catalogue", "tung-oil").out.count("(systems):") == 1
    assert "(systems):" not in cli("catalogue", "tung-oil", "--kind", "finishes").out
    ended = cli("catalogue", "tung-oil", "--where", "waterborne")
    assert (ended.status, ended.out) == (2, "")
    assert ended.err.startswith("'tung-oil' is not among what was asked for; ")


@pytest.mark.parametrize(
    ("arguments", "wrong"),
    [
        (
            ["--where", "foodcontact"],
            "'foodcontact' is no property of any record; did you mean 'food-contact'? Known: ",
        ),
        (["--kind", "finish"], "'finish' is no kind of record; did you mean 'finishes'? Known: sources, finishes, "),
        (["--dry-by", "soon"], "--dry-by: 'soon' is not a duration; expected a duration such as 45 min, 16 h or 7 d"),
        (["--dry-by", "-1 d"], "--dry-by: a finish cannot be ready before it was put on; expected a time such as 3d"),
        (["--fields", "finish"], "'finish' is no kind of record; did you mean 'finishes'?"),
    ],
)
def test_what_cannot_be_asked_is_refused(arguments: list[str], wrong: str, cli: Cli) -> None:
    ended = cli("catalogue", *arguments)
    assert (ended.status, ended.out) == (2, "")
    assert ended.err.startswith(wrong)


def test_the_fields_of_a_kind(cli: Cli) -> None:
    ended = cli("catalogue", "--fields", "solvents")
    assert ended.status == 0
    assert ended.out.startswith("solvents.yaml: A solvent, thinner or cleaner.")
    assert "lower-flammable-limit              a percentage or three, low/typical/high" in ended.out


def test_own_records_are_listed_and_shown_with_their_source(tmp_path: Path, cli: Cli) -> None:
    (tmp_path / "own").mkdir()
    (tmp_path / "shop.yaml").write_text("shop: Mine\nrecords: own\n", encoding="utf-8")
    record = "tin-oil:\n  like: hardwax-oil\n  title: The oil in the blue tin\n  recoat: 6/8/10 h\n"
    (tmp_path / "own" / "finishes.yaml").write_text(record, encoding="utf-8")
    shop = ("--shop", tmp_path / "shop.yaml")
    assert "tin-oil" in json.loads(cli("catalogue", "--json", *shop).out)["kinds"]["finishes"]
    shown = cli("catalogue", "tin-oil", *shop).out
    assert "8 (6 to 10) h  [label]" in shown
    assert "[label]              The label or data sheet of the tin in hand" in shown
    assert "tin-oil" not in cli("catalogue").out

"""A piece and a workshop begun: with options, by questions on a terminal, and in a pipe."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from finplan.forms import forms
from tests.cli.terminal import answered
from tests.conftest import Cli


@pytest.fixture(autouse=True)
def at_home(monkeypatch: pytest.MonkeyPatch) -> None:
    """A machine that says where it is."""
    monkeypatch.setenv("TZ", "Europe/London")


WHOLE = ("--timber", "ash", "--system", "hardwax-oil", "--deliver", "2099-06-18")


def new(cli: Cli, file: Path, form: str, *more: str) -> None:
    of_form = next(one for one in forms() if one.name == form)
    on = ("--timber", of_form.timber, "--system", of_form.system, "--deliver", "2099-06-18")
    ended = cli("new", file, "--form", form, *on, *more)
    assert (ended.status, ended.err) == (0, ""), ended


def test_with_options_it_asks_nothing_and_is_right_at_once(cli: Cli, tmp_path: Path) -> None:
    file = tmp_path / "stand" / "stand.yaml"
    ended = cli("new", file, "--form", "column-table", *WHOLE, "--size", "diameter=520", "--title", "Stand: the small")
    assert (ended.status, ended.err) == (0, "")
    assert ended.out.startswith(f"{file}: written\n{file.parent / 'shop.yaml'}: written, ")
    assert "All parts together:" in ended.out
    assert sorted(one.name for one in file.parent.iterdir()) == ["shop.yaml", "stand.yaml"]
    assert "diameter: 520 " in file.read_text(encoding="utf-8")
    checked = cli("check", file)
    assert (checked.status, checked.err) == (0, "")
    assert checked.out.endswith("in order: Stand: the small, 5 parts\n")


@pytest.mark.parametrize("name", [form.name for form in forms()])
def test_every_form_in_inches_in_a_shop_of_its_own(name: str, cli: Cli, tmp_path: Path) -> None:
    file = tmp_path / "piece.yaml"
    new(cli, file, name, "--units", "us", "--holidays", "US", "--time-zone", "America/Denver")
    assert "paper: letter" in (tmp_path / "shop.yaml").read_text(encoding="utf-8")
    checked = cli("check", file)
    assert (checked.status, checked.err, checked.out.count("\n")) == (0, "", 1)


def test_what_is_there_stays_as_it_is(cli: Cli, tmp_path: Path) -> None:
    file, shop = tmp_path / "box.yaml", tmp_path / "shop.yaml"
    shop.write_text("shop: Ours\nunits: us\n", encoding="utf-8")
    new(cli, file, "box")
    assert shop.read_text(encoding="utf-8") == "shop: Ours\nunits: us\n"
    text = file.read_text(encoding="utf-8")
    assert "lengths: in" in text, "the shop's units are taken"
    ended = cli("new", file, "--form", "bench", *WHOLE)
    assert (ended.status, ended.out) == (2, "")
    assert "is there already" in ended.err
    assert cli("new", "--shop", shop).status == 2
    assert file.read_text(encoding="utf-8") == text


def test_a_link_that_leads_nowhere_is_not_followed(cli: Cli, tmp_path: Path) -> None:
    file = tmp_path / "box.yaml"
    file.symlink_to(tmp_path / "elsewhere.yaml")
    assert cli("new", file, "--form", "box", *WHOLE).status == 2
    assert [one.name for one in tmp_path.iterdir()] == ["box.yaml"]


def test_in_a_pipe_it_says_what_is_missing(cli: Cli, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    ended = cli("new", "--timber", "ash")
    assert (ended.status, ended.out) == (2, "")
    for option in ("FILE", "--form", "--system", "--deliver"):
        assert option in ended.err
    assert "--timber" not in ended.err
    assert list(tmp_path.iterdir()) == []


def test_everything_wrong_is_told_at_once_and_nothing_written(cli: Cli, tmp_path: Path) -> None:
    ended = cli(
        "new", tmp_path / "a" / "piece.yaml", "--form", "stool", "--timber", "ahs", "--system", "hardwax",
        "--deliver", "2020-01-01", "--size", "hight=500", "--size", "diameter=9 m", "--size", "legs=3.5",
    )  # fmt: skip
    assert ended.status == 2
    for told in (
        "--timber: 'ahs' is not in the catalogue; did you mean 'ash'?",
        "--system: 'hardwax' is not in the catalogue; did you mean 'hardwax-oil'?",
        "--deliver: 2020-01-01 is over",
        "--size: 'hight' is no size of the form stool; did you mean 'height'?",
        "--size diameter: 9000 mm is out of bounds; expected 220 mm to 520 mm",
        "--size legs: 3.5 is not a whole number",
    ):
        assert told in ended.err
    assert list(tmp_path.iterdir()) == []
    assert "did you mean 'stool'?" in cli("new", tmp_path / "piece.yaml", "--form", "stol", *WHOLE).err


def test_a_system_that_does_not_go_on_the_timber_is_refused_with_the_reason(cli: Cli, tmp_path: Path) -> None:
    ended = cli(
        "new", tmp_path / "a.yaml", "--form", "box", "--timber", "teak", "--system", "oil-varnish",
        "--deliver", "2099-06-18",
    )  # fmt: skip
    assert ended.status == 2
    assert "--system: oil-varnish does not go here: oil varnish on teak" in ended.err
    assert list(tmp_path.iterdir()) == []


def test_both_files_or_none(cli: Cli, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:

    linked = os.link

    def fails_for_the_shop(part: Path, target: Path) -> None:
        if target.name == "shop.yaml":
            raise OSError(28, "No space left on device")
        linked(part, target)

    monkeypatch.setattr(os, "link", fails_for_the_shop)
    ended = cli("new", tmp_path / "box.yaml", "--form", "box", *WHOLE)
    assert (ended.status, ended.out) == (2, "")
    assert "no space left on device" in ended.err
    assert list(tmp_path.iterdir()) == []


def test_a_shop_is_begun_with_what_is_said_of_it(cli: Cli, tmp_path: Path) -> None:
    ended = cli(
        "new", "--shop", tmp_path / "shop.yaml", "--title", "Cooper Lane", "--person", "Jo", "--units", "us",
        "--hours", "mon-thu 8:00-12:00, 12:30-17:00; fri 8:00-13:00", "--time-zone", "America/Denver",
        "--holidays", "US", "--day", "70 degF", "--night", "54 degF", "--room", "22 x 16 x 9 ft",
    )  # fmt: skip
    assert (ended.status, ended.err) == (0, "")
    text = (tmp_path / "shop.yaml").read_text(encoding="utf-8")
    for said in (
        "shop: Cooper Lane", "name: Jo", "hours: {mon-thu: [8:00-12:00, 12:30-17:00], fri: [8:00-13:00]}",
        "time-zone: America/Denver", "holidays: US", "temperature: 70 degF", "temperature: 54 degF", "volume: 89.71 m3",
    ):  # fmt: skip
        assert said in text
    new(cli, tmp_path / "bench.yaml", "bench")
    assert cli("check", tmp_path / "bench.yaml").status == 0


def test_what_is_wrong_with_a_shop_is_told_by_its_options(cli: Cli, tmp_path: Path) -> None:
    ended = cli(
        "new", "--shop", tmp_path / "shop.yaml", "--time-zone", "Denver", "--hours", "mornings", "--night", "warm",
        "--holidays", "XX",
    )  # fmt: skip
    assert ended.status == 2
    for told in ("--time-zone: 'Denver' is not a time zone; did you mean 'America/Denver'?", "--hours: 'mornings' are",
                 "--night: 'warm' is not a temperature", "--holidays: country 'XX' is unknown"):  # fmt: skip
        assert told in ended.err
    assert list(tmp_path.iterdir()) == []


def test_forms_are_listed_for_people_and_programs(cli: Cli) -> None:
    listed = cli("new", "--forms").out
    told = json.loads(cli("new", "--forms", "--json").out)
    assert told["format"] == "finplan-forms/1"
    assert [form["form"] for form in told["forms"]] == [form.name for form in forms()]
    for form in forms():
        assert f"\n{form.name}: " in listed
    assert all(len(line) <= 120 for line in listed.splitlines())


def test_what_was_written_is_told_to_programs(cli: Cli, tmp_path: Path) -> None:
    told = json.loads(cli("new", tmp_path / "box.yaml", "--form", "box", *WHOLE, "--json").out)
    assert told == {"format": "finplan-new/1", "written": [str(tmp_path / "box.yaml"), str(tmp_path / "shop.yaml")]}


def test_on_a_terminal_it_asks_until_it_is_answered(tmp_path: Path) -> None:
    status, shown = answered(
        ["new"],
        ["settle", "bench", "", "us", "Bench for the ferry", "4 ft", "wide", "14", "", "oak", "white-oak", "soap",
         "18 June", "2099-06-18"],
        tmp_path,
    )  # fmt: skip
    assert status == 0, shown
    for told in ("'settle' is no form", "'wide' is not a length", "did you mean 'white-oak' or 'red-oak'?",
                 "'18 June' is not a date", "bench.yaml: written", "shop.yaml: written"):  # fmt: skip
        assert told in shown
    assert shown.count("What do you want to finish?") == 1
    text = (tmp_path / "bench.yaml").read_text(encoding="utf-8")
    for said in ("piece: Bench for the ferry", "length: 48 ", "width: 14\n", "timber: white-oak", "system: soap"):
        assert said in text


def test_on_a_terminal_it_asks_nothing_that_options_say(tmp_path: Path) -> None:
    status, shown = answered(["new", "box.yaml", "--form", "box", *WHOLE], [], tmp_path)
    assert (status, "box.yaml: written" in shown) == (0, True)


def test_the_workshop_is_asked_for_on_a_terminal(tmp_path: Path) -> None:
    status, shown = answered(
        ["new", "--shop", "shop.yaml"],
        ["metric", "Alder Court", "Wen", "mon-fri 8-4", "mon-fri 8:00-16:00", "Europe/Dublin", "IE", "", "9 degC",
         "7 x 5 x 2.6 m"],
        tmp_path,
    )  # fmt: skip
    assert status == 0, shown
    text = (tmp_path / "shop.yaml").read_text(encoding="utf-8")
    for said in ("shop: Alder Court", "temperature: 9 degC", "volume: 91 m3", "holidays: IE", "[8:00-16:00]"):
        assert said in text

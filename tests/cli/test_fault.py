"""A coat that went wrong, asked of at the bench."""

from __future__ import annotations

import json
import re
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.cli.test_bench import _numbers
from tests.cli.test_held import at, folder
from tests.conftest import Cli
from tests.data.test_answers_json import VALIDATOR

__all__ = ["folder"]


def test_a_sticky_coat_in_the_cold_is_told_why_and_what_to_do(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    piece = str(folder / "stool.yaml")
    numbers = _numbers(piece, cli)
    at(monkeypatch, datetime(2027, 3, 5, 16, 0, tzinfo=UTC))
    coat = numbers["coat 1"]
    ticked = cli("done", piece, numbers["sand bare wood"], coat, "--at", "15:30", "--air", "10 degC 55 %", "--yes")
    assert ticked.status == 0, ticked.err
    told = cli("fault", piece, coat, "sticky")
    assert told.status == 0, told.err
    first = told.out.split("Borne out by this plan and its record:\n")[1].splitlines()
    said = " ".join(line.strip() for line in first[:4])
    assert "it was put on at 10 °C, as noted; the finish wants 12 °C or more" in said
    for word in ("Ruled out:", "Now ", "Wait ", "Then ", "wipe with white spirit"):
        assert word in told.out
    assert max(map(len, told.out.splitlines())) <= 100
    assert "coat 1 of hardwax oil, put on" in told.out
    assert "hardwax-oil" not in told.out

    data = json.loads(cli("fault", piece, coat, "tacky", "--json").out)
    assert not [one.message for one in VALIDATOR.iter_errors(data)]
    (fault,) = data["faults"]
    assert fault["causes"][0]["recorded"]
    assert fault["repair"][0]["do"] == "wipe"


def test_without_a_name_every_fault_is_listed(folder: Path, cli: Cli) -> None:
    piece = str(folder / "stool.yaml")
    coat = _numbers(piece, cli)["coat 1"]
    data = json.loads(cli("fault", piece, coat, "--json").out)
    assert not [one.message for one in VALIDATOR.iter_errors(data)]
    can = [one["fault"] for one in data["faults"] if one["cannot_because"] is None]
    assert len(data["faults"]) == 22
    assert "tacky" in can
    assert "runs" not in can
    told = cli("fault", piece, coat).out
    assert all(one["fault"] in told for one in data["faults"])
    assert "Cannot occur in hardwax oil, because" in cli("fault", piece, coat, "runs").out


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (("99", "tacky"), "there is no step 99"),
        (("2", "takcy"), "did you mean 'tacky'"),
        (("2", "dripz"), "did you mean 'runs'"),
        (("2", "tacky"), "is not ticked; tick it first"),
        (("1", "tacky"), "no coat is on"),
    ],
)
def test_what_is_typed_wrongly_is_refused(folder: Path, cli: Cli, typed: tuple[str, ...], words: str) -> None:
    piece = str(folder / "stool.yaml")
    cli("timetable", piece)
    ended = cli("fault", piece, *typed)
    assert ended.status == 2
    assert words in ended.err


def test_air_is_as_measured_only_where_somebody_read_it(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A reading beside other work stands for the hours after it; of the night the shop file says."""
    piece = str(folder / "stool.yaml")
    numbers = _numbers(piece, cli)
    at(monkeypatch, datetime(2027, 3, 6, 9, 0, tzinfo=UTC))
    for typed in (
        (numbers["sand bare wood"], "--at", "2027-03-05 14:50", "--air", "17 degC 55 %"),
        (numbers["coat 1"], "--at", "2027-03-05 15:30", "--yes"),
    ):
        assert cli("done", piece, *typed).status == 0
    told = " ".join(cli("fault", piece, numbers["coat 1"], "sticky").out.split())
    assert "it was put on at 17 °C, as measured then; the finish wants" in told
    assert re.search(r"[Tt]he coldest while it dried was 1\d °C, by the shop file;", told)


def test_what_was_planned_is_of_the_plan_by_which_it_was_put_on(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is learnt of a coat changes the next plan, and not what this coat was to take."""
    piece = str(folder / "stool.yaml")
    numbers = _numbers(piece, cli)
    at(monkeypatch, datetime(2027, 3, 5, 16, 0, tzinfo=UTC))
    ticked = cli(
        "done", piece, numbers["sand bare wood"], numbers["coat 1"], "--at", "15:30", "--used", "9 ml", "--yes"
    )
    reckoned = re.search(r"less than reckoned \((.*? ml)\)", ticked.out)
    assert reckoned is not None, ticked.out
    assert cli("replan", piece).status == 0
    told = " ".join(cli("fault", piece, numbers["coat 1"], "sticky").out.split())
    assert f"9 ml was used, as noted; {reckoned[1]} was planned" in told

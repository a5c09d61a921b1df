"""A job looked back on: what was planned beside what was ticked, by values reckoned by hand."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from tests.cli.test_held import at, folder
from tests.conftest import Cli
from tests.planned_once import made_at_once

__all__ = ["folder"]
FRIDAY = datetime(2027, 3, 19, 16, 0, tzinfo=UTC)


@pytest.fixture
def begun(folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> tuple[Path, dict[str, Any]]:
    """A stool that is planned, in a shop with a litre of oil for 61.50; it is the week after the delivery."""
    piece = folder / "stool.yaml"
    assert cli("stock", "receive", "hardwax-oil", "1 l", "--price", "61.50", "--ledger", folder / "finplan.ledger").out
    plan = json.loads(cli("timetable", piece, "--json").out)
    at(monkeypatch, FRIDAY)
    return piece, plan


def _review(cli: Cli, piece: Path) -> dict[str, Any]:
    ended = cli("review", piece, "--json")
    assert ended.status == 0, ended.err
    found: dict[str, Any] = json.loads(ended.out)
    return found


def _tick(cli: Cli, piece: Path, *typed: object) -> None:
    ended = cli("done", piece, *typed, "--yes")
    assert ended.status == 0, ended.err


def test_of_a_job_of_which_nothing_is_ticked(begun: tuple[Path, dict[str, Any]], cli: Cli) -> None:
    piece, _ = begun
    told = _review(cli, piece)
    assert (told["steps"], told["done"], told["really"]) == (6, 0, None)
    assert all(one["used_ml"] is None for one in told["coats"])
    said = cli("review", piece).out
    assert "0 steps of 6 are done, 6 are left; it is to be begun by plan 1" in said
    assert "Nothing is ticked yet, so there is nothing to set beside it." in said
    assert said.count("not noted") == len(told["coats"]) + len(told["work"]) + len(told["costs"])


def test_of_a_job_that_is_done(begun: tuple[Path, dict[str, Any]], cli: Cli) -> None:
    piece, plan = begun
    _tick(cli, piece, 1, "--took", "30 min", "--at", "2027-03-08 09:00")
    assert "1 step of 6 is done, 5 are left" in cli("review", piece).out
    _tick(cli, piece, 2, "--took", "20 min", "--used", "40 ml", "--at", "2027-03-08 11:00")
    _tick(cli, piece, "3-6", "--at", "2027-03-10 10:00")
    told = _review(cli, piece)
    assert (told["plan"], told["steps"], told["done"], told["changed"]) == (1, 6, 6, False)
    first, second = told["coats"]
    materials = json.loads(cli("materials", piece, "--catalogue-only", "--json").out)["materials"][0]
    planned = [one["needed"]["typical"] for one in materials["coats"] if one["item"] == "seat"]
    assert [one["planned_ml"]["typical"] for one in (first, second)] == pytest.approx(planned)
    assert (first["used_ml"], second["used_ml"]) == (40.0, None)
    sanding = next(one for one in told["work"] if one["work"] == "sand")
    row = next(one for one in plan["steps"] if one["number"] == 1)
    minutes = datetime.fromisoformat(row["end"]) - datetime.fromisoformat(row["start"])
    assert sanding["planned_min"] == sanding["timed_planned_min"] == minutes / timedelta(minutes=1)
    assert (sanding["person"], sanding["steps"], sanding["timed"], sanding["took_min"]) == ("Wenna", 1, 1, 30.0)
    coating = next(one for one in told["work"] if one["work"] == "coat")
    assert (coating["steps"], coating["timed"], coating["took_min"]) == (2, 1, 20.0)
    (cost,) = told["costs"]
    assert (cost["coats"], cost["told"], cost["per_litre"]) == (2, 1, 61.5)
    assert cost["used_cost"] == pytest.approx(2.46), "40 ml of a litre for 61.50"
    assert cost["planned_cost"] == pytest.approx(sum(planned) * 0.0615)
    really = told["really"]
    assert really["begins"] == "2027-03-08T08:30+00:00", "half an hour before nine"
    assert (really["ends"], really["days"]) == ("2027-03-10T10:00+00:00", 2)
    last = next(one["id"] for one in plan["steps"] if one["number"] == 5)
    done = ("--from", "2027-03-10", "--done", f"{last}=2027-03-10 10:00")
    alone = json.loads(cli("timetable", piece, "--no-ledger", *done, "--json").out)
    assert really["ready"] == alone["ready"], "as a plan of its own says when a coat of Wednesday is dry"
    said = cli("review", piece).out
    assert "All is done; it was begun by plan 1" in said
    more = round((40 / planned[0] - 1) * 100)
    assert f"{more} % more" in said
    assert "2.46" in said


def test_a_tool_that_was_cleaned_before_the_rest_is_planned_again_still_counts(
    begun: tuple[Path, dict[str, Any]], cli: Cli
) -> None:
    """It has no row any more, and no step waits for it: of seven steps that were done six were told."""
    piece, plan = begun
    steps = {row["step"]: row["number"] for row in plan["steps"] if row["kind"] == "attended"}
    _tick(cli, piece, steps["coat 1"], steps["clean up after coat 1"], "--at", "2027-03-05 11:00")
    before = _review(cli, piece)
    assert (before["steps"], before["done"]) == (6, 3)
    assert cli("replan", piece).status == 0
    after = _review(cli, piece)
    assert (after["steps"], after["done"]) == (6, 3)


def test_ticks_of_several_steps_are_shared_out_as_they_were_planned(
    begun: tuple[Path, dict[str, Any]], cli: Cli
) -> None:
    """Both coats from one filling are one row; the minutes of sanding and coating go by what each was planned with."""
    piece, plan = begun
    numbers = {row["number"]: row for row in plan["steps"] if row["kind"] == "attended"}
    planned = {
        number: (datetime.fromisoformat(row["end"]) - datetime.fromisoformat(row["start"])) / timedelta(minutes=1)
        for number, row in numbers.items()
    }
    _tick(cli, piece, "1-2", "--took", "60 min")
    _tick(cli, piece, 2, 5, "--used", "70 ml")
    told = _review(cli, piece)
    (both,) = told["coats"]
    assert len(both["steps"]) == 2
    assert (both["used_ml"], both["in_part"]) == (70.0, False)
    sanding = next(one for one in told["work"] if one["work"] == "sand")
    assert sanding["took_min"] == pytest.approx(60 * planned[1] / (planned[1] + planned[2]))
    _tick(cli, piece, 2, 5, "--used", "60 ml")
    assert _review(cli, piece)["coats"][0]["used_ml"] == 60.0, "told twice, the later counts"
    said = cli("done", piece, 5, "--used", "22 ml", "--yes").out
    assert "What was told of 2 and 5 together counts no more: tick 2 again with what it took." in said
    used = [coat["used_ml"] for coat in _review(cli, piece)["coats"]]
    assert used == [None, 22.0], "how much of the 60 the first coat took, nobody said"
    _tick(cli, piece, 2, "--used", "31 ml")
    assert [coat["used_ml"] for coat in _review(cli, piece)["coats"]] == [31.0, 22.0], "and nothing of the 60"


def test_files_that_changed_are_told(begun: tuple[Path, dict[str, Any]], cli: Cli) -> None:
    piece, _ = begun
    _tick(cli, piece, 1)
    piece.write_text(piece.read_text().replace("300", "420"))
    assert _review(cli, piece)["changed"]
    assert "The files have changed since: amounts and times planned are of the files" in cli("review", piece).out


def test_it_is_one_page_with_the_same_words(begun: tuple[Path, dict[str, Any]], cli: Cli) -> None:
    piece, _ = begun
    _tick(cli, piece, "1-6", "--at", "2027-03-10 10:00")
    output, page = piece.parent / "review.pdf", piece.parent / "review.html"
    ended = cli("review", piece, "--pdf", output)
    assert ended.out.endswith(f"{output}: written\n")
    reader = PdfReader(output)
    assert len(reader.pages) == 1
    printed = "".join(reader.pages[0].extract_text().split())
    for line in cli("review", piece).out.splitlines():
        if line and not set(line) <= set("- ") and "  " not in line:
            assert "".join(line.split()) in printed, line
    assert cli("review", piece, "--pdf", page, "--json").status == 0
    assert "All is done" in page.read_text(encoding="utf-8")


def test_a_job_of_many_coats_is_one_page_too(begun: tuple[Path, dict[str, Any]], cli: Cli) -> None:
    """Of eight stools sixteen coats: those of which nothing is noted are one line, and still one row each as data."""
    piece, _ = begun
    eight = piece.parent / "eight.yaml"
    eight.write_text(piece.read_text().replace("piece: Milking stool", "piece: Eight stools\nset: 8"))
    bench = piece.parent / "bench.yaml"
    bench.write_text(piece.read_text().replace("Milking stool", "Long stool"))
    with made_at_once():
        assert cli("timetable", eight, bench, "--from", "2027-03-01", "--asap").status == 0
    told = _review(cli, eight)
    assert len(told["coats"]) == 18
    said = cli("review", eight, "--pdf", piece.parent / "review.pdf").out
    assert said.splitlines()[0] == "A\u00a0Eight stools, B\u00a0Long stool"
    whole = sum(one["planned_ml"]["typical"] for one in told["coats"])
    assert f"18 coats  Hardwax oil   {whole:.0f} ml        not noted" in said
    assert len(PdfReader(piece.parent / "review.pdf").pages) == 1


@pytest.mark.parametrize("wrong", ["review.docx", "nowhere/review.pdf", "stool.yaml"])
def test_where_it_cannot_be_written(begun: tuple[Path, dict[str, Any]], wrong: str, cli: Cli) -> None:
    piece, _ = begun
    before = piece.read_bytes()
    assert cli("review", piece, "--pdf", piece.parent / wrong).status == 2
    assert piece.read_bytes() == before


def test_of_what_was_never_planned(folder: Path, cli: Cli) -> None:
    ended = cli("review", folder / "stool.yaml")
    assert ended.status == 2
    assert "plan it first" in ended.err


def test_what_is_added_later_leaves_what_was_noted(
    begun: tuple[Path, dict[str, Any]], cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    piece, _ = begun
    at(monkeypatch, datetime(2027, 3, 8, 9, 0, tzinfo=UTC))
    _tick(cli, piece, 1, "--took", "55 min", "--by", "Tamsin")
    before = _review(cli, piece)
    at(monkeypatch, datetime(2027, 3, 8, 10, 0, tzinfo=UTC))
    added = json.loads(cli("done", piece, 1, "--note", "knots", "--json").out)
    assert (added["at"], added["person"]) == ("2027-03-08T09:00+00:00", "Tamsin")
    assert _review(cli, piece) == before
    ended = cli("done", piece, "1-2", "--note", "both")
    assert (ended.status, ended.out) == (2, "")
    assert "1 is ticked already; tick the others apart from it, or say when with --at" in ended.err
    _tick(cli, piece, 1, "--at", "8:30")
    moved = _review(cli, piece)
    assert moved["work"] == before["work"]
    assert moved["really"] != before["really"]

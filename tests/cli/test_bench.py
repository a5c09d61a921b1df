"""Ticking at the bench, planning again, and the record as JSON."""

from __future__ import annotations

import html
import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from icalendar import Calendar

from tests.cli.test_held import at, folder
from tests.conftest import Cli

__all__ = ["folder"]


FRAME = """\
piece: Shelf
lengths: mm
timber: ash
system: hardwax-oil
deliver: 2027-03-26
assemblies:
  frame: {parts: [side, rail]}
parts:
  top: {shape: rectangle, length: 900, width: 400, thickness: 22}
  side: {shape: board, length: 700, width: 300, thickness: 20, count: 2, faces: {ends: {exposure: covered}}}
  rail: {shape: board, length: 800, width: 80, thickness: 20, count: 2, faces: {ends: {exposure: covered}}}
"""


def _numbers(piece: str, cli: Cli) -> dict[str, int]:
    steps = json.loads(cli("timetable", piece, "--json").out)["steps"]
    return {step["step"]: step["number"] for step in steps if step["kind"] == "attended"}


def _done(cli: Cli, *typed: object) -> dict[str, Any]:
    ended = cli("done", *typed, "--json")
    assert ended.status == 0, ended.err
    found: dict[str, Any] = json.loads(ended.out)
    return found


def test_a_coat_is_ticked_with_what_the_can_lost_and_amounts_follow(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    piece = str(folder / "stool.yaml")
    numbers = _numbers(piece, cli)
    before = json.loads(cli("materials", piece, "--json").out)
    at(monkeypatch, datetime(2027, 3, 5, 16, 0, tzinfo=UTC))
    _done(cli, piece, numbers["sand bare wood"])
    told = _done(cli, piece, numbers["coat 1"], "--at", "15:30", "--can", "500 g -> 450 g", "--air", "17 degC 55 %")
    assert told["used_ml"] == pytest.approx(50 / 0.92), "920 g/l by the catalogue"
    assert told["person"] == "Wenna", "nobody else works there"
    assert told["learnt"] == ["amount"]
    after = json.loads(cli("materials", piece, "--json").out)
    assert after["materials"] != before["materials"]
    assert json.loads(cli("materials", piece, "--json", "--catalogue-only").out) == before
    assert "1 weighed coat of this shop" in cli("materials", piece).out
    _done(cli, piece, numbers["coat 1"], "--undo")
    assert json.loads(cli("materials", piece, "--json").out) == before


def test_ticks_change_no_plan_until_it_is_planned_again(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    piece = str(folder / "stool.yaml")
    first = cli("timetable", piece).out
    numbers = _numbers(piece, cli)
    at(monkeypatch, datetime(2027, 3, 5, 10, 0, tzinfo=UTC))
    _done(cli, piece, numbers["sand bare wood"], numbers["coat 1"], "--at", "2027-03-05 09:30", "--used", "30 ml")
    assert cli("timetable", piece).out == first
    ended = cli("replan", piece)
    assert "Plan 2, in the place of plan 1." in ended.out
    assert "coat 2: from" in ended.out
    again = json.loads(cli("timetable", piece, "--json").out)
    left = {step["step"]: step["number"] for step in again["steps"] if step["kind"] == "attended"}
    assert "coat 1" not in left
    assert left["coat 2"] == numbers["coat 2"], "a step keeps its number"
    assert all(step["start"] >= "2027-03-05T10:00" for step in again["steps"])
    assert "Plan 2, in the place of plan 1." in cli("timetable", piece).out


def test_a_day_ticked_in_the_evening_says_which_coat_is_dry_too_late_for_its_plan(
    demo: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each coat is taken to be no older than its tick: told with its time, it is dry by when the next one goes on."""
    piece = str(demo / "book-shelf.yaml")
    at(monkeypatch, datetime(2026, 11, 30, 8, 0, tzinfo=UTC))
    numbers = {step["id"]: step["number"] for step in json.loads(cli("timetable", piece, "--json").out)["steps"]}
    coat = numbers["top/oil-varnish-blend/2"]
    at(monkeypatch, datetime(2026, 12, 30, 17, 0, tzinfo=UTC))
    told = cli("done", piece, f"1-{coat}").out
    why = "; that is too late for Thu 31 Dec 16:30, when it was planned"
    assert f"{why}: if it was on before, tick it again with its time." in told
    at(monkeypatch, datetime(2026, 12, 31, 12, 0, tzinfo=UTC))
    assert f"{why}." in cli("replan", piece).out
    told = cli("done", piece, coat, "--at", "2026-12-30 14:15").out
    assert "coat 1 of Wed 30 Dec 14:15 is dry enough for the next step, coat 2, from Thu 31 Dec 16:30." in told
    assert "when it was planned" not in cli("replan", piece).out


def test_what_keeps_every_rule_stays_where_it_was(folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    piece = str(folder / "stool.yaml")
    plan = json.loads(cli("timetable", piece, "--json").out)
    first = next(step for step in plan["steps"] if step["kind"] == "attended")
    end = datetime.fromisoformat(first["end"])
    at(monkeypatch, end)
    _done(cli, piece, first["number"], "--at", f"{end:%Y-%m-%d %H:%M}")
    assert "Nothing that is left to do moves." in cli("replan", piece).out
    again = json.loads(cli("timetable", piece, "--json").out)
    assert again["steps"] == [step for step in plan["steps"] if step["id"] != first["id"]]


def test_what_comes_before_is_asked_for_once(folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    piece = str(folder / "stool.yaml")
    numbers = _numbers(piece, cli)
    at(monkeypatch, datetime(2027, 3, 9, 10, 0, tzinfo=UTC))
    ended = cli("done", piece, numbers["coat 1"])
    assert (ended.status, ended.out) == (2, "")
    assert "comes before and is not ticked; nothing was written down" in ended.err
    assert cli("done", piece, numbers["coat 1"], "--yes").status == 0


def test_what_is_ticked_is_named_in_the_order_of_its_numbers(folder: Path, cli: Cli) -> None:
    """Told in the order of the file, what is 3 was named first behind 'Ticked 1, 2, 3'."""
    shelf = folder / "shelf.yaml"
    shelf.write_text(FRAME, encoding="utf-8")
    plan = json.loads(cli("timetable", shelf, "--from", "2027-03-01", "--json").out)
    rows = [row for row in plan["steps"] if row["kind"] == "attended"]
    first = list({row["number"]: row for row in rows}.values())[:3]
    assert len({row["item"] for row in first}) > 1
    told = cli("done", shelf, "1-3", "--yes").out
    places = [told.index(f"{row['item']}: {row['step']}") for row in first]
    assert places == sorted(places), told


def test_tools_that_are_cleaned_after_a_coat_that_is_not_ticked_are_told(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It was taken without a word, and stood in the next plan again, with its coat."""
    piece = str(folder / "stool.yaml")
    numbers = _numbers(piece, cli)
    at(monkeypatch, datetime(2027, 3, 9, 10, 0, tzinfo=UTC))
    coat, cleaned = numbers["coat 1"], numbers["clean up after coat 1"]
    words = f"ools are cleaned after {coat}, which is not ticked: tick that as well."
    assert words in cli("done", piece, cleaned).out
    assert cli("done", piece, "--undo", cleaned).status == 0
    assert words not in cli("done", piece, coat, cleaned, "--yes").out


def test_a_changed_file_makes_numbers_on_paper_doubtful(folder: Path, cli: Cli) -> None:
    piece = folder / "stool.yaml"
    cli("timetable", str(piece))
    piece.write_text(piece.read_text().replace("300", "310"))
    ended = cli("done", str(piece), 1)
    assert ended.status == 2
    assert "the files have changed" in ended.err


def test_without_a_plan_there_is_nothing_to_tick(tmp_path: Path, folder: Path, cli: Cli) -> None:
    for command in (("done", folder / "stool.yaml", 1), ("replan", folder / "stool.yaml")):
        ended = cli(*command)
        assert ended.status == 2
        assert "plan it first" in ended.err
    assert not (folder / "finplan.ledger").exists()


@pytest.mark.parametrize(
    "wrong",
    [
        ["99"],
        ["seat"],
        ["1", "--used", "some"],
        ["1", "--at", "2099-01-01"],
        ["1", "--air", "warm"],
        ["1", "--used", "5 ml"],
    ],
)
def test_what_cannot_be_understood_is_refused_and_nothing_written(folder: Path, cli: Cli, wrong: list[str]) -> None:
    piece = str(folder / "stool.yaml")
    cli("timetable", piece)
    ended = cli("done", piece, *wrong)
    assert ended.status == 2
    assert "Traceback" not in ended.err
    assert json.loads(cli("ledger", "export", folder / "finplan.ledger").out)["tables"]["tick"] == []


def test_a_record_goes_out_and_in_again(folder: Path, cli: Cli) -> None:
    piece = str(folder / "stool.yaml")
    shown = cli("timetable", piece).out
    cli("done", piece, 1)
    record, copy = folder / "finplan.ledger", folder / "record.json"
    assert cli("ledger", "export", record, "-o", copy).status == 0
    assert cli("ledger", "import", copy, "--ledger", record).status == 2, "one is there"
    record.unlink()
    assert cli("ledger", "import", copy, "--ledger", record).status == 0
    assert cli("timetable", piece).out == shown
    assert json.loads(cli("ledger", "export", record).out) == json.loads(copy.read_text())
    for wrong in (folder, folder / "nothing.json", folder / "shop.yaml"):
        assert cli("ledger", "import", wrong, "--ledger", folder / "x.ledger").status == 2


BENCH = """\
piece: Long bench
lengths: mm
timber: ash
system: hardwax-oil
deliver: 2027-03-26 15:00
parts:
  seat: {shape: rectangle, length: 1600, width: 350, thickness: 34}
  leg: {shape: square-leg, side: 52, length: 410, count: 4}
"""


@pytest.fixture
def bench(folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> str:
    """A bench of two items, planned on a Monday in February."""
    file = folder / "bench.yaml"
    file.write_text(BENCH)
    at(monkeypatch, datetime(2027, 2, 15, 10, 0, tzinfo=UTC))
    return str(file)


def _attended(piece: str, cli: Cli) -> dict[tuple[str, str], int]:
    steps = json.loads(cli("timetable", piece, "--json").out)["steps"]
    return {(step["item"], step["step"]): step["number"] for step in steps if step["kind"] == "attended"}


@pytest.mark.parametrize("again", ["replan", "timetable", "plan"])
def test_a_step_that_was_taken_back_is_planned_again_by_every_command(bench: str, cli: Cli, again: str) -> None:
    numbers = _attended(bench, cli)
    sanded = numbers["leg", "sand bare wood"]
    _done(cli, bench, sanded, "--yes")
    cli("replan", bench)
    assert ("leg", "sand bare wood") not in _attended(bench, cli)
    told = cli("done", bench, sanded, "--undo").out
    assert f"Plan 2, the newest, no longer holds step {sanded}, which is to be done again: replan." in told
    ended = cli(again, bench)
    assert again == "replan" or f"step {sanded} is to be done again" in ended.err
    assert _attended(bench, cli) == numbers
    first = "Plan 3, in the place of plan 2.", f"  {sanded}. leg: sand bare wood: new, "
    assert all(words in cli("timetable", bench).out for words in first)


def test_later_steps_wait_for_a_step_that_was_taken_back_though_no_plan_has_it(bench: str, cli: Cli) -> None:
    numbers = _attended(bench, cli)
    sanded, coated = numbers["leg", "sand bare wood"], numbers["leg", "coat 1"]
    _done(cli, bench, sanded, "--yes")
    cli("replan", bench)
    _done(cli, bench, sanded, "--undo")
    for typed in ((), ("--json",)):
        ended = cli("done", bench, coated, *typed)
        assert (ended.status, ended.out) == (2, "")
        assert f"{sanded} comes before and is not ticked; nothing was written down. With --yes" in ended.err
    assert _done(cli, bench, coated, "--yes")["left"] == len(numbers) - 2, "sanded and coated"


def test_what_is_believed_with_a_later_step_is_taken_back_with_it(bench: str, cli: Cli) -> None:
    numbers = _attended(bench, cli)
    coated = numbers["leg", "coat 1"]
    _done(cli, bench, coated, "--yes")
    cli("replan", bench)
    _done(cli, bench, coated, "--undo")
    cli("replan", bench)
    assert {("leg", "sand bare wood"), ("leg", "coat 1")} <= set(_attended(bench, cli))


def test_a_day_that_is_lost_is_lost_to_what_is_left_to_do_by_the_record(bench: str, cli: Cli) -> None:
    """No step that is ticked comes again, and with a coat on no other system is offered."""
    coated = _attended(bench, cli)["leg", "coat 1"]
    _done(cli, bench, coated, "--yes")
    lost = json.loads(cli("timetable", bench, "--lose", "2027-03-23", "--json").out)
    left = {(step["item"], step["step"]) for step in lost["steps"]}
    assert ("leg", "coat 2") in left
    assert left.isdisjoint({("leg", "sand bare wood"), ("leg", "coat 1")})
    late = cli("timetable", bench, "--lose", "2027-02-16", "--deliver", "2027-02-17", "--json")
    fits = [fit for clash in json.loads(late.out)["clashes"] for fit in clash["would_fit"]]
    assert fits
    assert {fit["kind"] for fit in fits}.isdisjoint({"system", "other system"})


def test_a_coat_long_before_the_rest_is_said_to_be_too_hard_for_the_next(bench: str, cli: Cli) -> None:
    """Hardwax oil is to be coated over within seven days by the catalogue, and the rest is planned in March."""
    coated = _attended(bench, cli)["leg", "coat 1"]
    _done(cli, bench, coated, "--yes", "--at", "2027-02-15 09:00")
    words = "leg: coat 1 of Mon 15 Feb 09:00 is too hard for coat 2 from Mon 22 Feb 09:00: it is abraded first, which"
    assert words in cli("replan", bench).out
    assert words in cli("timetable", bench).out


def test_a_plan_that_moves_nothing_says_what_is_bought_otherwise(bench: str, cli: Cli) -> None:
    """By the shop file a litre goes half as far: the times stay, the cans do not."""
    cli("timetable", bench)
    shop = Path(bench).with_name("shop.yaml")
    kept = shop.read_text()
    shop.write_text(f"{kept}# nothing is otherwise\n")
    same = cli("replan", bench).out
    assert "Nothing that is left to do moves." in same
    assert "otherwise" not in same
    half = "overrides: {finishes: {hardwax-oil: {spread-rate: {first: 7/11/15 m2/l, next: 12/15/20 m2/l}}}}\n"
    shop.write_text(kept + half)
    told = cli("replan", bench).out
    assert "What coats typically take is otherwise: hardwax oil " in told
    assert "What gets finish is otherwise" not in told
    assert "is otherwise: hardwax oil" in cli("timetable", bench).out


def test_a_plan_of_another_size_says_what_is_to_be_finished(bench: str, cli: Cli) -> None:
    cli("timetable", bench)
    piece = Path(bench)
    piece.write_text(piece.read_text().replace("thickness: 34", "thickness: 33").replace("1600", "1590"))
    told = cli("replan", bench).out
    # A box of 1600 by 350 by 34 mm has 2 (1.6 * 0.35 + (1.6 + 0.35) * 0.034) = 1.2526 m², the other 1.2410 m².
    assert "What gets finish is otherwise: seat 1.24 m² instead of 1.25 m²." in told
    assert "What coats typically take is otherwise: hardwax oil " in told


def test_sheet_and_calendar_say_what_moved_in_the_words_of_the_timetable(
    bench: str, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    _done(cli, bench, _attended(bench, cli)["leg", "coat 1"], "--yes", "--at", "2027-02-15 09:00")
    told = cli("replan", bench).out.split("\n\n")[1].splitlines()
    assert told[0] == "Plan 2, in the place of plan 1."
    assert len(told) >= 3
    sheet, calendar = Path(bench).with_name("bench.html"), Path(bench).with_name("bench.ics")
    assert cli("sheet", bench, "-o", sheet).status == 0
    assert cli("calendar", bench, "-o", calendar).status == 0
    printed = html.unescape(sheet.read_text())
    events = Calendar.from_ical(calendar.read_bytes()).walk("VEVENT")
    (ready,) = (str(event["description"]) for event in events if "light use" in str(event["summary"]))
    assert ready.splitlines() == [line.strip() for line in told]
    assert all(line.strip().rstrip(".") in printed for line in told)


def test_a_plan_of_changed_files_is_not_begun_in_the_past(
    bench: str, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Asked for as before, it begins when it is made, however long ago the first one was begun."""
    cli("timetable", bench, "--from", "2027-02-15", "--asap")
    noon = datetime(2027, 2, 17, 12, 0, tzinfo=UTC)
    at(monkeypatch, noon)
    piece = Path(bench)
    piece.write_text(piece.read_text().replace("1600", "1590"))
    steps = json.loads(cli("timetable", bench, "--json").out)["steps"]
    assert min(datetime.fromisoformat(step["start"]) for step in steps) >= noon
    dated = json.loads(cli("timetable", bench, "--from", "2027-02-15", "--asap", "--json").out)["steps"]
    assert {step["id"] for step in dated} == {step["id"] for step in steps}


def _rows(piece: str, cli: Cli) -> list[dict[str, Any]]:
    steps = json.loads(cli("timetable", piece, "--json").out)["steps"]
    return [step for step in steps if step["kind"] == "attended"]


@pytest.mark.parametrize("how", [("--asap",), ()])
def test_the_clean_up_of_a_ticked_coat_stays_in_the_plan_until_it_is_ticked(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch, how: tuple[str, ...]
) -> None:
    """Oily cloths catch fire by themselves: no plan may leave them out."""
    piece = str(folder / "stool.yaml")
    cli("timetable", piece, *how)
    numbers = {row["step"]: row["number"] for row in _rows(piece, cli)}
    at(monkeypatch, datetime(2027, 2, 15, 10, 0, tzinfo=UTC))
    _done(cli, piece, numbers["sand bare wood"], numbers["coat 1"])
    assert "clean up after coat 1: no more" not in cli("replan", piece).out
    first = _rows(piece, cli)[0]
    assert first["step"] == "clean up after coat 1"
    assert first["number"] == numbers["clean up after coat 1"]
    assert first["start"].startswith("2027-02-15T10:00"), "at once"
    at(monkeypatch, datetime(2027, 2, 16, 9, 0, tzinfo=UTC))
    cli("replan", piece)
    assert _rows(piece, cli)[0]["step"] == "clean up after coat 1", "the next day too"
    _done(cli, piece, numbers["clean up after coat 1"])
    cli("replan", piece)
    assert "clean up after coat 1" not in {row["step"] for row in _rows(piece, cli)}
    _done(cli, piece, numbers["clean up after coat 1"], "--undo")
    assert _rows(piece, cli)[0]["step"] == "clean up after coat 1", "its tick was taken back"
    _done(cli, piece, numbers["clean up after coat 1"])
    refused = cli("done", piece, numbers["coat 1"], "--undo")
    assert refused.status != 0, "put on again, its clean-up would be taken for done"
    assert f"{numbers['clean up after coat 1']}: was ticked after that coat; take that back first" in refused.err
    _done(cli, piece, numbers["clean up after coat 1"], "--undo")
    _done(cli, piece, numbers["coat 1"], "--undo")


def test_coats_that_share_a_clean_up_keep_one(bench: str, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    before = _attended(bench, cli)
    coats = [number for (_, step), number in before.items() if step == "coat 1"]
    at(monkeypatch, datetime(2027, 2, 15, 14, 0, tzinfo=UTC))
    _done(cli, bench, *coats, "--yes")
    cli("replan", bench)
    owed = [row for row in _rows(bench, cli) if row["step"] == "clean up after coat 1"]
    assert len(owed) == 1
    assert owed[0]["start"].startswith("2027-02-15T14:00")
    _done(cli, bench, owed[0]["number"])
    cli("replan", bench)
    assert not [row for row in _rows(bench, cli) if row["step"] == "clean up after coat 1"]


def test_abrading_again_that_is_ticked_is_not_planned_again(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    piece = folder / "stool.yaml"
    piece.write_text(piece.read_text().replace("hardwax-oil", "oil-varnish-blend").replace("03-12", "06-25"))
    numbers = _numbers(str(piece), cli)
    at(monkeypatch, datetime(2027, 2, 15, 10, 0, tzinfo=UTC))
    _done(cli, piece, numbers["coat 1"], "--yes")
    _done(cli, piece, numbers["clean up after coat 1"])
    at(monkeypatch, datetime(2027, 5, 31, 9, 0, tzinfo=UTC))
    cli("replan", piece)
    again = [row for row in _rows(str(piece), cli) if row["step"] == "abrade P320 before coat 2"]
    assert len(again) == 1
    _done(cli, piece, again[0]["number"])
    cli("replan", piece)
    assert not [row for row in _rows(str(piece), cli) if row["step"] == "abrade P320 before coat 2"]
    _done(cli, piece, again[0]["number"], "--undo")
    assert [row for row in _rows(str(piece), cli) if row["step"] == "abrade P320 before coat 2"]


def test_only_a_coat_is_found_dry(folder: Path, cli: Cli) -> None:
    piece = str(folder / "stool.yaml")
    sanded = _numbers(piece, cli)["sand bare wood"]
    ended = cli("done", piece, sanded, "--dry")
    assert (ended.status, ended.out) == (2, "")
    assert "only what was put on can be found dry, and none of these steps puts anything on" in ended.err


def test_air_that_the_finish_does_not_bear_is_told_at_the_tick(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    piece = str(folder / "stool.yaml")
    numbers = _numbers(piece, cli)
    at(monkeypatch, datetime(2027, 3, 5, 16, 0, tzinfo=UTC))
    _done(cli, piece, numbers["sand bare wood"], "--at", "09:00")
    fit = cli("done", piece, str(numbers["coat 1"]), "--at", "10:00", "--air", "20 degC 50 %").out
    assert "not fit" not in fit
    told = cli("done", piece, str(numbers["coat 1"]), "--at", "10:00", "--air", "4 degC 95 %").out
    assert "The air is not fit for" in told
    assert "95 % humidity, where" in told


def test_what_is_done_to_a_coat_that_is_not_dry_is_doubted(
    folder: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    piece = str(folder / "stool.yaml")
    numbers = _numbers(piece, cli)
    at(monkeypatch, datetime(2027, 3, 5, 16, 0, tzinfo=UTC))
    _done(cli, piece, numbers["sand bare wood"], "--at", "09:00")
    _done(cli, piece, numbers["coat 1"], "--at", "10:00")
    after = next(label for label in numbers if label.startswith("abrade"))
    told = cli("done", piece, str(numbers[after]), "--at", "10:10").out
    assert "before the coat below was dry" in told

"""Three coats that went wrong, mended at the bench: what comes into the plan, what it costs, and taken back."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from tests.cli.test_held import at
from tests.conftest import Cli

SHOP = """\
shop: Teal Row
time-zone: Etc/UTC
people: [{name: Wenna, hours: {mon-fri: [8:00-12:00, 12:30-17:00]}}]
rooms: {bench: {for: [sanding, assembly]}, finishing: {for: [coating, drying], volume: 60 m3, air-changes: 2}}
climate:
  day: {from: 8:00, to: 18:00, temperature: 18 degC, humidity: 50 %}
  night: {temperature: 14 degC, humidity: 55 %}
methods: [wipe, brush, pad, random-orbit-150, hand]
"""
PIECE = """\
piece: Plant stand
lengths: mm
timber: sugar-maple
system: {system}
deliver: 2027-04-23 15:00
parts:
  top: {{shape: disc, diameter: 340, thickness: 24, faces: {{underside: {{exposure: secondary}}}}}}
"""


class Bench:
    """One piece in its folder, and what is typed of it."""

    def __init__(self, folder: Path, system: str, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
        (folder / "shop.yaml").write_text(SHOP, encoding="utf-8")
        (folder / "stand.yaml").write_text(PIECE.format(system=system), encoding="utf-8")
        self.piece, self._cli, self._patch = folder / "stand.yaml", cli, monkeypatch

    def on(self, moment: str) -> None:
        at(self._patch, datetime.fromisoformat(moment).replace(tzinfo=UTC))

    def answer(self, *typed: object) -> Any:
        ended = self._cli(typed[0], self.piece, *typed[1:], "--json")
        assert ended.status == 0, ended.err
        return json.loads(ended.out)

    def steps(self) -> dict[str, int]:
        rows = self.answer("timetable")["steps"]
        return {row["step"]: row["number"] for row in rows if row["kind"] == "attended"}

    def refused(self, *typed: object) -> str:
        ended = self._cli(typed[0], self.piece, *typed[1:])
        assert ended.status == 2, ended.out
        return ended.err


def _hours(told: Any) -> float:
    ready = (datetime.fromisoformat(told[when]["ready"]) for when in ("before", "now"))
    before, now = ready
    return (now - before).total_seconds() / 3600


def test_a_run_in_the_last_coat_of_varnish(tmp_path: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench(tmp_path, "oil-varnish", cli, monkeypatch)
    bench.on("2027-03-01T08:00")
    steps = bench.steps()
    rows = {row["step"]: row for row in bench.answer("timetable")["steps"] if row["kind"] == "attended"}
    on = datetime.fromisoformat(rows["coat 3"]["end"])
    bench.on(on.isoformat()[:16])
    last = steps["coat 3"]
    bench.answer("done", f"1-{last}", "--yes")
    assert "not above 0 and at most all" in bench.refused("fault", last, "runs", "--repair", "--area", "3 m2")
    assert "is no part" in bench.refused("fault", last, "runs", "--repair", "--items", "leg")
    told = bench.answer("fault", last, "runs", "--repair", "--area", "0.01 m2")
    assert [one.rsplit("/", 1)[1] for one in told["steps"]] == [f"repair-1-{place}" for place in (1, 2, 3, 4)]
    assert told["share"] == pytest.approx(0.01 / 0.207, rel=0.02)  # both faces and the edge of a disc
    # Twice as thick it takes four times 24 h at 23 °C to be fit to handle, then the last coat all over again.
    assert _hours(told) > 4 * 24
    assert told["now"]["needed_ml"]["oil-varnish"] > told["before"]["needed_ml"]["oil-varnish"]

    assert "is in the plan already" in bench.refused("fault", last, "runs", "--repair")
    planned = bench.answer("timetable")["steps"]
    names = [row["step"] for row in planned if row["kind"] == "attended"]
    assert names[:4] == ["scrape off (runs)", "abrade P240 (runs)", "abrade P320 (runs)", "coat 3 again (runs)"]
    assert datetime.fromisoformat(planned[0]["start"]) >= on

    # A look back counts the steps of the repair too, as every tick does: the job is not done with the last coat.
    review = bench.answer("review")
    assert review["steps"] - review["done"] == len({row["number"] for row in planned if row["kind"] == "attended"})

    # What is planned is the record's: ticked by its number, told on the sheet and in the calendar, taken back.
    numbers = bench.steps()
    assert min(numbers[one] for one in names[:4]) > max(steps.values()), "numbers on paper keep their meaning"
    sheet = tmp_path / "stand.html"
    assert cli("sheet", bench.piece, "-o", sheet).status == 0
    assert "scrape off (runs)" in sheet.read_text(encoding="utf-8").lower()
    bench.on(planned[0]["end"][:16])
    scraped = numbers["scrape off (runs)"]
    bench.answer("done", scraped)
    assert "take that back first" in bench.refused("fault", last, "runs", "--undo")
    bench.answer("done", scraped, "--undo")
    back = bench.answer("fault", last, "runs", "--undo")
    assert back["taken_back"]
    assert back["now"]["needed_ml"] == told["before"]["needed_ml"]
    assert all("(runs)" not in row["step"] for row in bench.answer("timetable")["steps"])
    assert "nothing to take back" in bench.refused("fault", last, "runs", "--undo")


def test_an_oil_that_stays_sticky_in_the_cold(tmp_path: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench(tmp_path, "hardwax-oil", cli, monkeypatch)
    bench.on("2027-03-01T08:00")
    first = bench.steps()["coat 1"]
    bench.on("2027-03-08T09:00")
    assert "not ticked" in bench.refused("fault", first, "tacky", "--repair")
    bench.answer("done", f"1-{first}", "--yes", "--air", "9 degC 70 %")
    told = bench.answer("fault", first, "tacky", "--repair")
    assert told["share"] == 1.0
    rows = bench.answer("timetable")["steps"]
    names = [row["step"] for row in rows if row["kind"] == "attended" and row["deed"] != "clean-up"]
    # Another coat follows: nothing more is put on than was planned.
    assert names[:2] == ["wipe with white spirit (tacky)", "abrade P320 (tacky)"]
    assert not any("again" in name for name in names)
    wiped, abraded = (next(row for row in rows if row["step"] == name) for name in names[:2])
    waited = datetime.fromisoformat(abraded["start"]) - datetime.fromisoformat(wiped["end"])
    assert waited.total_seconds() >= 24 * 3600, "a day for the spirit to go, by the catalogue"
    assert "white-spirit" in json.dumps(bench.answer("materials"))
    safety = json.dumps(bench.answer("safety"))
    assert "white spirit" in safety.lower()


def test_sanded_through_to_the_stain(tmp_path: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench(tmp_path, "stain-and-varnish", cli, monkeypatch)
    bench.on("2027-03-01T08:00")
    rows = [row for row in bench.answer("timetable")["steps"] if row["kind"] == "attended"]
    abraded = next(row for row in rows if row["deed"] == "abrade")
    bench.on(abraded["end"][:16])
    bench.answer("done", f"1-{abraded['number']}", "--yes")
    looked = bench.answer("fault", abraded["number"], "sand-through")["faults"][0]
    assert looked["causes"][0]["fact"] == "sanded-after"
    assert looked["causes"][0]["standing"] == "found"
    told = bench.answer("fault", abraded["number"], "sand-through", "--repair", "--share", "3 %")
    names = [row["step"] for row in bench.answer("timetable")["steps"] if row["kind"] == "attended"]
    assert names[0] == "abrade P320 (sand-through)"
    again = [name for name in names if "again" in name and "clean" not in name]
    assert again == ["coat 1 again (sand-through)", "coat 2 again (sand-through)"]
    assert told["now"]["needed_ml"]["oil-stain"] > told["before"]["needed_ml"]["oil-stain"]
    assert _hours(told) > 0


def test_what_has_gone_on_since_is_taken_back_first(tmp_path: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    """A repair comes after all that was done to its item, and never before it."""
    bench = Bench(tmp_path, "hardwax-oil", cli, monkeypatch)
    bench.on("2027-03-01T08:00")
    steps = bench.steps()
    bench.on("2027-03-20T09:00")
    bench.answer("done", f"1-{steps['coat 2']}", "--yes")
    told = bench.answer("fault", steps["coat 1"], "tacky", "--repair")
    assert told["after"] == "top/hardwax-oil/4"
    assert told["coat"] == "top/hardwax-oil/2"

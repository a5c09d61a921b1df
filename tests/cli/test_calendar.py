"""The calendar from the command line."""

from __future__ import annotations

import re
from pathlib import Path

from tests.conftest import Cli

FROM = ("--from", "2026-11-30")


def test_a_calendar_of_two_pieces(demo: Path, cli: Cli) -> None:
    output, shop = demo / "plan.ics", demo / "shop.yaml"
    asked = ("calendar", demo / "round-table.yaml", demo / "hall-bench.yaml", "--shop", shop, *FROM, "-o", output)
    ended = cli(*asked)
    assert (ended.status, ended.out) == (0, f"{output}: written\n")
    first = output.read_bytes()
    assert re.search(rb"SUMMARY:\d+\. Hall bench\\, seat: coat 1", first)
    assert cli(*asked).status == 0
    assert output.read_bytes() == first, "the same bytes for the same input"
    assert cli(*asked, "--issue", "2").status == 0
    assert output.read_bytes() == first.replace(b"SEQUENCE:1\r", b"SEQUENCE:2\r")


def test_what_cannot_be_written(demo: Path, cli: Cli) -> None:
    ended = cli("calendar", demo / "round-table.yaml", *FROM, "-o", demo / "plan.txt")
    assert ended.status == 2
    assert "the calendar is written as .ics, not '.txt'" in ended.err
    ended = cli("calendar", demo / "hall-bench.yaml", *FROM, "--deliver", "2026-12-01", "-o", demo / "plan.ics")
    assert ended.status == 3
    assert "deliver by 2026-12-01" in ended.err
    assert not (demo / "plan.ics").exists()

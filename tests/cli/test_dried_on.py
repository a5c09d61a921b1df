"""Stripper that lay for too long, by the ticks: said at the tick, and at the head of every plan till it is lifted."""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from tests.cli.test_held import at
from tests.cli.test_lead_result import SHOP
from tests.conftest import Cli

PIECE = """\
piece: Bench of the old ferry
lengths: mm
timber: ash
system: oil-varnish-blend
refinish: {lead-test: clear, strip: chemical}
parts:
  seat: {shape: board, length: 900, width: 300, thickness: 22}
"""
DRIED = "may have dried on"
AGAIN = "Do not scrape it dry, and do not sand it: brush as much stripper on once more"


def test_it_is_said_until_it_is_lifted_that_it_may_have_dried_on(
    tmp_path: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "shop.yaml").write_text(SHOP, encoding="utf-8")
    piece = tmp_path / "bench.yaml"
    piece.write_text(PIECE, encoding="utf-8")
    at(monkeypatch, datetime.fromisoformat("2027-03-01T08:00+00:00"))
    rows = json.loads(cli("timetable", piece, "--asap", "--json").out)["steps"]
    brushed, lifted = (next(row for row in rows if row["extra"] == one) for one in ("strip-chemical", "lift-old-film"))
    end = datetime.fromisoformat(brushed["end"])

    at(monkeypatch, end + timedelta(hours=3))
    ended = cli("done", piece, brushed["number"], "--at", f"{end:%Y-%m-%d %H:%M}")
    assert (ended.status, DRIED in ended.out) == (0, False), "3 h are within the 4 h of the record"
    at(monkeypatch, end + timedelta(hours=33))
    for told in (cli("timetable", piece), cli("replan", piece), cli("done", piece, brushed["number"])):
        out = " ".join(told.out.split())
        assert DRIED in out, told.out
        assert AGAIN in out, told.out

    again = cli("done", piece, brushed["number"], "--at", f"{end:%Y-%m-%d %H:%M}").out
    assert "more than 4 h" in again
    lift = cli("done", piece, lifted["number"])
    assert "was over 33 h after brush on the stripper" in lift.out
    assert DRIED not in cli("timetable", piece).out

"""A whole week of a bench on the command line: what every command says hangs together."""

from __future__ import annotations

import re
from pathlib import Path

from finplan.ledger import lots_standing, newest, own_job_of, read_ledger
from tests.record.week import Said, week


def _of(said: list[Said], *typed: str) -> list[Said]:
    return [one for one in said if one.typed[: len(typed)] == typed]


def test_a_week_of_a_bench(tmp_path: Path) -> None:
    said = week(tmp_path)
    refused = [one for one in said if one.status]
    assert [one.typed for one in refused] == [("done", "bench.yaml", "11")], "what comes before it is asked for"
    assert "8 comes before and is not ticked; nothing was written down" in refused[0].err
    assert not any("Traceback" in one.err for one in said)

    cold, late, over = _of(said, "replan")
    dry = re.findall(r"^(\w+): coat 1 of Thu 4 Mar .* from (Fri 5 Mar \d\d:\d\d), by the air", cold.out, re.MULTILINE)
    assert [item for item, _ in dry] == ["seat", "leg", "rail"]
    abraded = dict(re.findall(r"\d+\. (\w+): abrade P320: from Fri 5 Mar \d\d:\d\d to (Fri 5 Mar \d\d:\d\d)", cold.out))
    assert all(abraded[item] >= from_ for item, from_ in dry), "nothing is abraded before it is dry"
    assert "the delivery, Fri 12 Mar 15:00, is kept" in cold.out
    assert "Plan 3, in the place of plan 2." in late.out
    assert "Nothing is left to do" in over.out
    assert "earliest that it could be ready" not in over.out

    assert "All is done." in _of(said, "done", "bench.yaml", "13")[0].out
    ready = "Thu 11 Mar 05:25"
    assert f"Ready {ready}" in over.out
    assert f"ready {ready}" in _of(said, "review")[0].out, "as the newest plan knows it, not as the first did"
    (review,) = _of(said, "review")
    assert "All is done; it was begun by plan 1" in review.out
    assert "231 %" not in review.out
    before, after = (one.out for one in (*_of(said, "materials", "bench.yaml"), *_of(said, "materials", "next.yaml")))
    assert "weighed coats of this shop" not in before
    assert "weighed coats of this shop" in after
    assert "Planned by this shop's own times" in _of(said, "timetable", "next.yaml")[0].out

    calendar = (tmp_path / "bench.ics").read_text()
    assert "SEQUENCE:2" in calendar, "it was written again after the cold night"
    with read_ledger(tmp_path / "finplan.ledger") as ledger:
        assert ledger is not None
        job = own_job_of(ledger, ["bench.yaml"])
        assert job is not None
        held = newest(ledger, job)
        assert held is not None
        assert (held.number, held.made.rows) == (4, ())
        (can,) = lots_standing(ledger)
    used_ml = 70 / 0.92 + 30 + 14 + 11 + 54 + 21
    assert abs(1000 - can.left - used_ml) < 1, "what was ticked was drawn from the can, and what was taken back was not"

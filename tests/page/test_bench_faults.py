"""At the bench, where something is found: a coat that went wrong, or lead."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.ledger import read_ledger, ticks_of
from tests.page.at_the_bench import BENCH, FIRST_DAY, Bench, Clock, Here, Page, bench, held, opened_at

__all__ = ["bench", "held"]


def test_from_the_link_of_a_coat_to_its_repair(bench: Bench) -> None:
    step = next(
        form["step"] for form in bench.page().forms if form["action"].endswith("/tick") and form.get("unit") == "ml"
    )
    bench.tick(step, believe="yes")
    page = bench.client.get(BENCH).text
    link = f"{BENCH}/fault?step={step}"
    assert link in page
    asked = bench.client.get(link).text
    assert "What is wrong with it?" in asked
    assert f"step={step}&amp;fault=tacky" in asked
    looked = bench.page(f"{link}&fault=tacky")
    for words in ("Not to be taken for", "Now:", "Wait:", "The repair", "wipe with white spirit"):
        assert words in looked.told, words
    form = next(one for one in looked.forms if one["action"].endswith("/fault"))
    refused = bench.client.post(f"{BENCH}/fault", data={**form, "share": "nought"})
    assert refused.status_code == 422
    assert "is not a percentage" in refused.text
    assert "--share" not in refused.text
    sent = bench.client.post(f"{BENCH}/fault", data=form, follow_redirects=True)
    assert sent.status_code == 200, sent.text
    assert "wipe with white spirit (tacky)" in sent.text
    again = bench.client.post(f"{BENCH}/fault", data=form)
    assert again.status_code == 409, "another plan was made meanwhile"


def test_a_fault_that_cannot_occur_says_why_and_offers_no_repair(bench: Bench) -> None:
    step = next(
        form["step"] for form in bench.page().forms if form["action"].endswith("/tick") and form.get("unit") == "ml"
    )
    looked = bench.page(f"{BENCH}/fault?step={step}&fault=runs")
    assert "Cannot occur in" in looked.told
    assert not [one for one in looked.forms if one["action"].endswith("/fault")]
    assert bench.client.get(f"{BENCH}/fault?step=999").status_code == 422


OLD = """\
piece: Stool of the old ferry
lengths: mm
timber: white-pine
system: oil-varnish-blend
refinish: {built: 1930, strip: scrape}
parts: {seat: {shape: board, length: 400, width: 280, thickness: 22}}
"""


def test_a_test_for_lead_is_ticked_with_what_it_came_to(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("finplan.page.jobs.BenchHand", Here)
    (tmp_path / "stool.yaml").write_text(OLD, encoding="utf-8")
    with opened_at(tmp_path, Clock(FIRST_DAY)) as (client, _):
        client.post("/piece/stool.yaml/bench/begin")
        page = Page(client.get("/piece/stool.yaml/bench").text)
        assert "Tested: lead found, or in doubt" in page.told
        step = next(one["step"] for one in page.forms if one["action"].endswith("/tick"))
        sent = {**page.form(step), "result": "lead"}
        told = Page(client.post("/piece/stool.yaml/bench/tick", data=sent).text).told
    assert told.count("lead was found in the old coating of seat (test 1, ") == 2, "at the head, and of what was ticked"
    with read_ledger(tmp_path / "finplan.ledger") as ledger:
        assert ledger is not None
        (found,) = ticks_of(ledger)
    assert found.result == "lead"

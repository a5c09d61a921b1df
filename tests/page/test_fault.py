"""A coat that went wrong, at the bench: from the link at its tick to the repair that is planned."""

from __future__ import annotations

from tests.page.test_bench import BENCH, Bench, bench, held

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

"""At the bench, and elsewhere meanwhile: the command line, programs, other windows, files that changed."""

from __future__ import annotations

import re
import shutil
from datetime import timedelta
from pathlib import Path

import pytest

from finplan.ledger import Tick
from tests.conftest import Cli
from tests.page.at_the_bench import BENCH, FIRST_DAY, Bench, bench, held

__all__ = ["bench", "held"]


def test_what_the_page_does_is_what_the_command_line_does(
    bench: Bench, cli: Cli, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = Path(shutil.copytree(bench.folder, tmp_path / "other"))
    table = other / "round-table.yaml"
    for moment, step, typed, options in (
        (FIRST_DAY, "1", {"at": "09:50", "by": "Maren"}, ["--at", "09:50", "--by", "Maren"]),
        (FIRST_DAY.replace(hour=13, minute=10), "3", {"took": "30"}, ["--took", "30 min"]),
        (
            FIRST_DAY.replace(hour=13, minute=40),
            "4",
            {"used": "118", "temperature": "19", "humidity": "48"},
            ["--used", "118 ml", "--air", "19 degC 48 %"],
        ),
    ):
        bench.clock.moment = moment
        for module in ("wishes", "bench"):
            monkeypatch.setattr(f"finplan.cli.{module}.now", bench.clock)
        page = bench.send("tick", {**bench.page().form(step), **typed})
        said = cli("done", table, step, *options).out.splitlines()
        assert " ".join(said) in page.told
    of_cli = Bench(bench.client, bench.clock, other).ticks()
    assert list(map(_same, bench.ticks())) == list(map(_same, of_cli))


def test_programs_tick_by_the_same_rules(bench: Bench) -> None:
    url = "/api/pieces/round-table.yaml/bench"
    client, page_of = bench.client, bench.page
    bench.clock.moment = FIRST_DAY.replace(hour=14)
    told = client.get(url).json()
    assert told["days"][0]["heading"] == "Wednesday 10 February 2027"
    assert {"1", "3", "4"} <= {one["number"] for one in told["days"][0]["steps"]}
    plan = {"plan": told["plan"], "seen": 0}
    early = client.post(f"{url}/ticks", json={**plan, "step": "4", "used": "118"})
    assert early.status_code == 422
    assert early.json()["before"] is True
    assert "3 comes before and is not ticked" in early.json()["detail"]
    believed = {**plan, "step": "4", "at": "13:35", "used": "118", "temperature": "19", "humidity": "48", "by": "Osric"}
    done = client.post(f"{url}/ticks", json={**believed, "believe": True}).json()
    assert "118 ml used, 4 % less than reckoned (123 ml)." in " ".join(done["said"])
    assert done["wet"]
    (coat,) = bench.ticks()
    assert (coat.used_ml, coat.air_c, coat.humidity_pct, coat.person) == (118, 19, 48, "Osric")
    assert "4 ✓ done Wed 10 Feb 13:35 by Osric, 118 ml used" in page_of().told
    again = client.post(f"{url}/ticks", json={**plan, "step": "4"})
    assert again.status_code == 409
    assert "was changed meanwhile" in again.json()["detail"]
    assert client.post(f"{url}/ticks", json={**plan, "step": "1", "took": "long"}).status_code == 422
    assert client.post(f"{url}/ticks", json={**plan, "step": "99"}).status_code == 422
    seen = next(step["seen"] for step in done["days"][0]["steps"] if step["number"] == "4")
    back = client.post(f"{url}/take-back", json={"plan": told["plan"], "seen": seen, "step": "4"}).json()
    assert back["said"][0].startswith("Taken back: 4.")
    assert bench.ticks() == ()
    bench.clock.moment = FIRST_DAY + timedelta(days=1, hours=6)
    assert client.get(url).json()["late"].startswith("Late by plan 1")
    assert client.post(f"{url}/replan", json={"plan": told["plan"]}).json()["said"] == ["The rest is planned again."]
    assert client.post(f"{url}/replan", json={"plan": told["plan"]}).status_code == 409
    jobs = {one["name"]: one for one in client.get("/api/bench").json()["jobs"]}
    assert jobs["hall-bench.yaml"]["why"] == "no plan of it is held yet"
    assert jobs["round-table.yaml"]["next"]
    assert client.get("/api/pieces/hall-bench.yaml/bench").status_code == 404


def _same(tick: Tick) -> tuple[object, ...]:
    return tick.steps, tick.at, tick.entered, tick.used_ml, tick.air_c, tick.took_min, tick.person, tick.observed


def test_files_that_changed_are_told_and_nothing_is_ticked(bench: Bench) -> None:
    form = bench.page().form("1")
    file = bench.folder / "round-table.yaml"
    file.write_text(file.read_text().replace("diameter: 1050", "diameter: 1060"))
    assert "The files have changed since plan 1 was made" in bench.page().told
    page = bench.send("tick", form, status=422)
    assert "the files have changed since this plan was made: plan again first" in page.told
    assert bench.ticks() == ()
    told = bench.replan().told
    assert "What gets finish is otherwise:" in told


def test_it_works_without_a_script(bench: Bench) -> None:
    text = bench.client.get(BENCH).text
    posted = re.findall(r'hx-post="([^"]+)"', text)
    forms = [one for one in bench.page().forms if one["method"] == "post"]
    assert sorted(posted) == sorted(one["action"] for one in forms)
    assert len(forms) > 5


def test_windows_hear_of_what_was_ticked_elsewhere(bench: Bench) -> None:
    found = re.search(r'hx-get="([^"]+/news[^"]+)"', bench.client.get(BENCH).text)
    assert found is not None
    news = found[1].replace("&amp;", "&")
    assert bench.client.get(news).status_code == 204
    bench.tick("1")
    assert "Show what is there now" in bench.client.get(news).text


def test_all_jobs_are_listed_with_what_is_next(bench: Bench) -> None:
    told = bench.page("/bench").told
    assert "Round table for the mill reading room Wed 10 Feb 09:45 base: Sand bare wood" in told
    assert "No plan of it is held yet." in told


def test_a_file_that_cannot_be_read_takes_no_other_job_from_the_bench(bench: Bench) -> None:
    (bench.folder / "saved-elsewhere.yaml").write_bytes("piece: Geländer".encode("latin-1"))
    told = bench.page("/bench").told
    assert "saved-elsewhere.yaml saved-elsewhere.yaml: is not text in UTF-8" in told
    assert "Wed 10 Feb 09:45 base: Sand bare wood" in told


def test_a_job_with_a_piece_outside_the_folder_is_not_read(bench: Bench, cli: Cli) -> None:
    outside = bench.folder.parent / "outside.yaml"
    outside.write_text((bench.folder / "hall-bench.yaml").read_text().replace("Hall bench", "Secret bench"))
    ledger = bench.folder / "finplan.ledger"
    inside = bench.folder / "book-shelf.yaml"
    assert cli("timetable", inside, outside, "--shop", bench.folder / "shop.yaml", "--ledger", ledger).status == 0
    answer = bench.client.get("/piece/book-shelf.yaml/bench")
    assert "Secret" not in answer.text
    assert answer.status_code == 404


def test_what_is_no_form_of_ours_is_refused(bench: Bench) -> None:
    sends: list[dict[str, str]] = [
        {},
        {"step": "1"},
        {"step": "1", "plan": "x", "seen": "0"},
        {"plan": "1", "seen": "0"},
    ]
    for sent in sends:
        for what in ("tick", "undo", "replan"):
            if what == "replan" and sent.get("plan") == "1":
                continue
            assert bench.client.post(f"{BENCH}/{what}", data=sent).status_code == 422, sent
        assert bench.ticks() == (), sent

"""At the bench: what is shown, ticked, corrected and taken back, and planned again; beside the command line."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from html.parser import HTMLParser
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from finplan.bench import job_now
from finplan.ledger import Tick, files_of, job_of, read_ledger, ticks_of
from finplan.page.app import make_app
from finplan.page.at_bench import bench_shown
from finplan.page.guard import Guard, Keys
from finplan.page.hand import BenchAsked, plan_and_hold
from finplan.page.opened import Opened
from finplan.problems import NotPossibleError
from finplan.sheet import working_days
from tests.conftest import Cli
from tests.page.conftest import HOST, NOW

BENCH = "/piece/round-table.yaml/bench"
FIRST_DAY = datetime(2027, 2, 10, 10, 0, tzinfo=UTC)
"""By the plan of the demo's table; in the demo's shop it is 10:00 then."""


@dataclass
class Clock:
    """What time it is."""

    moment: datetime = NOW

    def __call__(self) -> datetime:
        return self.moment


@dataclass
class Page(HTMLParser):
    """A page as a browser without scripts has it: its forms, each with what it sends."""

    text: str
    forms: list[dict[str, str]] = field(default_factory=list)
    words: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__()
        self.feed(self.text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = {name: value or "" for name, value in attrs}
        if tag == "form":
            self.forms.append({"action": found.get("action", ""), "method": found.get("method", "")})
        elif tag == "input" and self.forms and "name" in found:
            self.forms[-1][found["name"]] = found.get("value", "")

    def handle_data(self, data: str) -> None:
        self.words.append(data)

    @property
    def told(self) -> str:
        return " ".join(" ".join(self.words).split())

    def form(self, step: str, what: str = "tick") -> dict[str, str]:
        """Return what the first form of a step sends."""
        own = [one for one in self.forms if one["action"].endswith(f"/{what}") and one.get("step") == step]
        return {name: value for name, value in own[0].items() if name not in ("action", "method")}


@dataclass
class Bench:
    client: TestClient
    clock: Clock
    folder: Path

    def page(self, path: str = BENCH) -> Page:
        return Page(self.client.get(path).text)

    def tick(self, step: str, what: str = "tick", *, status: int = 200, **typed: str) -> Page:
        """Send the form of a step as it is shown now, with something typed into it."""
        return self.send(what, {**self.page().form(step, what), **typed}, status=status)

    def send(self, what: str, sent: dict[str, str], *, status: int = 200) -> Page:
        answer = self.client.post(f"{BENCH}/{what}", data=sent)
        assert answer.status_code == status, answer.text
        return Page(answer.text)

    def replan(self) -> Page:
        form = next(one for one in self.page().forms if one["action"].endswith("/replan"))
        return self.send("replan", {"plan": form["plan"]})

    def ticks(self) -> tuple[Tick, ...]:
        with read_ledger(self.folder / "finplan.ledger") as ledger:
            assert ledger is not None
            job = job_of(ledger, ["round-table.yaml"])
            assert job is not None
            assert files_of(ledger, job) == ("round-table.yaml",)
            return ticks_of(ledger, job)


@pytest.fixture(scope="module")
def held(demo: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's files and a record in which the table's plan is held, by the button of the page."""
    folder = Path(shutil.copytree(demo, tmp_path_factory.mktemp("held") / "workshop"))
    with _opened(folder, Clock()) as (client, _):
        before = client.get(BENCH).text
        assert "No plan of it is held" in before
        after = client.post(f"{BENCH}/begin").text
    assert "Next: Wednesday 10 February 2027" in after
    return folder


class _opened:  # noqa: N801 - reads as what it does
    """A folder that is open while something is asked."""

    def __init__(self, folder: Path, clock: Clock) -> None:
        self.found = Opened(folder, clock)
        guarded = Guard(make_app(self.found), Keys("a-word"), [HOST])
        self.client = TestClient(guarded, base_url=f"http://{HOST}")
        self.client.get("/?word=a-word")

    def __enter__(self) -> tuple[TestClient, Opened]:
        return self.client, self.found

    def __exit__(self, *_: object) -> None:
        self.found.end()


class Here:
    """Plans in this process, which saves the tests the start of another."""

    def warm(self) -> None:
        pass

    def plan(self, wanted: BenchAsked) -> tuple[str, ...]:
        came = plan_and_hold(wanted)
        if came.wrong:
            raise NotPossibleError(came.wrong)
        return came.clashes

    def end(self) -> None:
        pass


@pytest.fixture
def bench(held: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Bench]:
    monkeypatch.setattr("finplan.page.jobs.BenchHand", Here)
    folder = Path(shutil.copytree(held, tmp_path / "workshop"))
    clock = Clock(FIRST_DAY)
    with _opened(folder, clock) as (client, _):
        yield Bench(client, clock, folder)


def test_today_is_shown_step_by_step_in_the_words_of_the_sheet(bench: Bench, cli: Cli) -> None:
    told = bench.page().told
    assert "Today: Wednesday 10 February 2027" in told
    for words in ("09:45–11:10", "base: Sand bare wood", "Before you sand", "Wet when you leave", "Latest start"):
        assert words in told
    sheet = bench.folder / "sheet.html"
    assert cli("sheet", bench.folder / "round-table.yaml", "-o", sheet).status == 0
    printed = Page(sheet.read_text()).told
    for line in (
        "leg × 4: P80, P120, P150, P180. apron × 4: P120, P150. Tick each grit on the sanding card.",
        "It stays in the clamps for 4 h (2–24 h).",
        "No flame, pilot light or heater within 6 m (20 ft); lights and fan are switched, and stay so.",
        "Only at 12–30 °C and 30–75 % humidity",
        *re.findall(r"Latest start [^.]*\.", told),
    ):
        assert line in told
        assert line in printed


def test_each_step_is_ticked_at_one_place_alone(bench: Bench) -> None:
    days = re.findall(r"bench\?day=([0-9-]+)", bench.client.get(BENCH).text)
    for day in dict.fromkeys(days):
        text = bench.client.get(f"{BENCH}?day={day}").text
        for found in (re.findall(r' id="([^"]+)"', text), re.findall(r'data-part="([^"]+)"', text)):
            assert len(found) == len(set(found))


def test_what_is_interrupted_is_ticked_where_it_ends(bench: Bench) -> None:
    with Opened(bench.folder, bench.clock).jobs._open("round-table.yaml", to_read=True) as (ledger, held, pieces):
        job = job_now(ledger, held, pieces, bench.clock())
    day = working_days(job.plan)[0]
    (of_one, *_), row = day.people, day.people[0].sessions[0].rows[0]
    twice = replace(of_one.sessions[0], rows=(row, replace(row, start="13:00", end="13:40")))
    shown = bench_shown(job, [replace(day, people=(replace(of_one, sessions=(twice,)),))], bench.clock())
    rows = shown.days[0].sessions[0].rows
    assert [[step.goes_on for step in one.steps] for one in rows] == [[True], [False]]
    assert shown.links[0].left == "1 of 1 to do"


def test_without_work_today_the_next_day_with_work_is_shown(bench: Bench) -> None:
    bench.clock.moment = FIRST_DAY - timedelta(days=3)
    told = bench.page().told
    assert "Today:" not in told
    assert "Next: Wednesday 10 February 2027" in told
    other = bench.page(f"{BENCH}?day=2027-02-11").told
    assert "Thursday 11 February 2027" in other
    assert "Back to today" in other
    assert bench.client.get(f"{BENCH}?day=soon").status_code == 422


def test_a_tick_is_written_down_with_all_that_is_told(bench: Bench) -> None:
    bench.clock.moment = FIRST_DAY.replace(hour=13, minute=40)
    bench.tick("1", at="11:05", took="75", by="Maren")
    bench.tick("3", at="13:05")
    page = bench.tick("4", at="13:35", used="118", temperature="19", humidity="48", by="Osric", note="warm tin")
    assert "118 ml used, 4 % less than reckoned (123 ml)." in page.told
    assert "4 ✓ done Wed 10 Feb 13:35 by Osric, 118 ml used, air 19 °C 48 %, warm tin" in page.told
    assert "Wet now, do not touch" in page.told
    first, second, coat = bench.ticks()
    assert (first.person, first.took_min) == ("Maren", 75)
    assert second.at == FIRST_DAY.replace(hour=13, minute=5)
    assert (coat.used_ml, coat.air_c, coat.humidity_pct, coat.person) == (118, 19, 48, "Osric")


def test_the_can_before_and_after_may_stand_in_the_place_of_the_amount(bench: Bench) -> None:
    bench.clock.moment = FIRST_DAY.replace(hour=14)
    page = bench.tick("4", at="13:35", before="812", after="700,5", believe="yes")
    assert "112 g used" in page.told
    (coat,) = bench.ticks()
    assert (coat.can_before_g, coat.can_after_g) == (812, 700.5)


def test_what_cannot_be_taken_is_told_at_its_step_and_stays_typed(bench: Bench) -> None:
    cases: list[tuple[dict[str, str], str]] = [
        ({"at": "23:50"}, "when it was done: '23:50' is still to come"),
        ({"at": "noon"}, "expected 2027-03-12"),
        ({"took": "long"}, "how long it took: 'long'"),
        ({"used": "85"}, "what was used is told of a step that puts nothing on"),
        (
            {"before": "700", "after": "812"},
            "the can before and after: '700 g -> 812 g': the can weighs more afterwards",
        ),
        ({"before": "700"}, "the can before and after:"),
        ({"temperature": "19", "humidity": "x"}, "the air:"),
        ({"note": "x" * 301}, "is longer than 300 letters"),
    ]
    form = bench.page().form("1")
    for typed, told in cases:
        page = bench.send("tick", {**form, **typed}, status=422)
        assert told in page.told
        assert bench.ticks() == (), told
        for name in typed.keys() & {"at", "took"}:
            assert page.form("1")[name] == typed[name]
    assert bench.page().form("1") == form  # what was typed wrong is nowhere but in its answer


def test_what_comes_before_is_asked_for_and_believed(bench: Bench) -> None:
    page = bench.tick("4", status=422)
    assert "3 comes before and is not ticked." in page.told
    assert "Were they done too?" in page.told
    assert bench.ticks() == ()
    told = bench.send("tick", {**page.form("4"), "believe": "yes"}).told
    assert "Counts as done, since something after it is ticked." in told


def test_a_form_of_before_another_plan_is_refused_with_what_is_there_now(bench: Bench) -> None:
    bench.clock.moment += timedelta(days=1)
    old = bench.page().form("1")
    bench.replan()
    page = bench.send("tick", old, status=409)
    assert "Plan 2 was made meanwhile; this is what is there now. Nothing was written down." in page.told
    assert "Plan 2." in page.told
    assert bench.ticks() == ()


def test_a_step_that_was_ticked_meanwhile_is_not_ticked_twice(bench: Bench) -> None:
    form = bench.page().form("1")
    bench.send("tick", {**form, "at": "09:55"})
    page = bench.send("tick", form, status=409)
    assert "1 was changed meanwhile: done Wed 10 Feb 09:55. Nothing was written down." in page.told
    assert len(bench.ticks()) == 1
    back = page.form("1", "undo")
    bench.send("undo", back)
    assert "1 was changed meanwhile: is not ticked any more." in bench.send("undo", back, status=409).told


def test_a_tick_is_corrected_and_taken_back(bench: Bench) -> None:
    bench.tick("1", at="09:50")
    page = bench.tick("1", at="09:58", by="Maren")
    assert "1 ✓ done Wed 10 Feb 09:58 by Maren" in page.told
    told = bench.tick("1", "undo").told
    assert "Taken back: 1." in told
    told = bench.tick("1", "undo").told
    assert bench.ticks() == ()
    assert "1 Done" in bench.page().told


def test_what_stands_in_the_way_of_taking_back_is_told_as_on_the_command_line(bench: Bench, cli: Cli) -> None:
    bench.clock.moment = FIRST_DAY.replace(hour=14)
    bench.tick("4", at="13:35", believe="yes")
    bench.tick("5", at="13:40")
    page = bench.tick("4", "undo", status=422)
    said = cli("done", bench.folder / "round-table.yaml", "4", "--undo").err.strip()
    assert said.startswith("5: was ticked after that coat")
    assert said in page.told


def test_a_coat_is_found_dry(bench: Bench) -> None:
    bench.clock.moment = FIRST_DAY.replace(hour=14)
    bench.tick("4", at="13:35", believe="yes")
    bench.clock.moment += timedelta(hours=23)
    form = next(one for one in bench.page(f"{BENCH}?day=2027-02-10").forms if one.get("dry"))
    page = bench.send("tick", {name: form[name] for name in ("step", "plan", "seen", "day", "dry")})
    assert "Ticked 4: found dry Thu 11 Feb 13:00." in page.told
    assert "found dry Thu 11 Feb 13:00" in page.told
    assert [one.kind for one in bench.ticks()] == ["done", "dry"]


def test_the_rest_is_planned_again_when_it_is_late(bench: Bench) -> None:
    bench.tick("1", at="09:50")
    bench.clock.moment = FIRST_DAY + timedelta(days=1, hours=6)
    page = bench.page()
    assert "Late by plan 1: steps 2, 3, 4" in page.told
    assert "Before today: Wednesday 10 February 2027" in page.told
    told = bench.replan().told
    assert "The rest is planned again. Plan 2, in the place of plan 1: what moved" in told
    assert "Thu 11 Feb is lost: its work is planned anew." in told
    assert "the delivery, Fri 19 Feb 15:00, is kept." in told
    assert "Late by" not in told


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


# --- a coat that went wrong -----------------------------------------------------------------------------------------


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
    with _opened(tmp_path, Clock(FIRST_DAY)) as (client, _):
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

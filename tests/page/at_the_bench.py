"""The bench of a job whose plan is held, at a moment of the test's choice, as a browser without scripts has it."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from html.parser import HTMLParser
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from finplan.ledger import Tick, files_of, job_id, read_ledger, ticks_of
from finplan.page.app import make_app
from finplan.page.guard import Guard, Keys
from finplan.page.hand import BenchAsked, plan_and_hold
from finplan.page.opened import Opened
from finplan.problems import NotPossibleError
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
            job = job_id(ledger, ["round-table.yaml"])
            assert job is not None
            assert files_of(ledger, job) == ("round-table.yaml",)
            return ticks_of(ledger, job)


@pytest.fixture(scope="session")
def held(demo: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's files and a record in which the table's plan is held, by the button of the page."""
    folder = Path(shutil.copytree(demo, tmp_path_factory.mktemp("held") / "workshop"))
    with opened_at(folder, Clock()) as (client, _):
        before = client.get(BENCH).text
        assert "No plan of it is held" in before
        after = client.post(f"{BENCH}/begin").text
    assert "Next: Wednesday 10 February 2027" in after
    return folder


class opened_at:  # noqa: N801 - reads as what it does
    """A folder that is open while something is asked."""

    def __init__(self, folder: Path, clock: Clock) -> None:
        self.found = Opened(folder, clock)
        guarded = Guard(make_app(self.found), Keys("a-word"), [HOST])
        self.client = TestClient(guarded, base_url=f"http://{HOST}")
        self.client.get("/?word=a-word", follow_redirects=False)

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
    with opened_at(folder, clock) as (client, _):
        yield Bench(client, clock, folder)

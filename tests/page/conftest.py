"""A folder that is open, with the demo's files in it, and who asks as a browser does.

Days are planned beside, in a process of their own, only for the tests that ask for ``days_beside``.
"""

from __future__ import annotations

import shutil
import threading
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from finplan.demo import delivery_day, write_demo
from finplan.page.app import make_app
from finplan.page.guard import Guard, Keys
from finplan.page.opened import Opened

HOST = "127.0.0.1:8999"
NOW = datetime(2027, 1, 11, 8, 0, tzinfo=UTC)


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo")
    write_demo(folder, NOW.date())
    # The round table is the tests' own, which reckon with its oil; it is delivered as the demo's pieces are.
    own = (Path(__file__).parents[1] / "pieces" / "round-table.yaml").read_text(encoding="utf-8")
    text = own.replace("2027-01-15", delivery_day(NOW.date()).isoformat())
    (folder / "round-table.yaml").write_text(text, encoding="utf-8")
    return folder


class IdleHand:
    """Stands where a process would plan the days of whatever is shown, for tests that ask for no days."""

    def __init__(self) -> None:
        self.pipe = self
        self._ended = threading.Event()

    def send(self, asked: object) -> None:
        """Take what is to be planned, and plan nothing."""

    def recv(self) -> object:
        """Wait until it is ended, as for a search that is long."""
        self._ended.wait()
        raise EOFError

    def end(self) -> None:
        self._ended.set()


@pytest.fixture
def days_beside() -> None:
    """Let the days be planned beside, as they are for a maker."""


@pytest.fixture(autouse=True)
def _no_days_but_where_they_are_asked_for(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    if "days_beside" not in request.fixturenames:
        monkeypatch.setattr("finplan.page.planner._Hand", IdleHand)


@pytest.fixture
def folder(demo: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(demo, tmp_path / "workshop"))


@pytest.fixture
def opened(folder: Path) -> Iterator[Opened]:
    found = Opened(folder, lambda: NOW)
    yield found
    found.end()


@pytest.fixture
def keys() -> Keys:
    return Keys("a-word")


@pytest.fixture
def stranger(opened: Opened, keys: Keys) -> TestClient:
    """Who has no word."""
    return TestClient(Guard(make_app(opened), keys, [HOST]), base_url=f"http://{HOST}")


@pytest.fixture
def client(stranger: TestClient) -> TestClient:
    """Who has given it; the list of pieces, to which that leads, is reckoned for the tests that look at it."""
    stranger.get("/?word=a-word", follow_redirects=False)
    return stranger

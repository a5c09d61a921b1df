"""What the tests share."""

from __future__ import annotations

import atexit
import gc
import os
import shutil
import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from importlib import import_module
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import settings
from xdist.scheduler import LoadFileScheduling

from finplan.demo import write_demo
from tests.planned_once import planned_once
from tests.printed_once import Printer, in_its_own_process, printed_once

# What is loaded stays: nobody looks for garbage in it until the tests begin.
gc.set_threshold(1_000_000)

# Begun in the background, the tests and all that they start would hear no break from the keyboard.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)

# How long one example takes says nothing about whether it is right, and the first one loads the units.
# Where every change is tried the same examples are drawn each time; "anew" draws others, and twenty times as many.
settings.register_profile("finplan", deadline=None, max_examples=50, derandomize="CI" in os.environ)
settings.register_profile("anew", deadline=None, max_examples=1000)
settings.load_profile("finplan")


LONGEST = (
    "page/test_browser", "page/test_bench_browser", "timetable/test_construct", "sheet/test_stress",
    "timetable/test_what_helps", "timetable/test_rules_hold", "cli/test_sheet_and_demo", "sheet/test_pdf",
    "timetable/test_workmanlike", "page/test_pages", "test_guide", "fields/test_effect", "page/test_bench",
    "page/test_bench_elsewhere", "sheet/test_tags", "timetable/test_does_not_fit", "cli/test_ends", "sheet/test_fonts",
    "record/test_four_processes", "test_fuzz", "page/test_lists", "planning/test_compare", "telling/test_agreement",
    "timetable/test_generated", "forms/test_forms", "timetable/test_keep", "timetable/test_fit_air", "cli/test_bench",
    "timetable/test_consistent", "data/test_plan_json", "timetable/test_slips", "published/test_projects",
    "cli/test_break",
)  # fmt: skip
"""The files that take five seconds and more, the longest first; and before them those of the browser.

Those wait for it most of their time, and beside them the code is read, which waits for nothing.
"""


@pytest.hookimpl(tryfirst=True)
def pytest_collection() -> None:
    """Let every second process load the tests from the last on, so that their asserts are made ready once.

    On a bare clone that takes eight seconds; all processes would begin with the same file, and each do all of it.
    """
    if int(os.environ.get("PYTEST_XDIST_WORKER", "gw0").removeprefix("gw")) % 2:
        here = Path(__file__).parent
        for file in sorted(here.rglob("test_*.py"), reverse=True):
            with suppress(Exception, pytest.skip.Exception):  # collecting tells what is wrong with it
                import_module(".".join(file.relative_to(here.parent).with_suffix("").parts))


HOUSE = "tests/architecture/"


def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """Give each process whole files, and one of them all that read the modules of the house, which takes seconds."""
    if config.getoption("dist") != "loadfile":
        return None
    scheduler = LoadFileScheduling(config, log)
    scheduler._split_scope = lambda test: HOUSE if test.startswith(HOUSE) else test.partition("::")[0]
    return scheduler


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Begin with the files that take longest, so that no process is left with one when the others have ended."""
    places = {f"tests/{name}.py": place for place, name in enumerate(LONGEST)}
    items.sort(key=lambda item: places.get(item.nodeid.partition("::")[0], len(places)))


@pytest.hookimpl(trylast=True)
def pytest_collection_finish() -> None:
    """Look for garbage among what tests make, not again and again among some ten thousand tests, which stay."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 10, 5)  # more of it at a time, but none kept until it fills the machine


@dataclass
class Looked:
    """How often all was looked through for garbage."""

    times: int


LOOKED = Looked(0)


def pytest_runtest_logfinish() -> None:
    """What is left where all was looked through is kept for other tests: each further look at it took a second.

    Not at once, but between two tests: whoever asks what refers to something is told nothing of what is kept so.
    """
    times = gc.get_stats()[2]["collections"]
    if times > LOOKED.times:
        LOOKED.times = times
        gc.freeze()


@pytest.hookimpl(trylast=True)
def pytest_unconfigure() -> None:
    """Look for garbage once more, in all, which tells of what was not ended well; no further among what goes anyway.

    Five times is what would be looked; and freeing one by one all that the tests have kept takes seconds too.
    """
    gc.unfreeze()
    gc.collect()
    gc.freeze()


def pytest_configure(config: pytest.Config) -> None:
    """Let processes of tests that have told how the tests ended end at once themselves."""
    if hasattr(config, "workerinput"):
        atexit.register(_end_at_once)


def _end_at_once() -> None:
    """Leave what was kept to the system, as the last thing that a process does."""
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(0)


# The example of the piece format: an invented reading table.
EXAMPLE = """\
piece: Reading table, village library
customer: Reading room committee
units: metric
lengths: mm
timber: ash
system: hardwax-oil
deliver: 2027-03-12 15:00

assemblies:
  base: {parts: [leg, apron]}

parts:
  top:
    shape: disc
    diameter: 1100
    thickness: 28
    edge: {top: roundover 6, bottom: chamfer 3}
  leg:
    count: 4
    shape: turned
    elements:
      - block: {side: 70, length: 130}
      - fillet: {diameter: 52, length: 8}
      - bead: {diameter: 64, neck: 48, length: 22}
      - cove: {diameter: 40, rim: 48, length: 18}
      - curve: {points: [[0, 48], [150, 62], [420, 36]]}
      - taper: {from: 36, to: 30, length: 102}
  apron:
    count: 4
    shape: board
    length: 620
    width: 100
    thickness: 22
    grooves: [{face: back, width: 4, depth: 9}]
    faces:
      back: {exposure: secondary}
      ends: {exposure: covered}
"""


@dataclass(frozen=True)
class Ended:
    """How a command ended."""

    status: int
    out: str
    err: str


Cli = Callable[..., Ended]


@pytest.fixture(scope="session", autouse=True)
def garbage_of_commands_is_cleared() -> Iterator[None]:
    """Let a command that is run in this process leave it as it was.

    As a program it keeps all that it made from being looked through at its end; here that would be all that was made
    so far, garbage too, for good.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("finplan.cli.gc", SimpleNamespace(set_threshold=lambda _: None))
        patch.setattr("finplan.cli.app.gc", SimpleNamespace(freeze=lambda: None))
        yield


@pytest.fixture(scope="session")
def kept(tmp_path_factory: pytest.TempPathFactory, request: pytest.FixtureRequest) -> Path:
    """A folder for what all processes of the session share."""
    base = tmp_path_factory.getbasetemp()
    folder = (base.parent if hasattr(request.config, "workerinput") else base) / "kept"
    folder.mkdir(exist_ok=True)
    return folder


@pytest.fixture(scope="session", autouse=True)
def one_plan_of_each_job(kept: Path) -> Iterator[None]:
    """Plan no job twice in a session, in none of its processes."""
    with planned_once(kept):
        yield


@pytest.fixture(scope="session", autouse=True)
def printer(kept: Path) -> Iterator[Printer]:
    """Lay out no page twice in a session, in none of its processes."""
    with printed_once(kept) as found:
        yield found


@pytest.fixture
def own_press(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the page renderer be a process of its own."""
    in_its_own_process(monkeypatch)


@pytest.fixture
def cli(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Cli:
    """Run the command line in this process."""
    from finplan.cli import main

    def run(*arguments: object) -> Ended:
        monkeypatch.setattr(sys, "argv", ["finplan", *(str(argument) for argument in arguments)])
        with pytest.raises(SystemExit) as ended:
            main()
        captured = capsys.readouterr()
        return Ended(int(ended.value.code or 0), captured.out, captured.err)

    return run


@pytest.fixture
def example(tmp_path: Path) -> Path:
    """The example piece in a file of its own."""
    file = tmp_path / "table.yaml"
    file.write_text(EXAMPLE, encoding="utf-8")
    return file


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    """The demo's files in a folder of their own, with a delivery in January 2027; the round table is the tests' own."""
    write_demo(tmp_path / "demo", date(2026, 11, 24))
    shutil.copy(Path(__file__).with_name("pieces") / "round-table.yaml", tmp_path / "demo")
    return tmp_path / "demo"

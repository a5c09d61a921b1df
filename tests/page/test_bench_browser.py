"""A day at the bench in a real browser, as wide as a phone. It needs Playwright and Debian's Chromium."""

from __future__ import annotations

import asyncio
import os
import re
import shutil
import socket
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
import uvicorn

from finplan.page.app import make_app
from finplan.page.guard import Guard, Keys
from finplan.page.hand import BenchAsked, plan_and_hold
from finplan.page.opened import Opened
from finplan.page.sharing import Phones
from tests.page.at_the_bench import FIRST_DAY, Clock
from tests.page.chromium import CHROMIUM, chromium, smaller_than, violations, wider_than_its_window
from tests.page.conftest import NOW

sync_api = pytest.importorskip("playwright.sync_api")
SLOW_MS = 60_000
sync_api.expect.set_options(timeout=SLOW_MS)
pytestmark = pytest.mark.skipif(not Path(CHROMIUM).exists(), reason="Debian's chromium is not there")
GLOVE_PX = 48
"""What a thumb in a glove hits; more than the 44 of WCAG 2.2, 2.5.5, from memory."""
PHONE = {"width": 380, "height": 780}
PICTURES = os.environ.get("FINPLAN_PICTURES")
"""Where to put pictures of the pages, for who looks at them."""


@dataclass
class Served:
    """A folder that is served in this process, at a time that a test sets."""

    address: str
    clock: Clock


@pytest.fixture
def served(demo: Path, tmp_path: Path) -> Iterator[Served]:
    folder = Path(shutil.copytree(demo, tmp_path / "workshop"))
    ledger = folder / "finplan.ledger"
    asked = BenchAsked(folder / "round-table.yaml", folder / "shop.yaml", ledger, NOW, again=False)
    assert plan_and_hold(asked).wrong == ""
    listening = socket.create_server(("127.0.0.1", 0))
    host = f"127.0.0.1:{listening.getsockname()[1]}"
    clock = Clock(FIRST_DAY)
    opened = Opened(folder, clock)
    phones = Phones(f"http://192.168.7.20:{host.rpartition(':')[2]}", clock)
    app = Guard(make_app(opened, phones), Keys("a-word"), [host], phones)
    server = uvicorn.Server(uvicorn.Config(app, log_level="error", ws="none", lifespan="off"))
    thread = threading.Thread(target=lambda: asyncio.run(server.serve(sockets=[listening])), daemon=True)
    thread.start()
    yield Served(f"http://{host}/?word=a-word", clock)
    server.should_exit = server.force_exit = True
    thread.join(10)
    opened.end()


def _is_fit(page: Any, name: str) -> None:
    """Ask of a page what is asked of every one; and take its picture, where somebody looks."""
    if PICTURES:
        page.screenshot(path=str(Path(PICTURES) / f"{name}.png"), full_page=True)
    assert violations(page) == []
    assert not wider_than_its_window(page)
    assert smaller_than(page, GLOVE_PX, "main") == []
    assert smaller_than(page, GLOVE_PX, ".ways") == []


def test_a_day_is_ticked_with_a_thumb_and_the_rest_planned_again(served: Served) -> None:
    with chromium(sync_api) as browser:
        page = browser.new_context(viewport=PHONE, has_touch=True, color_scheme="light").new_page()
        page.set_default_timeout(SLOW_MS)
        wrong: list[str] = []
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on("console", lambda said: wrong.append(said.text) if said.type == "error" else None)
        told = page.locator("#told")
        page.goto(served.address)
        page.goto(served.address.replace("/?word=a-word", "/piece/round-table.yaml/bench"))
        sync_api.expect(page.get_by_role("heading", name="Today: Wednesday 10 February 2027")).to_be_visible()
        _is_fit(page, "morning")

        page.get_by_role("button", name=re.compile("^1 Done")).tap()
        sync_api.expect(told).to_contain_text(": done Wed 10 Feb 10:00 by Maren.")
        served.clock.moment += timedelta(hours=3, minutes=40)
        page.get_by_label("4, used, ml").fill("118")
        page.get_by_label("4, air, °C").fill("19")
        page.get_by_label("4, by whom").select_option("Osric")
        page.get_by_role("button", name=re.compile("^4 Done")).tap()
        asked = page.get_by_role("button", name="Yes, they were done too")
        sync_api.expect(asked).to_be_visible()
        _is_fit(page, "asked")
        asked.tap()
        sync_api.expect(told).to_contain_text("118 ml used, 4 % less than reckoned")
        sync_api.expect(page.get_by_role("heading", name="Wet now")).to_be_visible()
        _is_fit(page, "wet")

        page.get_by_text("Correct, or take back 4").tap()
        page.get_by_label("4, when, else as it was").fill("13:20")
        page.get_by_role("button", name=re.compile("^4 Correct")).tap()
        sync_api.expect(told).to_contain_text("done Wed 10 Feb 13:20 by Osric")

        served.clock.moment = FIRST_DAY + timedelta(days=1, hours=6)
        page.reload()
        sync_api.expect(page.get_by_text("Late by plan 1:")).to_be_visible()
        _is_fit(page, "late")
        page.get_by_role("button", name="Plan the rest again").first.tap()
        sync_api.expect(told).to_contain_text("The rest is planned again.")
        sync_api.expect(page.get_by_text("the delivery, Fri 19 Feb 15:00, is kept.")).to_be_visible()
        _is_fit(page, "planned-again")

        earlier = page.get_by_role("region", name="Ticked before this plan")
        earlier.get_by_text("done Wed 10 Feb 10:00 by Maren").tap()
        earlier.get_by_role("button", name="Take back 1").tap()
        sync_api.expect(told).to_contain_text("Taken back: 1.")
        again = "Plan 2, the newest, no longer holds step 1, which is to be done again: replan."
        sync_api.expect(page.locator("#bench-head .alert")).to_have_text(again)

        page.goto(served.address.replace("/?word=a-word", "/bench"))
        _is_fit(page, "jobs")
        page.goto(served.address.replace("/?word=a-word", "/share"))
        _is_fit(page, "share")
        assert wrong == []


def test_it_is_all_there_without_scripts_and_in_the_dark(served: Served) -> None:
    with chromium(sync_api) as browser:
        context = browser.new_context(viewport=PHONE, java_script_enabled=False, color_scheme="dark")
        page = context.new_page()
        page.set_default_timeout(SLOW_MS)
        page.goto(served.address)
        page.goto(served.address.replace("/?word=a-word", "/piece/round-table.yaml/bench"))
        page.get_by_role("button", name=re.compile("^1 Done")).click()
        sync_api.expect(page.locator("#told")).to_contain_text("Ticked 1")
        page.get_by_text("Correct, or take back 1").click()
        page.get_by_role("button", name="Take back 1").click()
        sync_api.expect(page.locator("#told")).to_contain_text("Taken back: 1.")
        if PICTURES:
            page.screenshot(path=str(Path(PICTURES) / "dark.png"), full_page=True)

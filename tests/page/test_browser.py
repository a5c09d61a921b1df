"""Stories in a real browser: a few long ones. They need Playwright and Debian's Chromium, and are skipped without."""

from __future__ import annotations

import re
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.page.chromium import CHROMIUM, chromium, violations, wider_than_its_window
from tests.page.conftest import NOW

sync_api = pytest.importorskip("playwright.sync_api")
pytestmark = pytest.mark.skipif(not Path(CHROMIUM).exists(), reason="Debian's chromium is not there")
SLOW_MS = 60_000


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with chromium(sync_api) as found:
        yield found


@pytest.fixture
def serve(tmp_path: Path) -> Iterator[Callable[[Path], str]]:
    """Start the program itself on a folder, and give the address that it prints first."""
    started: list[subprocess.Popen[str]] = []

    def start(folder: Path) -> str:
        command = [sys.executable, "-m", "finplan", "open", str(folder), "--no-browser"]
        process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
        started.append(process)
        assert process.stdout is not None
        return process.stdout.readline().strip()

    yield start
    for process in started:
        process.send_signal(signal.SIGINT)
        assert process.stdout is not None
        process.stdout.close()
        assert process.wait(5) == 0


def opened(browser: Any, address: str, width: int = 1280) -> Any:
    page = browser.new_context(viewport={"width": width, "height": 900}, accept_downloads=True).new_page()
    page.set_default_timeout(SLOW_MS)
    wrong: list[str] = []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("console", lambda said: wrong.append(said.text) if said.type == "error" else None)
    page.on("request", lambda asked: None if asked.url.startswith(address.split("/?")[0]) else wrong.append(asked.url))
    page.wrong = wrong
    page.goto(address)
    return page


def no_violations(page: Any) -> None:
    assert violations(page) == []


def fits(page: Any) -> None:
    assert not wider_than_its_window(page)


def test_from_an_empty_folder_to_the_printed_sheet_by_mouse(
    browser: Any, serve: Callable[[Path], str], tmp_path: Path
) -> None:
    folder = tmp_path / "empty"
    folder.mkdir()
    page = opened(browser, serve(folder))
    no_violations(page)
    page.get_by_role("link", name=re.compile("^Side table on a column")).click()
    no_violations(page)
    page.get_by_label("Name").fill("Stand for the sundial")
    page.get_by_label("By").fill(f"{NOW.year + 3}-06-18 12:00")
    page.get_by_role("button", name="Begin").click()
    page.wait_for_url("**/piece/stand-for-the-sundial.yaml?begun=shop")
    page.get_by_label("top, diameter").fill("520")
    page.evaluate("htmx.trigger('#days', 'days-there')")  # as when the page has just come
    sync_api.expect(page.locator("#figures ins").first).to_be_visible()  # tried, while it is typed
    assert "520" not in (folder / "stand-for-the-sundial.yaml").read_text()
    page.get_by_label("top, diameter").press("Enter")
    sync_api.expect(page.locator("#said")).to_contain_text("is now")
    assert "diameter: 520" in (folder / "stand-for-the-sundial.yaml").read_text()
    page.get_by_role("link", name="Print").click()
    with page.expect_download() as coming:
        page.get_by_role("button", name="Sheet as PDF").click()
    assert Path(coming.value.path()).read_bytes().startswith(b"%PDF")
    assert coming.value.suggested_filename == "stand-for-the-sundial.pdf"
    assert page.wrong == []


def test_the_same_by_keyboard_alone(browser: Any, serve: Callable[[Path], str], tmp_path: Path) -> None:
    page = opened(browser, serve(tmp_path))
    tab_to(page, "Side table on a column")
    page.keyboard.press("Enter")
    page.wait_for_url("**/new/**")
    tab_to(page, "Begin")
    page.keyboard.press("Enter")
    page.wait_for_url("**/piece/**")
    tab_to(page, "top, diameter")
    page.keyboard.press("Control+A")
    page.keyboard.type("480")
    page.keyboard.press("Escape")  # gives back
    assert page.evaluate("document.activeElement.value") != "480"
    page.keyboard.press("Control+A")
    page.keyboard.type("480")
    page.keyboard.press("Enter")
    sync_api.expect(page.locator("#said")).to_contain_text("is now")
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == "top, diameter"
    (file,) = (one for one in tmp_path.glob("*.yaml") if one.name != "shop.yaml")
    assert "diameter: 480" in file.read_text()
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") != "top, diameter"
    page.evaluate("document.activeElement.blur()")
    page.keyboard.press("?")
    sync_api.expect(page.locator("#keys")).to_be_visible()
    page.keyboard.press("Escape")
    page.keyboard.press("u")
    sync_api.expect(page.get_by_label("top, diameter")).not_to_have_value("480")
    assert "diameter: 480" not in file.read_text()
    tab_to(page, "Print")
    page.keyboard.press("Enter")
    sync_api.expect(page.get_by_role("button", name="Sheet as PDF")).to_be_visible(timeout=SLOW_MS)
    tab_to(page, "Sheet as PDF")
    tab_to(page, "Calendar")  # which takes no printing
    with page.expect_download() as coming:
        page.keyboard.press("Enter")
    assert Path(coming.value.path()).read_bytes().startswith(b"BEGIN:VCALENDAR")
    assert page.wrong == []


def tab_to(page: Any, name: str, most: int = 150) -> None:
    for _ in range(most):
        page.keyboard.press("Tab")
        told = "(here => here.getAttribute('aria-label') || here.innerText || '')(document.activeElement)"
        if page.evaluate("document.activeElement !== document.body") and name in page.evaluate(told):
            return
    raise AssertionError(name)


def test_two_windows_and_an_editor_on_one_file(browser: Any, serve: Callable[[Path], str], folder: Path) -> None:
    file = folder / "round-table.yaml"
    before = file.read_text()
    address = serve(folder)
    one, other = opened(browser, address), opened(browser, address)
    for page in (one, other):
        page.goto(f"{address.split('/?')[0]}/piece/round-table.yaml")
    one.get_by_label("apron, length").fill("640")
    one.get_by_label("apron, length").press("Enter")
    sync_api.expect(other.get_by_label("apron, length")).to_have_value("640")
    assert file.read_text() == before.replace("length: 600", "length: 640")  # every comment and space is as it was
    other.get_by_label("top, underside").first.select_option("covered")
    sync_api.expect(one.get_by_label("top, underside").first).to_have_value("covered")
    file.write_text(file.read_text().replace("timber: ash", "timber: beech"))
    for page in (one, other):
        sync_api.expect(page.locator("[id='f.timber']")).to_have_value("beech")
    one.get_by_label("top, thickness").fill("0")
    one.get_by_label("top, thickness").press("Enter")
    sync_api.expect(one.get_by_text("'0' is zero; expected a length above zero").first).to_be_visible()
    assert "thickness: 27" in file.read_text()
    no_violations(one)
    sync_api.expect(one.locator("#days .agenda")).to_be_visible(timeout=SLOW_MS)
    no_violations(one)
    assert one.wrong + other.wrong == []


def test_a_phone_scrolls_no_page_sideways_and_every_page_is_heard(
    browser: Any, serve: Callable[[Path], str], folder: Path
) -> None:
    address = serve(folder)
    page = opened(browser, address, width=380)
    for path in ("/", "/new/chair", "/piece/round-table.yaml", "/piece/book-shelf.yaml", "/piece/hall-bench.yaml/file"):
        page.goto(address.split("/?")[0] + path)
        fits(page)
        no_violations(page)
    page.goto(f"{address.split('/?')[0]}/piece/round-table.yaml")
    line = page.locator("#comes > summary")
    sync_api.expect(line).to_contain_text("2.96 m²")
    sync_api.expect(page.locator("#figures")).not_to_be_visible()
    line.click()
    sync_api.expect(page.locator("#figures")).to_be_visible()
    page.goto(f"{address.split('/?')[0]}/piece/round-table.yaml/print")
    sync_api.expect(page.locator("iframe.sheet")).to_be_visible(timeout=SLOW_MS)
    fits(page)
    no_violations(page)
    assert page.wrong == []

"""Phones of the shop's network: let in by a code that works once, they tick and read; all others stay outside."""

from __future__ import annotations

import os
import pty
import re
import subprocess
import sys
import time
import xml.etree.ElementTree as ET
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from finplan.page.app import make_app
from finplan.page.guard import Guard, Keys
from finplan.page.opened import Opened
from finplan.page.sharing import Phones, code_lines, shared_address
from finplan.page.terminal import show_code
from finplan.problems import NotPossibleError
from tests.page.conftest import HOST, NOW

LAN = "192.168.7.20:8999"
"""Of a network of our own invention (RFC 1918)."""
TABLE = "/piece/round-table.yaml"


@pytest.fixture
def phones() -> Phones:
    return Phones(f"http://{LAN}", lambda: NOW)


@pytest.fixture
def ask(opened: Opened, phones: Phones) -> Callable[[str, str], TestClient]:
    """Give who asks from an address, of a host, with no cookie yet."""
    guarded = Guard(make_app(opened, phones), Keys("a-word"), [HOST, HOST.replace("127.0.0.1", "localhost")], phones)

    def client(address: str, host: str) -> TestClient:
        return TestClient(guarded, base_url=f"http://{host}", client=(address, 50000))

    return client


@pytest.fixture
def phone(ask: Callable[[str, str], TestClient], phones: Phones) -> TestClient:
    """A phone that was let in."""
    found = ask("192.168.7.31", LAN)
    assert found.post("/in", params={"word": phones.word}, follow_redirects=False).status_code == 303
    return found


def test_the_code_lets_one_phone_in(ask: Callable[[str, str], TestClient], phones: Phones) -> None:
    first, second = ask("192.168.7.31", LAN), ask("192.168.7.32", LAN)
    word = phones.word
    assert first.get("/bench").status_code == 403
    door = first.get("/in", params={"word": word})
    assert "Let this phone in" in door.text
    assert phones.word == word  # who only looks uses nothing up
    assert first.post("/in", params={"word": word}).url.path == "/bench"
    assert first.get("/bench").status_code == 200
    used = second.post("/in", params={"word": word})
    assert used.status_code == 403
    assert "used before" in used.text
    assert second.get("/bench").status_code == 403
    assert second.post("/in", params={"word": phones.word}).status_code == 200
    assert len(phones.let_in) == 2
    assert first.get("/in", params={"word": word}).url.path == "/bench"  # its own code, scanned again


def test_turning_out_is_for_all_and_for_the_code_too(
    phone: TestClient, ask: Callable[[str, str], TestClient], phones: Phones
) -> None:
    word = phones.word
    here = ask("127.0.0.1", HOST)
    here.get("/?word=a-word")
    assert "1 phone is let in." in here.get("/share").text
    assert here.post("/share/turn-out").url.path == "/share"
    assert phone.get("/bench").status_code == 403
    assert phone.post("/in", params={"word": word}).status_code == 403
    assert "No phone is let in." in here.get("/share").text


def test_one_phone_is_turned_out_and_the_others_stay(
    phone: TestClient, ask: Callable[[str, str], TestClient], phones: Phones
) -> None:
    other = ask("192.168.7.32", LAN)
    other.post("/in", params={"word": phones.word})
    here = ask("127.0.0.1", HOST)
    here.get("/?word=a-word")
    names = re.findall(r'name="phone" value="([^"]+)"', here.get("/share").text)
    assert len(names) == 2
    assert not any(phones.knows(name) for name in names)
    here.post("/share/turn-out", data={"phone": names[0]})
    assert phone.get("/bench").status_code == 403
    assert other.get("/bench").status_code == 200
    assert "1 phone is let in." in here.get("/share").text


def test_a_phone_reads(phone: TestClient) -> None:
    for path in ("/bench", f"{TABLE}/bench", f"{TABLE}/bench?day=2027-02-11", "/static/bench.css"):
        assert phone.get(path).status_code == 200, path


def test_a_phone_does_nothing_else(phone: TestClient, opened: Opened) -> None:
    before = {file.name: file.read_bytes() for file in opened.session.folder.path.iterdir()}
    for method, path in (
        ("GET", TABLE),
        ("GET", f"{TABLE}/file"),
        ("POST", f"{TABLE}/edit"),
        ("POST", f"{TABLE}/file"),
        ("POST", f"{TABLE}/undo"),
        ("POST", "/new/round-table"),
        ("GET", "/api/pieces"),
        ("POST", "/api/pieces"),
        ("GET", "/openapi.json"),
        ("GET", "/share"),
        ("POST", "/share/turn-out"),
        ("POST", "/piece/x/bench/../edit"),
        ("GET", f"{TABLE}/bench/anything"),
    ):
        sent = {"x": "1"} if method == "POST" else None
        assert phone.request(method, path, data=sent).status_code == 403, path
        assert {file.name: file.read_bytes() for file in opened.session.folder.path.iterdir()} == before, path


def test_a_phone_that_may_edit_edits_and_lets_nobody_in(phone: TestClient, phones: Phones) -> None:
    phones.may_edit = True
    assert phone.get(TABLE).status_code == 200
    assert phone.get("/share").status_code == 403
    assert phone.get("/api/pieces").status_code == 403


def test_the_word_of_the_address_lets_nobody_in_from_the_network(ask: Callable[[str, str], TestClient]) -> None:
    other = ask("192.168.7.40", LAN)
    assert other.get("/?word=a-word").status_code == 403
    assert other.get("/bench", headers={"authorization": "Bearer a-word"}).status_code == 403
    lying = ask("192.168.7.40", HOST)
    lying.get("/?word=a-word")
    assert lying.get("/").status_code == 403


def test_a_phone_asks_by_the_address_that_is_shared_alone(
    ask: Callable[[str, str], TestClient], phones: Phones
) -> None:
    for host in ("192.168.7.21:8999", "shop.example:8999", "192.168.7.20:80"):
        assert ask("192.168.7.31", host).get("/in", params={"word": phones.word}).status_code == 421


def test_without_sharing_there_is_no_code(client: TestClient) -> None:
    assert 'href="/share"' in client.get("/").text
    page = client.get("/share").text
    assert "Only this machine is let in" in page
    assert "<svg" not in page
    assert client.get("/in?word=x").status_code == 404


def test_the_page_shows_the_code_as_a_picture(ask: Callable[[str, str], TestClient], phones: Phones) -> None:
    here = ask("127.0.0.1", HOST)
    here.get("/?word=a-word")
    page = here.get("/share").text
    svg = re.search(r"<svg.*?</svg>", page, re.DOTALL)
    assert svg is not None
    assert ET.fromstring(svg[0]).get("viewBox")  # noqa: S314 - our own
    assert " style=" not in page
    assert phones.link in page


def test_the_code_of_the_terminal_is_the_symbol_of_the_standard(phones: Phones) -> None:
    """Finder patterns of ISO/IEC 18004 in three corners, from memory: 7 × 7 rings of dark, light and dark."""
    lines = code_lines(phones.link).splitlines()
    dark = [[letter in upper for letter in line] for line in lines for upper in (" ▄", " ▀")]
    finder = ["1111111", "1000001", "1011101", "1011101", "1011101", "1000001", "1111111"]
    size = len(lines[0]) - 4
    for top, left in ((2, 2), (2, 2 + size - 7), (2 + size - 7, 2)):
        seen = ["".join("1" if dark[top + y][left + x] else "0" for x in range(7)) for y in range(7)]
        assert seen == finder


def test_the_terminal_tells_how_many_are_in(phones: Phones, capsys: pytest.CaptureFixture[str]) -> None:
    show_code(phones)
    phones.enter(phones.word)
    show_code(phones)
    told = capsys.readouterr().out
    assert "The code for a phone:" in told
    assert "1 phone let in; the code for the next one:" in told
    assert told.count("http://192.168.7.20:8999/in?word=") == 2


@pytest.mark.parametrize("address", ["127.0.0.1", "8.8.8.8", "0.0.0.0", "255.255.255.255", "shop", "", "::1"])  # noqa: S104
def test_the_page_is_shared_in_a_local_network_alone(address: str) -> None:
    with pytest.raises(NotPossibleError, match=r"expected one such as|no address in a local network"):
        shared_address(address)


def test_a_private_address_is_taken() -> None:
    assert shared_address("10.0.0.7") == "10.0.0.7"


def test_phones_are_told_the_time_they_came(phone: TestClient, phones: Phones) -> None:
    assert list(phones.let_in.values()) == [datetime(2027, 1, 11, 8, 0, tzinfo=UTC)]


def test_one_key_in_the_terminal_turns_all_phones_out_and_shows_the_next_code(folder: Path, tmp_path: Path) -> None:
    terminal, inner = pty.openpty()
    log = tmp_path / "log"
    command = [sys.executable, "-m", "finplan", "open", str(folder), "--no-browser", "--share"]
    with log.open("wb") as out:
        process = subprocess.Popen(command, stdin=inner, stdout=out, stderr=subprocess.STDOUT)
    os.close(inner)
    try:
        if not _waits_for(log, "The code for a phone", 1):
            assert "no address in a local network" in log.read_text()  # this machine is in none
            return
        first = log.read_text().splitlines()[-2]
        os.write(terminal, b"x")
        assert _waits_for(log, "The code for a phone", 2)
        assert log.read_text().startswith("http://127.0.0.1:")
        assert log.read_text().count(first) == 1
    finally:
        process.terminate()
        process.wait(20)
        os.close(terminal)


def _waits_for(log: Path, words: str, times: int) -> bool:
    until = time.monotonic() + 60
    while time.monotonic() < until:
        text = log.read_text()
        if text.count(words) >= times and text.endswith("stops.\n"):
            return True
        if "no address" in text:
            return False
        time.sleep(0.1)
    return False

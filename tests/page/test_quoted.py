"""What a piece costs, on the page: the words of ``finplan quote``, and the page for its customer."""

from __future__ import annotations

import html
from decimal import Decimal
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from finplan.page.opened import Opened
from finplan.page.phone_guard import answer_phone
from finplan.page.sharing import Phones
from finplan.telling import quote_told, show_money
from tests.page.conftest import NOW

BOARD = """\
piece: Board for the ferry
lengths: mm
timber: ash
system: wax
deliver: 2027-03-19
parts:
  board: {shape: board, length: 600, width: 120, thickness: 22}
"""


@pytest.fixture
def priced(folder: Path, opened: Opened) -> str:
    """A piece whose days are planned, in the demo's shop, which has rates and prices."""
    (folder / "board.yaml").write_text(BOARD)
    plan = opened.session.view("board.yaml").reckoned.plan
    assert plan is not None
    assert plan.timetable.has_plan
    return "/piece/board.yaml"


def words(page: str) -> str:
    return html.unescape(page)


def test_it_shows_every_line_of_the_quote_and_the_page_for_the_customer(
    client: TestClient, opened: Opened, priced: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    plan = opened.session.view("board.yaml").reckoned.plan
    assert plan is not None
    told = quote_told(plan.quote, plan.units)
    page = words(client.get(f"{priced}/quote").text)
    for table in told.tables:
        for row in table.rows:
            assert all(cell in page for cell in row), row
    assert all(note in page for note in told.notes)
    lacking = "these have no price" in page
    asked = words(client.get(f"{priced}/quote", params={"price": "640"}).text)
    assert "offer?price=640" in asked
    offer = client.get(f"{priced}/offer", params={"price": "640"})
    assert "default-src 'none'" in offer.headers["content-security-policy"]
    assert show_money(Decimal(640), plan.quote.currency) in words(offer.text)
    assert "rate" not in offer.text.partition("<h2>Price</h2>")[2].partition("</table>")[0]
    if lacking:
        assert client.get(f"{priced}/offer").status_code == 422
    low = words(client.get(f"{priced}/quote", params={"price": "1"}).text)
    assert plan.quote.net is None or "lies below what the job costs" in low
    wrong = words(client.get(f"{priced}/quote", params={"price": "a lot"}).text)
    assert "expected an amount above zero" in wrong
    assert 'aria-describedby="price.wrong"' in wrong
    assert "<iframe" not in wrong
    printed: list[str] = []

    def pdf(_: object, page: str) -> bytes:
        printed.append(page)
        return b"%PDF"

    monkeypatch.setattr("finplan.page.quoted.Press.pdf", pdf)
    answer = client.post(f"{priced}/offer.pdf", data={"price": "640"})
    assert (answer.content, answer.headers["content-disposition"][-15:]) == (b"%PDF", "board-offer.pdf")
    assert printed == [offer.text]


def test_before_the_days_are_planned_it_waits_and_gives_no_offer(client: TestClient) -> None:
    page = client.get("/piece/hall-bench.yaml/quote")
    assert page.status_code == 200
    assert 'id="doing"' in page.text
    assert client.get("/piece/hall-bench.yaml/offer").status_code == 404
    assert client.post("/piece/hall-bench.yaml/offer.pdf").status_code == 422


@pytest.mark.parametrize("page", ["quote", "offer", "offer.pdf"])
def test_what_it_costs_is_not_for_phones(page: str) -> None:
    phones = Phones("http://192.168.7.20:8999", lambda: NOW)
    cookie = phones.enter(phones.word)
    answer = answer_phone(phones, "GET", f"/piece/board.yaml/{page}", "", cookie)
    assert answer is not None
    assert answer.status == 403

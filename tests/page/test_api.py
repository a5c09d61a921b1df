"""The JSON interface asked by schemathesis, a general tool that makes requests from an OpenAPI description.

Whatever is sent, right or wrong: no answer of 500 or more, and none that is not described.
"""

from __future__ import annotations

import re
from datetime import datetime
from pathlib import Path

import hypothesis
import pytest
from fastapi.testclient import TestClient
from hypothesis import strategies as st

from finplan.page.app import make_app
from finplan.page.guard import Guard, Keys
from finplan.page.hand import BenchAsked, plan_and_hold
from finplan.page.opened import Opened
from tests.page.conftest import HOST, NOW

schemathesis = pytest.importorskip("schemathesis")


def now() -> datetime:
    return NOW


class NoHand:
    """Plans nothing: planning is asked for again and again here."""

    def warm(self) -> None:
        pass

    def plan(self, wanted: BenchAsked) -> tuple[str, ...]:
        return ("it does not fit",)

    def end(self) -> None:
        pass


NAMES = st.sampled_from(["round-table.yaml", "hall-bench.yaml", "pieces", "shop.yaml", "../x.yaml"])


def test_no_request_is_answered_with_a_fault(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("finplan.page.jobs.BenchHand", NoHand)
    job = BenchAsked(folder / "round-table.yaml", folder / "shop.yaml", folder / "finplan.ledger", NOW, again=False)
    assert plan_and_hold(job).wrong == ""
    (folder / "pieces").mkdir()  # what is no file
    opened = Opened(folder, now)
    app = Guard(make_app(opened), Keys("a-word"), [HOST])
    client = TestClient(app, base_url=f"http://{HOST}", headers={"authorization": "Bearer a-word"})
    before = sorted(file.name for file in folder.parent.iterdir())
    schema = schemathesis.openapi.from_dict(client.get("/openapi.json").json())

    @hypothesis.settings(max_examples=5, deadline=None, suppress_health_check=list(hypothesis.HealthCheck))
    @hypothesis.given(data=st.data())
    def asked(data: st.DataObject) -> None:
        for operation in operations:
            case = data.draw(operation.as_strategy())
            if "name" in case.path_parameters and data.draw(st.integers(0, 3)):
                case.path_parameters["name"] = data.draw(NAMES)
            if isinstance(case.body, dict) and data.draw(st.booleans()):  # as if the text or the plan had been seen
                held = client.get("/api/pieces/round-table.yaml").json()
                real = {"digest": held["digest"], "shop_digest": held["shop_digest"], "plan": 1, "seen": 0, "step": "1"}
                case.body |= {name: value for name, value in real.items() if name in case.body}
            sent = case.as_transport_kwargs(base_url=f"http://{HOST}")
            answer = client.request(
                sent["method"], sent["url"], json=sent.get("json"), content=sent.get("data"), params=sent.get("params")
            )
            assert answer.status_code < 500, (case, answer.text)
            described = {int(one) for one in operation.definition.raw["responses"]}
            assert answer.status_code in described | {405}

    operations = [found.ok() for found in schema.get_all_operations()]
    assert len(operations) == 17
    try:
        asked()
    finally:
        opened.end()
    assert sorted(file.name for file in folder.parent.iterdir()) == before


def test_the_description_is_a_page_that_asks_for_nothing_outside(client: TestClient) -> None:
    page = client.get("/docs").text
    told = client.get("/openapi.json").json()
    for path, methods in told["paths"].items():
        for method in methods:
            assert f"{method.upper()} {path}</code>" in page
    for name in told["components"]["schemas"]:
        assert f'id="{name}"' in page
    assert not re.findall(r'(?:src|href)="(?:https?:)?//', page)
    assert "<script>" not in page

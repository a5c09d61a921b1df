"""The JSON interface asked by schemathesis, a general tool that makes requests from an OpenAPI description.

Whatever is sent, right or wrong: no answer of 500 or more, and none that is not described.
"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import hypothesis
import pytest
from fastapi.testclient import TestClient

from finplan.page.app import make_app
from finplan.page.guard import Guard, Keys
from finplan.page.opened import Opened
from tests.page.conftest import HOST, NOW

schemathesis = pytest.importorskip("schemathesis")


def now() -> datetime:
    return NOW


def test_no_request_is_answered_with_a_fault(folder: Path) -> None:
    (folder / "pieces").mkdir()  # what is no file
    opened = Opened(folder, now)
    app = Guard(make_app(opened), Keys("a-word"), [HOST])
    client = TestClient(app, base_url=f"http://{HOST}", headers={"authorization": "Bearer a-word"})
    before = sorted(file.name for file in folder.parent.iterdir())
    schema = schemathesis.openapi.from_dict(client.get("/openapi.json").json())

    @hypothesis.settings(max_examples=8, deadline=None, suppress_health_check=list(hypothesis.HealthCheck))
    @hypothesis.given(data=hypothesis.strategies.data())
    def asked(data: hypothesis.strategies.DataObject) -> None:
        for operation in operations:
            case = data.draw(operation.as_strategy())
            sent = case.as_transport_kwargs(base_url=f"http://{HOST}")
            answer = client.request(
                sent["method"], sent["url"], json=sent.get("json"), content=sent.get("data"), params=sent.get("params")
            )
            assert answer.status_code < 500, (case, answer.text)
            described = {int(one) for one in operation.definition.raw["responses"]}
            assert answer.status_code in described | {404, 405, 422}

    operations = [found.ok() for found in schema.get_all_operations()]
    assert len(operations) == 8
    try:
        asked()
    finally:
        opened.end()
    assert sorted(file.name for file in folder.parent.iterdir()) == before

"""Names that are written from right to left stay among themselves: no figure beside them is drawn in."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from pathlib import Path

from markupsafe import Markup

from finplan.planning import read_source
from finplan.sheet import sheet_html
from finplan.typesetting.page import apart
from tests.conftest import EXAMPLE
from tests.plans import make_plan


def test_each_run_is_isolated_and_nothing_else() -> None:
    assert apart("leg: 60 mg") == "leg: 60 mg"
    assert apart(12) == 12
    assert apart(Markup("<b>שולחן</b>")) == Markup("<b>שולחן</b>")
    assert apart("שולחן גדול <60 mg> رجل") == Markup("<bdi>שולחן גדול</bdi> &lt;60 mg&gt; <bdi>رجل</bdi>")


def test_on_the_sheet(tmp_path: Path) -> None:
    file = tmp_path / "piece.yaml"
    text = EXAMPLE.replace("Reading table, village library", "שולחן").replace("apron", "رجل")
    file.write_text(text, encoding="utf-8")
    page = sheet_html(make_plan([read_source(file, None)], now=datetime(2027, 2, 1, tzinfo=UTC)))
    assert "<title>Finishing schedule: שולחן</title>" in page
    # Titles and labels have no markup in them, and in a drawing each name is a text of its own.
    body = re.sub(r'(?s)<title>.*?</title>|<svg.*?</svg>|aria-label="[^"]*"', "", page.partition("<body")[2])
    for name in ("שולחן", "رجل"):
        assert body.count(f"<bdi>{name}</bdi>") == body.count(name) > 0

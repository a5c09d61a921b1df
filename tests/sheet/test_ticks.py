"""The sheet in a browser: what is ticked stays so, and nothing is scrolled sideways on a telephone."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from finplan.planning import Plan
from finplan.sheet import sheet_html
from tests.page.chromium import CHROMIUM, chromium

WIDTH_PX = 380


@pytest.fixture(scope="module")
def telephone() -> Iterator[Any]:
    """Pages of a browser as wide as a telephone, offline."""
    driver = pytest.importorskip("playwright.sync_api")
    if not Path(CHROMIUM).exists():
        pytest.skip("no browser is installed")
    with chromium(driver) as browser:
        yield browser.new_context(viewport={"width": WIDTH_PX, "height": 800}, offline=True)


@pytest.mark.parametrize("name", ["table", "hostile", "two_pieces", "panels"])
def test_nothing_is_scrolled_sideways(
    name: str, telephone: Any, request: pytest.FixtureRequest, tmp_path: Path
) -> None:
    file = tmp_path / "sheet.html"
    file.write_text(sheet_html(request.getfixturevalue(name)), encoding="utf-8")
    page = telephone.new_page()
    page.goto(file.as_uri())
    assert page.evaluate("document.documentElement.scrollWidth") == WIDTH_PX


def test_ticks_are_kept_for_this_plan_alone(table: Plan, two_pieces: Plan, telephone: Any, tmp_path: Path) -> None:
    page = telephone.new_page()
    for name, plan in (("one", table), ("other", two_pieces)):
        (tmp_path / f"{name}.html").write_text(sheet_html(plan), encoding="utf-8")
    page.goto((tmp_path / "one.html").as_uri())
    boxes = page.get_by_role("checkbox")
    for number in (2, 5):
        boxes.nth(number).check()
    boxes.nth(5).uncheck()
    page.reload()
    ticked = [number for number in range(boxes.count()) if boxes.nth(number).is_checked()]
    assert ticked == [2]
    page.goto((tmp_path / "other.html").as_uri())
    assert not any(boxes.nth(number).is_checked() for number in range(boxes.count()))


def test_air_and_what_is_bought_are_read_on_a_telephone(table: Plan, telephone: Any, tmp_path: Path) -> None:
    """In letters of nine points and a half at least; a point is 4/3 of a pixel."""
    file = tmp_path / "sheet.html"
    file.write_text(sheet_html(table), encoding="utf-8")
    page = telephone.new_page()
    page.goto(file.as_uri())
    sizes_px = page.eval_on_selector_all(
        ".air th, .air td, .tight th, .tight td, .days p, section.care p:not(.cut), .pour",
        "all => all.map(element => parseFloat(getComputedStyle(element).fontSize))",
    )
    assert len(sizes_px) > 50
    assert min(sizes_px) >= 9.5 * 4 / 3 - 0.01

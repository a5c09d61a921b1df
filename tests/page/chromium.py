"""Debian's Chromium, driven by Playwright, and what is asked of every page in it."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

_NAMES = ("chromium-headless-shell", "chromium")
CHROMIUM = next(filter(None, map(shutil.which, _NAMES)), "/usr/bin/chromium")
"""The one without windows, where it is there: it lays out and runs the same, with a third less work."""
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
AXE = Path(__file__).parent / "vendor" / "axe.min.js"


@contextmanager
def chromium(sync_api: Any) -> Iterator[Any]:
    """Give the browser while it runs."""
    with sync_api.sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield found
        found.close()


def violations(page: Any) -> list[tuple[str, list[str]]]:
    """Return what axe-core finds wrong with a page: the rule, and the first elements that break it."""
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")
    return [(one["id"], [node["html"][:150] for node in one["nodes"][:3]]) for one in found["violations"]]


def wider_than_its_window(page: Any) -> bool:
    """Return whether a page has to be moved sideways to be read."""
    return bool(page.evaluate("document.documentElement.scrollWidth > document.documentElement.clientWidth"))


def smaller_than(page: Any, least_px: int, within: str) -> list[str]:
    """Return what can be hit and is less high or wide than so many pixels of CSS, as it stands on the page."""
    found = page.evaluate(
        """([within, least]) => [...document.querySelectorAll(
            ["a", "button", "summary", "select", "label:has([type=checkbox])",
             "input:not([type=hidden]):not([type=checkbox])"]
              .map((one) => `${within} ${one}`).join(", "))]
          .filter((one) => one.checkVisibility())
          .map((one) => [one, one.getBoundingClientRect()])
          .filter(([, box]) => box.height < least - 0.1 || box.width < least - 0.1)
          .map(([one, box]) => `${one.outerHTML.slice(0, 120)} ${box.width} × ${box.height}`)""",
        [within, least_px],
    )
    return list(found)

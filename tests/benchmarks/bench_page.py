"""How long the page takes from a keystroke to new areas, amounts and grits on the screen, and to a proven timetable.

Run as ``python tests/benchmarks/bench_page.py [--edits 100]``; it needs Playwright and Debian's Chromium. Times are of
a real browser on the real server, as ``performance.now`` counts them in the page: from the input event to the new text.
"""

from __future__ import annotations

import argparse
import shutil
import subprocess
import sys
import tempfile
import time
from datetime import date
from pathlib import Path
from typing import Any

from finplan.demo import write_demo
from finplan.forms import Answers, forms, write_piece

_CHROMIUM = shutil.which("chromium") or "/usr/bin/chromium"
_ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"]
_TYPED = """
([field, value]) => new Promise(done => {
  const figures = document.getElementById("figures");
  const begun = performance.now();
  new MutationObserver((_, seen) => {
    seen.disconnect();
    requestAnimationFrame(() => done(performance.now() - begun));
  }).observe(figures, {childList: true, subtree: true, characterData: true});
  const input = document.getElementById(field);
  input.value = value;
  input.dispatchEvent(new Event("input", {bubbles: true}));
})
"""


def _folder(folder: Path) -> dict[str, tuple[str, float]]:
    """Write the pieces, and return of each file which field is typed into, and about which value."""
    write_demo(folder, date.today())
    pieces = {"round-table.yaml": ("f.parts.top.diameter", 1050.0)}
    for form in forms():
        if form.name in ("wardrobe", "set-of-chairs"):
            deliver = f"{date.today().year + 1}-11-26"
            text = write_piece(form, Answers(form.title, "ash", "hardwax-oil", deliver=deliver))
            (folder / f"{form.name}.yaml").write_text(text, encoding="utf-8")
            pieces[f"{form.name}.yaml"] = ("", 0.0)
    return pieces


def _times(page: Any, edits: int, field: str, about: float) -> list[float]:
    return [page.evaluate(_TYPED, [field, f"{about + 1 + number:g}"]) for number in range(edits)]


def _share(times: list[float], share: float) -> float:
    return sorted(times)[min(int(share * len(times)), len(times) - 1)]


def _proven(page: Any, field: str, value: str) -> float:
    """Return how long it takes from taking an edit to its proven timetable. [s]"""
    begun, before = time.perf_counter(), page.locator("#digest").input_value()
    page.locator(f"[id='{field}']").fill(value)
    page.locator(f"[id='{field}']").press("Enter")
    page.wait_for_function(
        "() => document.getElementById('doing')?.textContent === ''"
        " && !document.querySelector('#days .old') && document.getElementById('digest').value !== '" + before + "'"
        " && document.querySelector(`#days [data-state='${document.getElementById('state').value}']`)",
        timeout=300_000,
    )
    return time.perf_counter() - begun


def main() -> None:
    from playwright.sync_api import sync_playwright

    parser = argparse.ArgumentParser()
    parser.add_argument("--edits", type=int, default=100)
    edits = parser.parse_args().edits
    with tempfile.TemporaryDirectory() as name, sync_playwright() as playwright:
        pieces = _folder(Path(name))
        command = [sys.executable, "-m", "finplan", "open", name, "--no-browser"]
        server = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
        assert server.stdout is not None
        address = server.stdout.readline().strip()
        browser = playwright.chromium.launch(executable_path=_CHROMIUM, args=_ARGUMENTS)
        page = browser.new_page()
        page.goto(address)
        for file, (field, about) in pieces.items():
            page.goto(f"{address.split('/?')[0]}/piece/{file}")
            if not field:
                found = page.locator(".size input, .others input").first
                field, about = str(found.get_attribute("id")), float(found.input_value())
            page.wait_for_function("() => document.getElementById('doing')?.textContent === ''", timeout=300_000)
            times = _times(page, edits, field, about)
            proven = _proven(page, field, f"{about + 3:g}")
            told = ", ".join(f"{share:.0%} {_share(times, share):.0f} ms" for share in (0.5, 0.95))
            print(  # noqa: T201 - that is what it is for
                f"{file}: {edits} edits of {field}: {told}; proven timetable after {proven:.2f} s",
                flush=True,
            )
        browser.close()
        server.terminate()


if __name__ == "__main__":
    main()

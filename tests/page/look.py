"""Look at every page there is, wide and narrow: what axe-core finds, what runs off the side, what the console says.

Run as ``python -m tests.page.look [FOLDER] [--pictures FOLDER]``; without a folder on the demo. What folds is opened,
so that what is folded away is looked at too.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any
from urllib.parse import quote

from playwright import sync_api

from finplan.demo import write_demo
from finplan.forms import forms
from finplan.page.folder import Folder
from tests.page.chromium import chromium, violations, wider_than_its_window

WIDTHS = (1280, 380)
_SLOW_MS = 120_000
_OF_PIECE = ("", "/file", "/print", "/quote", "/bench")


def paths(folder: Path) -> Iterator[str]:
    """Give the address of every page of a folder."""
    yield from ("/", "/shop", "/bench", "/share", "/docs")
    yield from (f"/new/{form.name}" for form in forms())
    for name in Folder(folder).names():
        yield from (f"/piece/{quote(name)}{page}" for page in _OF_PIECE)


def looked(page: Any, address: str, path: str) -> list[str]:
    """Open a page with all that folds, and return what is wrong with it."""
    wrong: list[str] = []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("console", lambda said: wrong.append(f"console: {said.text}") if said.type == "error" else None)
    page.goto(f"{address}{path}")
    if path.startswith("/piece/") and "." in path.rpartition("/")[2]:
        page.wait_for_selector("#doing:empty", state="attached", timeout=_SLOW_MS)
    page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    page.wait_for_load_state("networkidle") if "bench" in path or path in ("/", "/docs") else page.wait_for_timeout(300)
    wrong += [f"{rule}: {nodes}" for rule, nodes in violations(page)]
    if wider_than_its_window(page):
        wrong.append("has to be moved sideways")
    return wrong


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("folder", type=Path, nargs="?")
    parser.add_argument("--pictures", type=Path)
    parser.add_argument("--only", default="", help="pages whose address holds this")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as name, chromium(sync_api) as browser:
        folder = asked.folder or Path(name)
        if asked.folder is None:
            write_demo(folder, date.today())
        command = [sys.executable, "-m", "finplan", "open", str(folder), "--no-browser"]
        server = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
        assert server.stdout is not None
        word = server.stdout.readline().strip()
        count = 0
        for width in WIDTHS:
            context = browser.new_context(viewport={"width": width, "height": 900})
            context.set_default_timeout(_SLOW_MS)
            context.new_page().goto(word)
            for path in paths(folder):
                if asked.only not in path:
                    continue
                page = context.new_page()
                count += 1
                for one in looked(page, word.partition("/?")[0], path):
                    print(f"{width} {path}: {one}", flush=True)  # noqa: T201 - that is what it is for
                if asked.pictures:
                    asked.pictures.mkdir(parents=True, exist_ok=True)
                    file = f"{path.strip('/').replace('/', '.') or 'workshop'}.{width}.png"
                    page.screenshot(path=str(asked.pictures / file), full_page=True)
                page.close()
        server.terminate()
        server.wait()
        print(f"{count} pages looked at")  # noqa: T201


if __name__ == "__main__":
    main()

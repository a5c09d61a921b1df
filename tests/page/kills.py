"""Kill the server at random while it saves, again and again, and count files that are half written.

Run as ``python -m tests.page.kills [--kills 100]``. A file has to be one of the texts that were sent, whole, with
nothing beside it that a later start would take for a piece.
"""

from __future__ import annotations

import argparse
import json
import random
import subprocess
import sys
import tempfile
import threading
import time
import urllib.error
import urllib.request
from datetime import date
from pathlib import Path

from finplan.demo import write_demo
from finplan.page.folder import Folder, text_digest

_FILE = "round-table.yaml"
_MAX_WAIT_S = 0.6


def _write_on(address: str, text: str, sent: set[str], saved: threading.Event) -> None:
    """Write text after text until nobody answers; *saved* is set by the first that was answered."""
    base, _, word = address.partition("/?word=")
    last = text
    for number in range(100_000):
        # Long, so that a write takes long enough to be met.
        words = f"{text}# {number}\n" + f"# {number} padding\n" * 20_000
        sent.add(words)
        body = json.dumps({"digest": text_digest(last), "words": words}).encode()
        headers = {"authorization": f"Bearer {word}", "content-type": "application/json"}
        asked = urllib.request.Request(f"{base}/api/pieces/{_FILE}", body, headers, method="PUT")  # noqa: S310
        try:
            urllib.request.urlopen(asked, timeout=20).read()  # noqa: S310 - our own server
        except (OSError, urllib.error.URLError):
            saved.set()  # nobody waits for one that does not come
            return
        saved.set()
        last = words


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--kills", type=int, default=100)
    kills, half, changed, left = parser.parse_args().kills, 0, 0, 0
    chance = random.Random(11)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        write_demo(folder, date(2027, 1, 11))
        text = (folder / _FILE).read_text(encoding="utf-8")
        for _ in range(kills):
            (folder / _FILE).write_text(text, encoding="utf-8")
            server = subprocess.Popen(
                [sys.executable, "-m", "finplan", "open", name, "--no-browser"], stdout=subprocess.PIPE, text=True
            )
            assert server.stdout is not None
            address, sent, saved = server.stdout.readline().strip(), {text}, threading.Event()
            writer = threading.Thread(target=_write_on, args=(address, text, sent, saved))
            writer.start()
            # A kill before the first text is written meets nothing.
            saved.wait()
            time.sleep(chance.uniform(0, _MAX_WAIT_S))
            server.kill()
            server.wait()
            writer.join()
            found = (folder / _FILE).read_text(encoding="utf-8")
            half += found not in sent
            changed += found != text
            left += sum(name.endswith(".part") for name in Folder(folder).names())
        told = f"{kills} kills, {changed} after something was written: {half} files half written, {left} odd pieces"
        print(told)  # noqa: T201 - that is what it is for


if __name__ == "__main__":
    main()

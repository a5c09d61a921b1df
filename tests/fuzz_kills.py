"""Commands that are ended at a random moment, and what they leave."""

from __future__ import annotations

import contextlib
import json
import os
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from random import Random

from tests.fuzz_cases import PIECES, SHOP
from tests.fuzz_tally import Tally, whole

_SIGNALS = (signal.SIGKILL, signal.SIGTERM, signal.SIGINT)
_OLD = b"what was there before </html>"
_PATIENCE_S = 20.0
_ENDS = (0, 3, 130, 143, *(-one for one in _SIGNALS))
"""How a command ends that is let be, or that a signal ends: by itself, or before it minds signals."""


def run_kill(rng: Random, number: int, tally: Tally) -> None:
    """End a command at a random moment, and look at what it leaves: whole files, no process, no folder."""
    with tempfile.TemporaryDirectory(prefix="fuzz-") as name:
        folder, scratch = Path(name, "work"), Path(name, "scratch")
        folder.mkdir()
        scratch.mkdir()
        (folder / "piece.yaml").write_text(rng.choice(PIECES), encoding="utf-8")
        (folder / "shop.yaml").write_text(SHOP, encoding="utf-8")
        output = folder / rng.choice(("out.pdf", "out.pdf", "out.html", "out.ics", "out.json"))
        command = {".ics": "calendar", ".json": "plan"}.get(output.suffix, "sheet")
        old = rng.random() < 0.5
        if old:
            output.write_bytes(_OLD)
        mark = f"FUZZ_CASE={os.getpid()}-{number}"
        env = {**os.environ, "TMPDIR": str(scratch), **dict([mark.split("=")])}
        arguments = [command, "piece.yaml", "--shop", "shop.yaml", "-o", output.name, "--from", "2027-02-01"]
        process = subprocess.Popen(
            [sys.executable, "-m", "finplan", *arguments],
            cwd=folder, env=env, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, start_new_session=True,
        )  # fmt: skip
        time.sleep(rng.uniform(0.0, 4.0))
        chosen = rng.choice(_SIGNALS)
        process.send_signal(chosen)
        began = time.monotonic()
        try:
            _, err = process.communicate(timeout=_PATIENCE_S)
        except subprocess.TimeoutExpired:
            tally.fault(number, "did not end", chosen.name)
            process.kill()
            _, err = process.communicate()
        tally.longest_s = max(tally.longest_s, time.monotonic() - began)
        tally.statuses[process.returncode] += 1
        # Python's own words to a break that came before it had come to our code, where nobody hears it.
        too_soon = b"Traceback" in err and b"/finplan/" not in err
        if b"Traceback" in err and not too_soon:
            tally.fault(
                number, "traceback or odd end", f"{chosen.name}: {err.decode(errors='replace').splitlines()[-1][:150]}"
            )
        if process.returncode not in _ENDS and not too_soon:
            report = "".join(one.read_text(errors="replace")[-300:] for one in folder.glob("finplan-report-*"))
            tally.fault(number, "traceback or odd end", f"{chosen.name}: status {process.returncode}: {report}")
        if not _gone(mark):
            tally.fault(number, "still running", chosen.name)
        if left := [path.name for path in scratch.iterdir()]:
            tally.fault(number, "temporary folder left", f"{chosen.name}: {left}")
        parts = [path.name for path in folder.iterdir() if path.name.endswith(".part")]
        if parts and chosen is not signal.SIGKILL:
            tally.fault(number, "half a file beside", f"{chosen.name}: {parts}")
        if output.exists() and not _whole_or_old(output, old):
            tally.fault(number, "half a file", chosen.name)


def _whole_or_old(output: Path, old: bool) -> bool:
    data = output.read_bytes()
    if old and data == _OLD:
        return True
    if output.suffix == ".json":
        with contextlib.suppress(ValueError):
            return bool(json.loads(data))
        return False
    return data.endswith(b"END:VCALENDAR\r\n") if output.suffix == ".ics" else whole(data)


def _gone(mark: str) -> bool:
    """Return whether no process with a mark in its environment is left soon."""
    until = time.monotonic() + _PATIENCE_S
    while time.monotonic() < until:
        if not any(_marked(mark)):
            return True
        time.sleep(0.05)
    for one in _marked(mark):
        with contextlib.suppress(ProcessLookupError):
            os.kill(one, signal.SIGKILL)
    return False


def _marked(mark: str) -> Iterator[int]:
    for folder in Path("/proc").glob("[0-9]*"):
        with contextlib.suppress(OSError):
            if mark.encode() in (folder / "environ").read_bytes().split(b"\0"):
                yield int(folder.name)

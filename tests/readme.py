"""What the README and the pages of the guide run: the files they speak of, and what a command prints there."""

from __future__ import annotations

import io
import os
import shlex
import subprocess
import sys
import time
from contextlib import redirect_stderr, redirect_stdout
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from finplan.demo import write_demo

ROOT = Path(__file__).resolve().parent.parent
README = ROOT / "README.md"
TODAY = date(2027, 1, 12)
"""The day on which the README's demo was made: its delivery is 2027-02-19."""


def prepare(folder: Path) -> None:
    """Write the files that the session speaks of below *folder*."""
    write_demo(folder / "finplan-demo", TODAY)
    bench = (folder / "finplan-demo" / "hall-bench.yaml").read_text(encoding="utf-8")
    misspelt = bench.replace("timber: beech", "timber: beach").replace("thickness: 30", "thickness: 0")
    misspelt = misspelt.replace("rise: 25", "rize: 25")
    (folder / "finplan-demo" / "misspelt.yaml").write_text(misspelt, encoding="utf-8")


NOW = datetime(2027, 1, 18, 8, tzinfo=UTC)
"""When all that is shown is done."""
_AT_THAT_TIME = f"""
import sys
from datetime import datetime
import finplan.cli.wishes
finplan.cli.wishes.now = lambda: datetime.fromisoformat("{NOW.isoformat()}")
from finplan.cli import main
main()
"""
_SEEN = {"COLUMNS": "100", "TZ": "Europe/London"}
"""What a command sees of the machine."""


def printed(command: str, folder: Path) -> str:
    """Return what *command* prints when it is run in *folder* at that time, as a program of its own."""
    program, *arguments = shlex.split(command)
    run = [sys.executable, "-c", f"import sys; sys.argv[0] = {program!r}\n{_AT_THAT_TIME}", *arguments]
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **_SEEN}
    done = subprocess.run(run, cwd=folder, capture_output=True, text=True, check=False, env=environment)
    return done.stdout + done.stderr


_ASKS_THE_CLOCK = ("wishes", "held", "files", "app", "bench", "stock")
"""Modules of the command line that hold what reads the clock, whichever of them a test has loaded before."""


def printed_here(command: str, folder: Path) -> str:
    """Return the same of a command that is run in this process, which has loaded and planned already."""
    from finplan.cli import main

    out, err = io.StringIO(), io.StringIO()
    with pytest.MonkeyPatch.context() as patch:
        for module in _ASKS_THE_CLOCK:
            patch.setattr(f"finplan.cli.{module}.now", lambda: NOW, raising=False)
        patch.setattr(sys, "argv", shlex.split(command))
        patch.setattr(sys.modules["__main__"], "__package__", None)  # else it is called a module of the tests' program
        patch.setattr("finplan.press.Press.pdf", lambda *_: b"%PDF")  # how it is laid out is told nowhere
        patch.chdir(folder)
        for name, value in _SEEN.items():
            patch.setenv(name, value)
        time.tzset()
        with redirect_stdout(out), redirect_stderr(err), pytest.raises(SystemExit):
            main()
    time.tzset()
    return out.getvalue() + err.getvalue()

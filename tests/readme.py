"""What the README and the pages of the guide run: the files they speak of, and what a command prints there."""

from __future__ import annotations

import os
import shlex
import subprocess
import sys
from datetime import date
from pathlib import Path

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


NOW = "2027, 1, 18, 8"
"""When all that is shown is done."""
_AT_THAT_TIME = f"""
import sys
from datetime import UTC, datetime
import finplan.cli.wishes
finplan.cli.wishes.now = lambda: datetime({NOW}, tzinfo=UTC)
from finplan.cli import main
main()
"""


def printed(command: str, folder: Path) -> str:
    """Return what *command* prints when it is run in *folder* at that time."""
    program, *arguments = shlex.split(command)
    run = [sys.executable, "-c", f"import sys; sys.argv[0] = {program!r}\n{_AT_THAT_TIME}", *arguments]
    done = subprocess.run(run, cwd=folder, capture_output=True, text=True, check=False, env=_environment())
    return done.stdout + done.stderr


def _environment() -> dict[str, str]:
    return {**os.environ, "PYTHONPATH": str(ROOT), "COLUMNS": "100", "TZ": "Europe/London"}

"""The session in the README: every ``$ finplan …`` line with what it prints.

Run as a program, it writes what is printed today into the README; the test compares.
"""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
import tempfile
from datetime import date
from pathlib import Path

from finplan.demo import write_demo

ROOT = Path(__file__).resolve().parent.parent
README = ROOT / "README.md"
TODAY = date(2027, 1, 12)
"""The day on which the README's demo was made: its delivery is 2027-02-19."""
_BLOCK = re.compile(r"```console\n\$ (?P<command>finplan [^\n]+)\n(?P<output>.*?)```\n", re.DOTALL)


def prepare(folder: Path) -> None:
    """Write the files that the session speaks of below *folder*."""
    write_demo(folder / "finplan-demo", TODAY)
    table = (folder / "finplan-demo" / "round-table.yaml").read_text(encoding="utf-8")
    misspelt = table.replace("timber: ash", "timber: ahs").replace("thickness: 27", "thickness: 0")
    misspelt = misspelt.replace("neck: 46", "nek: 46")
    (folder / "finplan-demo" / "misspelt.yaml").write_text(misspelt, encoding="utf-8")


def printed(command: str, folder: Path) -> str:
    """Return what *command* prints when it is run in *folder*."""
    arguments = [sys.executable, "-m", *shlex.split(command)]
    done = subprocess.run(arguments, cwd=folder, capture_output=True, text=True, check=False, env=_environment())
    return done.stdout + done.stderr


def _environment() -> dict[str, str]:
    import os

    return {**os.environ, "PYTHONPATH": str(ROOT), "COLUMNS": "100"}


def session(readme: str) -> list[tuple[str, str]]:
    """Return the commands in the README with the output that stands there."""
    return [(found["command"], found["output"]) for found in _BLOCK.finditer(readme)]


def renewed(readme: str) -> str:
    """Return the README with what the commands print today."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        prepare(folder)
        return _BLOCK.sub(
            lambda found: f"```console\n$ {found['command']}\n{printed(found['command'], folder)}```\n", readme
        )


if __name__ == "__main__":
    README.write_text(renewed(README.read_text(encoding="utf-8")), encoding="utf-8")

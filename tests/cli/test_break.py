"""A break from the keyboard while a job is planned or a sheet is made: told as a break is, and nothing goes on."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from datetime import date
from pathlib import Path

import pytest

from finplan.demo import write_demo

STATUS = 128 + signal.SIGINT
PATIENCE_S = 30.0


def command(folder: Path, *words: str) -> list[str]:
    """Return a command on the demo's pieces, many times over, so that it takes a while."""
    pieces = [str(folder / name) for name in ("round-table.yaml", "hall-bench.yaml") for _ in range(10)]
    dates = ("--from", "2027-03-01", "--deliver", "2027-04-30")
    return [
        sys.executable,
        "-m",
        "finplan",
        words[0],
        *pieces,
        "--shop",
        str(folder / "shop.yaml"),
        *dates,
        *words[1:],
    ]


def somebody_of(group: int) -> bool:
    """Return whether a process of a group still runs."""
    try:
        os.killpg(group, 0)
    except ProcessLookupError:
        return False
    return True


@pytest.mark.parametrize("words", [("timetable",), ("sheet", "--output", "sheet.pdf")], ids=["timetable", "sheet"])
@pytest.mark.parametrize("after_s", [0.2, 0.8, 2.0])
def test_a_break_ends_it_and_all_that_it_began(words: tuple[str, ...], after_s: float, tmp_path: Path) -> None:
    write_demo(tmp_path, date(2027, 3, 1))
    before = sorted(path.name for path in tmp_path.iterdir())
    child = subprocess.Popen(
        command(tmp_path, *words),
        cwd=tmp_path,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        start_new_session=True,
    )
    time.sleep(after_s)
    assert child.poll() is None, "it was over before the break"
    os.killpg(child.pid, signal.SIGINT)  # as a terminal does: to all that the command began
    _, complaints = child.communicate(timeout=PATIENCE_S)
    assert child.returncode == STATUS
    assert complaints.splitlines()[-1].startswith(b"stopped")
    assert len([line for line in complaints.splitlines() if b"warning" not in line]) == 1
    end = time.monotonic() + PATIENCE_S
    while somebody_of(child.pid) and time.monotonic() < end:
        time.sleep(0.05)
    assert not somebody_of(child.pid)
    assert sorted(path.name for path in tmp_path.iterdir()) == before

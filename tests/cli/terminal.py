"""A terminal on which somebody answers what is asked."""

from __future__ import annotations

import os
import re
import select
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import pytest

PROMPT = re.compile(rb"[^\n]: $")
DEADLINE_S = 60.0


def answered(arguments: Sequence[str], answers: Sequence[str], folder: Path) -> tuple[int, str]:
    """Run the command line on a terminal, give an answer to each prompt, and return its status and all it showed."""
    pty = pytest.importorskip("pty")
    process, terminal = pty.fork()
    if process == 0:
        os.chdir(folder)
        os.execv(sys.executable, [sys.executable, "-m", "finplan", *arguments])  # noqa: S606
    shown, left, until = b"", list(answers), time.monotonic() + DEADLINE_S
    while time.monotonic() < until and select.select([terminal], [], [], until - time.monotonic())[0]:
        try:
            found = os.read(terminal, 4096)
        except OSError:  # what Linux says where the other end is closed
            break
        if not found:
            break
        shown += found
        if PROMPT.search(shown):
            assert left, f"nobody has an answer to: {shown.decode()}"
            os.write(terminal, f"{left.pop(0)}\n".encode())
    _, status = os.waitpid(process, 0)
    assert left == [], f"never asked for: {left}"
    return os.waitstatus_to_exitcode(status), shown.decode().replace("\r\n", "\n")

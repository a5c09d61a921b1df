"""A few hundred of the cases of ``tests/fuzz.py``; by hand it runs many more."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest


@pytest.mark.skipif(not hasattr(os, "fork"), reason="cases are forked")
def test_no_case_ends_in_a_fault() -> None:
    ended = subprocess.run(
        [sys.executable, "-m", "tests.fuzz", "--reads", "100", "--plans", "2", "--pages", "1", "--kills", "2"],
        cwd=Path(__file__).parents[1],
        capture_output=True,
        text=True,
        check=False,
    )
    assert ended.returncode == 0, ended.stdout + ended.stderr
    assert ended.stdout.count("no fault") == 4

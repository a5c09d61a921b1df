"""What stands on the top level of the project is fixed: whatever a command wrote there is not committed with it."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "finplan", "templates", "catalogue", "tests"}
KNOWS_WHAT_IS_COMMITTED = (ROOT / ".git").exists() and shutil.which("git") is not None


@pytest.mark.skipif(not KNOWS_WHAT_IS_COMMITTED, reason="nothing says here what is committed")
def test_nothing_else_stands_on_the_top_level() -> None:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    top = {name.partition("/")[0] for name in listed.splitlines()}
    assert {name for name in top if not name.startswith(".")} == TOP_LEVEL

"""What travels in the wheel."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path
from typing import Literal

import pytest

from finplan.resources import data_dir

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    folder = tmp_path_factory.mktemp("wheel")
    build = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder), str(ROOT)]
    subprocess.run(build, check=True, capture_output=True)
    with zipfile.ZipFile(next(folder.glob("*.whl"))) as archive:
        return archive.namelist()


@pytest.mark.parametrize("kind", ["templates", "catalogue"])
def test_data_folders_travel_in_the_wheel(kind: Literal["templates", "catalogue"], wheel: list[str]) -> None:
    folder = data_dir(kind)
    expected = {
        f"finplan/_{kind}/{path.relative_to(folder).as_posix()}"
        for path in folder.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    assert expected
    assert expected <= set(wheel)


def test_demo_and_units_travel_in_the_wheel(wheel: list[str]) -> None:
    demo = ("demo/files/round-table.yaml", "demo/files/shop.yaml")
    for name in (*demo, "quantity/units.txt", "quantity/unit-scales.json", "cli/app.py"):
        assert f"finplan/{name}" in wheel


def test_no_test_travels_in_the_wheel(wheel: list[str]) -> None:
    assert not [name for name in wheel if name.startswith("tests/")]

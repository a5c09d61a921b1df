"""Drawings on the command line."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import pytest

from tests.conftest import Cli


def test_a_drawing_for_every_part(demo: Path, cli: Cli) -> None:
    folder = demo / "drawings"
    ended = cli("draw", demo / "round-table.yaml", "-o", folder)
    assert (ended.status, ended.err) == (0, "")
    assert {path.name for path in folder.iterdir()} == {"top.svg", "leg.svg", "apron.svg"}
    for path in folder.iterdir():
        assert str(path) in ended.out
        assert ElementTree.parse(path).getroot().tag.endswith("svg")  # noqa: S314 - our own file


@pytest.mark.parametrize(("units", "text"), [("metric", "1050"), ("us", "41-5/16")])
def test_sizes_are_in_the_units_asked_for(units: str, text: str, demo: Path, cli: Cli) -> None:
    # 1050 mm are 41.34 in, and 41-5/16 in to the nearest sixteenth; by hand.
    cli("draw", demo / "round-table.yaml", "-o", demo / "drawings", "--units", units)
    assert text in (demo / "drawings" / "top.svg").read_text(encoding="utf-8")


def test_a_file_of_somebody_else_is_left_alone(demo: Path, cli: Cli) -> None:
    folder = demo / "drawings"
    folder.mkdir()
    (folder / "top.svg").write_text("<svg>mine</svg>", encoding="utf-8")
    ended = cli("draw", demo / "round-table.yaml", "-o", folder)
    assert ended.status == 2
    assert "is no drawing of finplan" in ended.err
    assert [path.name for path in folder.iterdir()] == ["top.svg"]

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
    assert {path.name for path in folder.iterdir()} == {f"round-table-{part}.svg" for part in ("top", "leg", "apron")}
    for path in folder.iterdir():
        assert str(path) in ended.out
        assert ElementTree.parse(path).getroot().tag.endswith("svg")  # noqa: S314 - our own file


@pytest.mark.parametrize(("units", "text"), [("metric", "1050"), ("us", "41-5/16")])
def test_sizes_are_in_the_units_asked_for(units: str, text: str, demo: Path, cli: Cli) -> None:
    # 1050 mm are 41.34 in, and 41-5/16 in to the nearest sixteenth; by hand.
    cli("draw", demo / "round-table.yaml", "-o", demo / "drawings", "--units", units)
    assert text in (demo / "drawings" / "round-table-top.svg").read_text(encoding="utf-8")


def test_a_file_of_somebody_else_is_left_alone(demo: Path, cli: Cli) -> None:
    folder = demo / "drawings"
    folder.mkdir()
    (folder / "round-table-top.svg").write_text("<svg>mine</svg>", encoding="utf-8")
    ended = cli("draw", demo / "round-table.yaml", "-o", folder)
    assert ended.status == 2
    assert "is no drawing of finplan" in ended.err
    assert [path.name for path in folder.iterdir()] == ["round-table-top.svg"]


def test_several_pieces_share_a_folder_and_overwrite_nothing(demo: Path, cli: Cli) -> None:
    """Table and shelf both have a top: one after the other or together, each has its own file."""
    folder, names = demo / "drawings", ("round-table", "hall-bench", "book-shelf")
    for name in names:
        assert cli("draw", demo / f"{name}.yaml", "-o", folder).status == 0
    one_by_one = {path.name: path.read_bytes() for path in folder.iterdir()}
    assert {"round-table-top.svg", "book-shelf-top.svg", "hall-bench-seat.svg"} <= set(one_by_one)
    ended = cli("draw", *(demo / f"{name}.yaml" for name in names), "-o", demo / "together", "--units", "metric")
    assert ended.status == 0
    assert {path.name for path in (demo / "together").iterdir()} == set(one_by_one)
    assert len(ended.out.splitlines()) == len(one_by_one)


def test_a_drawing_of_another_piece_is_left_alone(demo: Path, cli: Cli) -> None:
    folder = demo / "drawings"
    assert cli("draw", demo / "round-table.yaml", "-o", folder).status == 0
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    other = demo / "elsewhere" / "round-table.yaml"
    other.parent.mkdir()
    text = (demo / "round-table.yaml").read_text(encoding="utf-8")
    other.write_text(text.replace("piece: Round table", "piece: Another table"), encoding="utf-8")
    ended = cli("draw", other, "-o", folder)
    assert ended.status == 2
    assert "is a drawing of another piece" in ended.err
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before

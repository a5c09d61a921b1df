"""Writing the drawings of a piece into a folder."""

from pathlib import Path

import pytest

from finplan.cli.draw import file_names, write_drawings
from finplan.drawing import piece_drawings
from finplan.inputs import Piece
from finplan.planning import read_source
from finplan.problems import NotPossibleError


@pytest.fixture
def piece(example: Path) -> Piece:
    return read_source(example, None).piece


def test_one_file_for_each_part(piece: Piece, tmp_path: Path) -> None:
    folder = tmp_path / "new" / "drawings"
    lines = write_drawings([("table", piece)], folder)
    assert sorted(path.name for path in folder.iterdir()) == ["table-apron.svg", "table-leg.svg", "table-top.svg"]
    assert lines == [f"{folder / f'table-{part}.svg'}: {part}" for part in ("top", "leg", "apron")]
    mark = f' data-piece="{piece.name}"'
    written = {path.stem.removeprefix("table-"): path.read_text("utf-8") for path in folder.iterdir()}
    assert {part: text.replace(mark, "") for part, text in written.items()} == piece_drawings(piece)
    assert all(mark in text for text in written.values())


def test_earlier_drawings_are_replaced(piece: Piece, tmp_path: Path) -> None:
    write_drawings([("table", piece)], tmp_path, "metric")
    before = (tmp_path / "table-top.svg").read_bytes()
    write_drawings([("table", piece)], tmp_path, "us")
    assert (tmp_path / "table-top.svg").read_bytes() != before
    assert not list(tmp_path.glob(".*"))


def test_a_file_of_somebody_else_is_left_alone(piece: Piece, tmp_path: Path) -> None:
    theirs = tmp_path / "table-leg.svg"
    theirs.write_text("<svg/>", encoding="utf-8")
    with pytest.raises(NotPossibleError, match=r"table-leg\.svg: is there, and is no drawing of finplan"):
        write_drawings([("table", piece)], tmp_path)
    assert theirs.read_text("utf-8") == "<svg/>"
    assert not (tmp_path / "table-top.svg").exists()


def test_a_link_is_not_followed(piece: Piece, tmp_path: Path) -> None:
    folder, outside = tmp_path / "drawings", tmp_path / "outside.svg"
    write_drawings([("table", piece)], folder)
    outside.write_bytes((folder / "table-top.svg").read_bytes())
    (folder / "table-top.svg").unlink()
    (folder / "table-top.svg").symlink_to(outside)
    with pytest.raises(NotPossibleError, match="is no drawing"):
        write_drawings([("table", piece)], folder)


def test_a_folder_that_is_a_file(piece: Piece, tmp_path: Path) -> None:
    (tmp_path / "drawings").write_text("")
    with pytest.raises(NotPossibleError, match="cannot be written"):
        write_drawings([("table", piece)], tmp_path / "drawings")


def test_names_stay_in_the_folder_and_apart() -> None:
    names = file_names(
        ["../../etc/passwd", "C:\\x", "/", "..", "leg", "Leg", "leg 2", "ＬＥＧ", "LPT1", "a" * 60, "脚" * 60]
    )
    assert len({name.casefold() for name in names}) == len(names)
    assert all(Path(name).name == name and name[0].isalnum() for name in names)
    assert all(len(name.encode("utf-8")) < 200 for name in names)
    assert names[4:8] == ["leg.svg", "leg-2.svg", "leg-2-2.svg", "leg-3.svg"]


def test_glued_faces_are_covered_on_the_drawings(example: Path) -> None:
    joint = "joints:\n  - {from: apron, face: ends, to: leg, on: blocks}\n"
    text = example.read_text("utf-8").replace("\nparts:\n", f"\n{joint}parts:\n")
    example.write_text(text.replace("      ends: {exposure: covered}\n", ""), encoding="utf-8")
    drawings = piece_drawings(read_source(example, None).piece)
    assert "ends, covered" in drawings["apron"]

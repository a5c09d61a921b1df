"""Part tags from the command line."""

from __future__ import annotations

from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.conftest import Cli

FROM = ("--from", "2026-11-30")


def test_tags_of_two_pieces(demo: Path, cli: Cli) -> None:
    output, shop = demo / "tags.pdf", demo / "shop.yaml"
    ended = cli("tags", demo / "round-table.yaml", demo / "hall-bench.yaml", "--shop", shop, *FROM, "-o", output)
    told = f"{output}: written, 10 tags on 2 sheets; print it at its actual size, 100 %\n"
    assert (ended.status, ended.out) == (0, told)
    reader = PdfReader(output)
    assert len(reader.pages) == 2, "four coats and six on sheets of eight"
    words = " ".join(page.extract_text() for page in reader.pages)
    assert "Wet. Do not touch before" in words
    assert "Hand over after" in words
    assert "Hall bench" in words


def test_a_begun_sheet_is_gone_on_with(demo: Path, cli: Cli) -> None:
    """Four tags from the fifth of six labels: two on this sheet, two on the next, whose third is then free."""
    output = demo / "tags.html"
    shop, sheet = demo / "shop.yaml", ("--rows", "3", "--columns", "2", "--margins", "15.15 mm 7.2 mm")
    ended = cli("tags", demo / "round-table.yaml", "--shop", shop, *FROM, *sheet, "--first", "5", "-o", output)
    assert ended.out.splitlines() == [
        f"{output}: written, 4 tags on 2 sheets; print it at its actual size, 100 %",
        "Next time the last sheet is gone on with by --first 3.",
    ]
    page = output.read_text(encoding="utf-8")
    assert [page.count(f'class="tag at-{number} ') for number in range(1, 7)] == [1, 1, 0, 0, 1, 1]
    # A4, by hand: (210 - 14.4) / 2 wide, (297 - 30.3) / 3 high, the fifth in the third row.
    assert ".at-5 { left: 7.200mm; top: 192.950mm; width: 97.800mm; height: 88.900mm; }" in page


@pytest.mark.parametrize(
    ("options", "lines"),
    [
        ((), True),
        (("--no-cut-lines",), False),
        (("--rows", "3"), False),
        (("--rows", "3", "--cut-lines"), True),
    ],
)
def test_plain_paper_is_cut(options: tuple[str, ...], lines: bool, demo: Path, cli: Cli) -> None:
    output = demo / "tags.html"
    asked = ("tags", demo / "round-table.yaml", *FROM, *options, "-o", output)
    assert cli(*asked).status == 0
    assert ('<div class="down down-1">' in output.read_text(encoding="utf-8")) == lines


def test_names_that_are_too_long_are_told(demo: Path, cli: Cli) -> None:
    piece = demo / "round-table.yaml"
    long = (
        "A round table with a turned column and three feet for the reading room of the old mill beside the upper lock"
    )
    text = piece.read_text(encoding="utf-8").replace("piece: Round table for the mill reading room", f"piece: {long}")
    assert long in text
    piece.write_text(text, encoding="utf-8")
    output, shop = demo / "tags.html", demo / "shop.yaml"
    ended = cli("tags", piece, "--shop", shop, *FROM, "--rows", "11", "--columns", "4", "-o", output)
    assert ended.status == 0
    assert "Names are too long for these labels and are shortened on 4 tags." in ended.out
    assert "shortened" not in cli("tags", piece, "--shop", shop, *FROM, "-o", output).out
    assert long in output.read_text(encoding="utf-8")


def test_the_shop_says_which_labels_it_has(demo: Path, cli: Cli) -> None:
    shop = demo / "shop.yaml"
    told = "labels: {rows: 2, columns: 1, margins: 1 in}\n"
    shop.write_text(shop.read_text(encoding="utf-8") + told, encoding="utf-8")
    output = demo / "tags.html"
    asked = ("tags", demo / "round-table.yaml", "--shop", shop, *FROM, "-o", output)
    assert cli(*asked).status == 0
    page = output.read_text(encoding="utf-8")
    assert page.count('<div class="labels') == 2, "four coats on sheets of two"
    assert "down-1" not in page, "labels are cut already"
    assert "left: 25.400mm; top: 25.400mm; width: 159.200mm; height: 123.100mm;" in page, "A4 less an inch around"
    assert cli(*asked, "--columns", "2").status == 0
    assert "width: 79.600mm; height: 123.100mm;" in output.read_text(encoding="utf-8"), "the rest stays the shop's"


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--rows", "0"), "'0' is not a number of labels; expected 1 to 20"),
        (("--margins", "3"), "'3' has no unit"),
        (("--columns", "11"), "'11' is not a number of labels; expected 1 to 10"),
        (("--margins", "1 mm 2 mm 3 mm"), "--margins: 3 lengths stand where 1 or 2 or 4 belong"),
        (("--margins", "100 mm 90 mm"), "leave labels of 15.0 x 24.2 mm on A4; a tag needs 48 x 25 mm"),
        (("--margins", "15 cm"), "leave no room for labels on A4, which is 210 x 297 mm"),
        (
            ("--paper", "letter", "--rows", "11", "--columns", "1"),
            "leave labels of 199.9 x 23.9 mm on Letter; a tag needs 48 x 25 mm",
        ),
        (("--rows", "7", "--first", "15"), "a sheet has 14 labels, there is no label 15"),
        (("--gaps", "-1 mm"), "'-1 mm' is negative"),
    ],
)
def test_labels_that_cannot_be(options: tuple[str, ...], words: str, demo: Path, cli: Cli) -> None:
    ended = cli("tags", demo / "round-table.yaml", *FROM, *options, "-o", demo / "tags.pdf")
    assert ended.status == 2
    assert words in " ".join(ended.err.replace("│", " ").split())
    assert not (demo / "tags.pdf").exists()


def test_labels_of_the_shop_that_cannot_be(demo: Path, cli: Cli) -> None:
    shop = demo / "shop.yaml"
    lines = shop.read_text(encoding="utf-8").splitlines()
    shop.write_text("\n".join([*lines, "labels: {rows: 30, gaps: 0 mm 1 mm 2 mm}", ""]), encoding="utf-8")
    ended = cli("tags", demo / "round-table.yaml", "--shop", shop, *FROM, "-o", demo / "tags.pdf")
    assert ended.status == 2
    assert f"shop.yaml:{len(lines) + 1}:16: labels.rows: '30' is not a number of labels; expected" in ended.err
    assert "3 lengths stand where 1 or 2 belong" in ended.err
    assert not (demo / "tags.pdf").exists()


def test_no_tags_where_all_is_coated(demo: Path, cli: Cli) -> None:
    done = ("--done", "base/hardwax-oil/4", "--done", "top/hardwax-oil/4")
    asked = ("tags", demo / "round-table.yaml", *FROM, *done)
    ended = cli(*asked, "-o", demo / "tags.pdf")
    assert (ended.status, ended.out) == (2, "")
    assert "nothing is left to be coated" in ended.err
    assert not (demo / "tags.pdf").exists()


def test_no_tags_where_nothing_fits(demo: Path, cli: Cli) -> None:
    ended = cli("tags", demo / "hall-bench.yaml", *FROM, "--deliver", "2026-12-01", "-o", demo / "tags.pdf")
    assert ended.status == 3
    assert not (demo / "tags.pdf").exists()

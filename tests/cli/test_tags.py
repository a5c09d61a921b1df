"""Part tags from the command line."""

from __future__ import annotations

from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.conftest import Cli

FROM = ("--from", "2026-11-30")


def test_tags_of_two_pieces(demo: Path, cli: Cli) -> None:
    output, shop = demo / "tags.pdf", demo / "workshop.yaml"
    ended = cli("tags", demo / "round-table.yaml", demo / "hall-bench.yaml", "--shop", shop, *FROM, "-o", output)
    assert (ended.status, ended.out) == (0, f"{output}: written\n")
    reader = PdfReader(output)
    assert len(reader.pages) == 2, "four coats and six on sheets of eight"
    words = " ".join(page.extract_text() for page in reader.pages)
    assert "Do not touch before" in words
    assert "Hall bench" in words


def test_the_shop_says_which_labels_it_has(demo: Path, cli: Cli) -> None:
    shop = demo / "workshop.yaml"
    told = "labels: {rows: 2, columns: 1, margins: 1 in, cut-lines: false}\n"
    shop.write_text(shop.read_text(encoding="utf-8") + told, encoding="utf-8")
    output = demo / "tags.html"
    asked = ("tags", demo / "round-table.yaml", "--shop", shop, *FROM, "-o", output)
    assert cli(*asked).status == 0
    page = output.read_text(encoding="utf-8")
    assert page.count('<div class="labels">') == 2, "four coats on sheets of two"
    assert "left: 25.400mm; top: 25.400mm; width: 159.200mm; height: 123.100mm;" in page, "A4 less an inch around"
    assert cli(*asked, "--columns", "2").status == 0
    assert "width: 79.600mm; height: 123.100mm;" in output.read_text(encoding="utf-8"), "the rest stays the shop's"


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--rows", "0"), "'0' is not a number of labels; expected 1 to 30"),
        (("--margins", "3"), "'3' has no unit"),
        (("--margins", "1 mm, 2 mm, 3 mm"), "3 lengths stand where 1 or 2 or 4 belong"),
        (("--margins", "100 mm, 90 mm"), "leave labels of 15.0 x 24.2 mm on A4"),
        (("--rows", "7", "--first", "15"), "a sheet has 14 labels, there is no label 15"),
        (("--gaps", "-1 mm"), "'-1 mm' is negative"),
    ],
)
def test_labels_that_cannot_be(options: tuple[str, ...], words: str, demo: Path, cli: Cli) -> None:
    ended = cli("tags", demo / "round-table.yaml", *FROM, *options, "-o", demo / "tags.pdf")
    assert ended.status == 2
    assert words in " ".join(ended.err.replace("│", " ").split())
    assert not (demo / "tags.pdf").exists()


def test_no_tags_where_nothing_fits(demo: Path, cli: Cli) -> None:
    ended = cli("tags", demo / "hall-bench.yaml", *FROM, "--deliver", "2026-12-01", "-o", demo / "tags.pdf")
    assert ended.status == 3
    assert not (demo / "tags.pdf").exists()

"""The bundled fonts: small, with tabular figures, and with every character that the sheet itself uses."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from finplan.plan import Plan
from finplan.resources import data_dir
from finplan.sheet.fonts import characters, font_faces
from finplan.sheet.html import sheet_html

FOLDER = data_dir("templates") / "fonts"
FILES = sorted(FOLDER.glob("*.otf"))
ENOUGH = "½⅓¼¾⅛→←≥≤−×Ø°²³µ·–—…“”‘’±≈€ŁódźČapekÆøßĐơ"


def test_together_they_are_small() -> None:
    assert len(FILES) == 3
    assert sum(file.stat().st_size for file in FILES) <= 250 * 1024


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_nothing_is_reached_by_a_feature(file: Path) -> None:
    assert "GSUB" not in TTFont(file)


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_figures_are_of_one_width(file: Path) -> None:
    font = TTFont(file)
    names = [font.getBestCmap()[ord(digit)] for digit in "0123456789"]
    widths = [font["hmtx"][name][0] for name in names]
    assert max(widths) - min(widths) <= font["head"].unitsPerEm / 500, "what no eye can see"


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_an_unknown_character_shows_as_a_box(file: Path) -> None:
    font = TTFont(file)
    pen_bounds = font["CFF "].cff.topDictIndex[0].CharStrings[".notdef"].calcBounds(None)
    assert pen_bounds is not None


def test_characters_are_those_of_the_font() -> None:
    """Our own reading of the character map against that of a font library."""
    assert characters() == set(TTFont(FOLDER / "Inter-Regular.otf").getBestCmap())
    assert {ord(letter) for letter in ENOUGH} <= characters()


def test_names_print_alike_in_both_weights() -> None:
    assert set(TTFont(FOLDER / "Inter-SemiBold.otf").getBestCmap()) == characters()


def test_the_sheet_says_nothing_that_the_fonts_lack(table: Plan) -> None:
    html = re.sub(r"<style>.*?</style>", "", sheet_html(table), flags=re.DOTALL)
    assert {letter for letter in html if ord(letter) not in characters() and not letter.isspace()} == set()


def test_italics_hold_what_is_set_in_them(table: Plan) -> None:
    italic = set(TTFont(FOLDER / "Inter-Italic.otf").getBestCmap())
    hints = re.findall(r'class="hint">(.*?)<', sheet_html(table))
    assert hints
    assert {letter for hint in hints for letter in hint if ord(letter) not in italic} == set()


def test_the_licence_is_there() -> None:
    text = (FOLDER / "OFL.txt").read_text(encoding="utf-8")
    assert "The Inter Project Authors" in text
    assert "SIL OPEN FONT LICENSE" in text


def test_no_style_asks_for_a_feature() -> None:
    css = (data_dir("templates") / "sheet.css").read_text(encoding="utf-8")
    assert "font-variant" not in css
    assert "font-feature" not in css
    assert font_faces().count("@font-face") == 3

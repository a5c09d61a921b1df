"""The bundled fonts: small, with tabular figures, with every character that the sheet uses, and alone in print."""

from __future__ import annotations

import hashlib
import io
import re
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from unicodedata import normalize

import pytest
from fontTools.pens.recordingPen import RecordingPen
from fontTools.ttLib import TTFont
from pypdf import PdfReader

from finplan.planning import Plan, read_source
from finplan.resources import data_dir
from finplan.sheet import sheet_html
from finplan.typesetting import write_pdf
from finplan.typesetting.fallback import cut_font
from finplan.typesetting.fonts import characters, font_faces
from tests.font_widths import FILE, written
from tests.plans import make_plan

FOLDER = data_dir("templates") / "fonts"
FILES = sorted(FOLDER.glob("Inter-*.otf"))
FALLBACK = FOLDER / "NotoSansCJK-Regular.otf"
BOTH = [*FILES, FALLBACK]
EAST_ASIAN = "東京の食器棚 서울 옷장 北京书桌"
MANY_ALPHABETS = f"""\
piece: {EAST_ASIAN}
customer: Ελένη, Жанна, Nguyễn, Čapek
lengths: mm
timber: beech
system: shellac
parts:
  天板: {{shape: board, length: 800, width: 200, thickness: 20}}
"""
OWN = {"Sheet", "Sheet-Semi-Bold"}
ENOUGH = "½⅓¼¾⅛→←≥≤−×Ø°²³µ·–—…“”‘’±≈€ŁódźČapekÆøßĐơ"


def test_widths_are_what_the_fonts_say() -> None:
    assert FILE.read_text(encoding="utf-8") == written()


def page_of(words: str) -> str:
    """A page of these words, with the fonts and the style of the sheet."""
    style = (data_dir("templates") / "sheet.css").read_text(encoding="utf-8")
    head = f"<title>Words</title><style>{font_faces(words)}</style><style>{style}</style>"
    return f'<!DOCTYPE html><html lang="en"><head>{head}</head><body><p>{words}</p><h1>{words}</h1></body></html>'


def fonts_of(file: Path) -> set[str]:
    pages: list[Any] = list(PdfReader(file).pages)
    fonts = [font.get_object() for page in pages for font in page["/Resources"]["/Font"].values()]
    return {font["/BaseFont"].partition("+")[2] for font in fonts}


def said_by(program: str, seed: str = "0") -> str:
    """What a process of its own prints."""
    run = [sys.executable, "-c", program]
    return subprocess.run(run, check=True, capture_output=True, text=True, env={"PYTHONHASHSEED": seed}).stdout


def test_they_are_small() -> None:
    assert len(FILES) == 2
    assert sum(file.stat().st_size for file in FILES) <= 250 * 1024, "what every page carries"
    assert FALLBACK.stat().st_size <= 6.5e6, "what never leaves the machine whole"


@pytest.mark.parametrize("file", BOTH, ids=lambda file: file.stem)
def test_nothing_is_reached_by_a_feature(file: Path) -> None:
    assert "GSUB" not in TTFont(file)


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_figures_are_of_one_width(file: Path) -> None:
    font = TTFont(file)
    names = [font.getBestCmap()[ord(digit)] for digit in "0123456789"]
    widths = [font["hmtx"][name][0] for name in names]
    assert max(widths) - min(widths) <= font["head"].unitsPerEm / 500, "what no eye can see"


@pytest.mark.parametrize("file", BOTH, ids=lambda file: file.stem)
def test_an_unknown_character_shows_as_a_box(file: Path) -> None:
    font = TTFont(file)
    pen_bounds = font["CFF "].cff.topDictIndex[0].CharStrings[".notdef"].calcBounds(None)
    assert pen_bounds is not None


def test_the_font_has_the_letters_of_ordinary_names() -> None:
    assert {ord(letter) for letter in ENOUGH} <= characters()


def test_names_print_alike_in_both_weights() -> None:
    assert set(TTFont(FOLDER / "Inter-SemiBold.otf").getBestCmap()) == characters()


def test_the_sheet_says_nothing_that_the_fonts_lack(table: Plan) -> None:
    html = re.sub(r"<style>.*?</style>", "", sheet_html(table), flags=re.DOTALL)
    assert {letter for letter in html if ord(letter) not in characters() and not letter.isspace()} == set()


@pytest.mark.parametrize(
    ("file", "holder"), [("OFL.txt", "The Inter Project Authors"), ("OFL-NotoSansCJK.txt", "2014-2021 Adobe")]
)
def test_the_licences_are_there(file: str, holder: str) -> None:
    text = (FOLDER / file).read_text(encoding="utf-8")
    assert holder in text
    assert "SIL OPEN FONT LICENSE" in text


def test_no_style_asks_for_a_feature_or_a_font_of_the_machine(table: Plan) -> None:
    css = "".join(file.read_text(encoding="utf-8") for file in sorted(data_dir("templates").glob("*.css")))
    assert "font-variant" not in css
    assert "font-feature" not in css
    html = re.sub(r"url\(.*?\)", "", sheet_html(table))
    stacks = re.findall(r"""(?:font:[^;]*?pt\S* |font-family=")(Sheet\b[^;]*?)(?:;|"[ >])""", html)
    assert len(stacks) > 4
    assert {re.sub(r"""["']""", "", stack) for stack in stacks} <= {
        "Sheet, Sheet Fallback, sans-serif",
        "Sheet, Sheet Fallback, Inter, sans-serif",
    }


def test_the_fallback_is_there_only_where_it_is_needed(table: Plan) -> None:
    usual = font_faces("")
    assert usual.count("@font-face") == 2
    assert font_faces("Łódź, Ελένη, Жанна, Nguyễn, שלום, 🪑 \u2028\t\n") == usual
    assert sheet_html(table).count("@font-face") == 2
    for needed in ("東", "서", "\u1109\u1165", "の", "〒"):
        assert font_faces(needed).count("@font-face") == 3


def test_the_fallback_is_cut_to_what_is_needed() -> None:
    assert len(font_faces("東京北海道木工房店棚")) - len(font_faces("")) < 15_000
    font = TTFont(io.BytesIO(cut_font(FALLBACK, map(ord, "東京"))))
    assert set(font.getBestCmap()) == set(map(ord, "東京 \u00a0"))
    assert "SIL Open Font License" in font["name"].getDebugName(13)


def test_glyphs_of_the_fallback_are_numbered_as_readers_of_pdf_expect() -> None:
    """In a font with CID-keyed outlines they look a glyph up by its CID, and the renderer writes its number.

    Source: ISO 32000-1, 9.7.4.2.
    """
    font = TTFont(io.BytesIO(cut_font(FALLBACK, map(ord, EAST_ASIAN))))
    outlines = font["CFF "].cff[0]
    assert outlines.ROS[:2] == ("Adobe", "Identity")
    assert outlines.charset == [".notdef", *(f"cid{number:05d}" for number in range(1, len(outlines.charset)))]
    whole = TTFont(FALLBACK)
    for letter in "東서の":
        few, all_of_it = (one.getGlyphSet()[one.getBestCmap()[ord(letter)]] for one in (font, whole))
        assert outline(few) == outline(all_of_it)


def outline(glyph: Any) -> Any:
    pen = RecordingPen()
    glyph.draw(pen)
    return pen.value


def test_the_same_fallback_whatever_the_order_of_sets() -> None:
    program = (
        "import hashlib; from finplan.typesetting.fonts import font_faces; "
        f"print(hashlib.sha256(font_faces({EAST_ASIAN!r}).encode()).hexdigest())"
    )
    here = hashlib.sha256(font_faces(EAST_ASIAN).encode()).hexdigest()
    assert {said_by(program, seed).strip() for seed in "12"} == {here}


def test_the_font_library_is_loaded_only_where_a_letter_is_looked_for_elsewhere() -> None:
    program = (
        "import sys; from finplan.typesetting import width_em; from finplan.typesetting.fonts import font_faces; "
        "font_faces('Łódź'); width_em('Łódź'); print('fontTools' in sys.modules); "
        "font_faces('東京'); print('fontTools' in sys.modules)"
    )
    assert said_by(program).split() == ["False", "True"]


def test_a_sheet_in_many_alphabets(tmp_path: Path) -> None:
    piece, file = tmp_path / "piece.yaml", tmp_path / "sheet.pdf"
    piece.write_text(MANY_ALPHABETS, encoding="utf-8")
    html = sheet_html(make_plan([read_source(piece, None)], now=datetime(2027, 2, 1, 8, tzinfo=UTC)))
    write_pdf(html, file)
    assert fonts_of(file) == {*OWN, "Sheet-Fallback"}
    pages = [page.extract_text() for page in PdfReader(file).pages]
    assert EAST_ASIAN in pages[0]
    assert "Ελένη, Жанна, Nguyễn, Čapek" in pages[0]
    assert "天板" in pages[0]
    assert all(EAST_ASIAN in page for page in pages), "at the foot"


def test_letters_from_elsewhere_are_the_same_bytes_each_time(tmp_path: Path) -> None:
    page, once, again = page_of(f"{EAST_ASIAN}, Ελένη, 天板"), tmp_path / "once.pdf", tmp_path / "again.pdf"
    for file in (once, again):
        write_pdf(page, file)
    assert "Sheet-Fallback" in fonts_of(once)
    assert again.read_bytes() == once.read_bytes()


@pytest.mark.parametrize(
    "words",
    ["e\u0301 ɛ\u0303 Vie\u0302\u0323t", "\u1109\u1165\u110b\u116e\u11af か\u3099", "直 骨 朱镕基 髙﨑", "①〒㎡"],
    ids=["Latin marks", "parts of syllables", "Han", "signs"],
)
def test_words_are_set_in_bundled_fonts_and_read_back(words: str, tmp_path: Path) -> None:
    write_pdf(page_of(words), tmp_path / "words.pdf")
    assert fonts_of(tmp_path / "words.pdf") <= {*OWN, "Sheet-Fallback"}
    text = PdfReader(tmp_path / "words.pdf").pages[0].extract_text()
    assert normalize("NFC", words) in normalize("NFC", text)


@pytest.mark.parametrize("space", " \u00a0\u2002\u2003\u2009\u202f\u3000")
def test_no_space_prints_as_a_box(space: str, tmp_path: Path) -> None:
    """A box would be read back as a character."""
    write_pdf(page_of(f"東京{space}서울{space}m"), tmp_path / "words.pdf")
    assert PdfReader(tmp_path / "words.pdf").pages[0].extract_text().split()[:3] == ["東京", "서울", "m"]


@pytest.mark.parametrize(
    "words",
    [
        "طاولة القراءة",
        "שולחן a \u202eb\u202c",
        "मेज़ दिल्ली",
        "🪑 👩\u200d👩\u200d👧 ❤\ufe0f",
        "\ue000",
        "\u0338 x\u0489\u0489\u0489",
        "𠮷𓀀\u2028ไทย",
    ],
    ids=["Arabic", "Hebrew", "Devanagari", "emoji", "private use", "marks on nothing", "beyond the basic plane"],
)
def test_other_alphabets_are_no_failure(words: str, tmp_path: Path) -> None:
    """They print as the machine can: no more is promised."""
    write_pdf(page_of(words), tmp_path / "words.pdf")
    assert len(PdfReader(tmp_path / "words.pdf").pages) == 1

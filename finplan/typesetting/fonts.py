"""The bundled fonts: as CSS that carries them, and which characters they hold."""

from __future__ import annotations

import base64
import json
import unicodedata
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path

from finplan.resources import data_dir
from finplan.typesetting.fallback import cut_font

FAMILY = "Sheet"
"""A name of our own, so that a font of the machine is never mixed in."""
FALLBACK_FAMILY = "Sheet Fallback"
"""What stands in for the characters that the first family lacks: Chinese, Japanese and Korean."""
REGULAR, BOLD = "Inter-Regular.otf", "Inter-SemiBold.otf"
_FACES = ((REGULAR, "normal", 400), (BOLD, "normal", 600))
_FALLBACK = "NotoSansCJK-Regular.otf"


def font_faces(page: str) -> str:
    """Return the ``@font-face`` rules that a page needs, with the fonts inside them.

    Parameters
    ----------
    page
        All that is shown, which may have markup around it. The font of names is always there, whole; the fallback only
        where the page holds a character that it alone has, and then with no other characters.
    """
    fallback = _in_fallback(page)
    if not fallback:
        return _own_faces()
    return f"{_own_faces()}\n{_rule(FALLBACK_FAMILY, 'normal', 400, cut_font(_file(_FALLBACK), fallback))}"


def lacking(text: str) -> str:
    """Return the characters of a text that no bundled font has, each once, in order.

    Notes
    -----
    Accents that are written as characters of their own are looked at as they are shown, on their letters.
    Source: Unicode Standard Annex 15, normalization form C.
    """
    unknown = _beyond_names(dict.fromkeys(unicodedata.normalize("NFC", text)))
    return "".join(letter for letter in unknown if ord(letter) not in fallback_characters())


@cache
def characters() -> frozenset[int]:
    """Return the code points that the font of names has a glyph for."""
    return frozenset(own_widths(REGULAR))


@cache
def own_widths(name: str) -> Mapping[int, float]:
    """Return how far each character of a bundled font moves on, by its code point, in the size of its letters.

    Looked up in ``widths.json``, which the font library made (``tests/font_widths.py``).
    """
    font = json.loads(_file("widths.json").read_text(encoding="utf-8"))[name]
    return {
        code: width / font["units_per_em"]
        for first, widths in font["runs"].items()
        for code, width in enumerate(widths, start=int(first))
    }


@cache
def fallback_characters() -> frozenset[int]:
    """Return the code points that the fallback has a glyph for."""
    from fontTools.ttLib import TTFont

    with TTFont(_file(_FALLBACK), lazy=True) as font:
        return frozenset(font.getBestCmap())


def _in_fallback(page: str) -> set[int]:
    if not _beyond_names(set(page)):
        return set()
    # Parts of Korean syllables and marks of kana may be written apart: the font then needs what they make together.
    shown = {*page, *unicodedata.normalize("NFC", page)}
    return {ord(letter) for letter in _beyond_names(shown)} & fallback_characters()


def _beyond_names(letters: Iterable[str]) -> list[str]:
    """Return what the font of names lacks, without what leaves no mark on paper: white space and signs of format."""
    known = characters()
    unknown = (letter for letter in letters if ord(letter) not in known)
    return [letter for letter in unknown if not letter.isspace() and unicodedata.category(letter) != "Cf"]


@cache
def _own_faces() -> str:
    return "\n".join(_rule(FAMILY, style, weight, _file(file).read_bytes()) for file, style, weight in _FACES)


def _rule(family: str, style: str, weight: int, font: bytes) -> str:
    data = base64.b64encode(font).decode("ascii")
    return (
        f'@font-face{{font-family:"{family}";font-style:{style};font-weight:{weight};'
        f'src:url("data:font/otf;base64,{data}") format("opentype")}}'
    )


def _file(name: str) -> Path:
    return data_dir("templates") / "fonts" / name

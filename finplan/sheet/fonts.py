"""The bundled fonts: as CSS that carries them, and which characters they hold."""

from __future__ import annotations

import base64
import struct
import unicodedata
from collections.abc import Iterable
from functools import cache
from pathlib import Path

from finplan.resources import data_dir
from finplan.sheet.fallback import cut

FAMILY = "Sheet"
"""A name of our own, so that a font of the machine is never mixed in."""
FALLBACK_FAMILY = "Sheet Fallback"
"""What stands in for the characters that the first family lacks: Chinese, Japanese and Korean."""
_FACES = (
    ("Inter-Regular.otf", "normal", 400),
    ("Inter-Italic.otf", "italic", 400),
    ("Inter-SemiBold.otf", "normal", 600),
)
_FALLBACK = "NotoSansCJK-Regular.otf"
_FORMAT_SEGMENTS = 4


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
    return f"{_own_faces()}\n{_rule(FALLBACK_FAMILY, 'normal', 400, cut(_file(_FALLBACK), fallback))}"


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
    return _characters(_file(_FACES[0][0]))


@cache
def fallback_characters() -> frozenset[int]:
    """Return the code points that the fallback has a glyph for."""
    return _characters(_file(_FALLBACK))


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


def _characters(file: Path) -> frozenset[int]:
    """Return the code points of a font.

    Notes
    -----
    Read from the font's character map, a ``cmap`` subtable of format 4: runs of code points up to U+FFFF.
    Source: ISO/IEC 14496-22 (OpenType), ``cmap``.
    """
    data = file.read_bytes()
    tables = struct.unpack_from(">H", data, 4)[0]
    starts = (12 + 16 * index for index in range(tables))
    cmap = next(struct.unpack_from(">I", data, at + 8)[0] for at in starts if data[at : at + 4] == b"cmap")
    found: set[int] = set()
    for index in range(struct.unpack_from(">H", data, cmap + 2)[0]):
        offset = cmap + struct.unpack_from(">I", data, cmap + 4 + 8 * index + 4)[0]
        if struct.unpack_from(">H", data, offset)[0] != _FORMAT_SEGMENTS:
            continue
        count = struct.unpack_from(">H", data, offset + 6)[0] // 2
        ends = struct.unpack_from(f">{count}H", data, offset + 14)
        begins = struct.unpack_from(f">{count}H", data, offset + 16 + 2 * count)
        for first, last in zip(begins, ends, strict=True):
            found.update(range(first, last + 1))
    return frozenset(found - {0xFFFF})

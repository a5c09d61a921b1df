"""The bundled font of Chinese, Japanese and Korean, cut down to what a page needs of it."""

from __future__ import annotations

import io
from collections.abc import Iterable
from pathlib import Path

_SPACES = frozenset({0x0020, 0x00A0})
"""A space after a character of this font is set in it too, whoever else has one; other widths are made of it."""
_NAMES = [0, 1, 2, 4, 5, 6, 13, 14]
"""Copyright and licence travel with the font."""


def cut_font(file: Path, codes: Iterable[int]) -> bytes:
    """Return an OpenType font cut down to some characters; the same characters give the same bytes.

    Parameters
    ----------
    file
        A font with CID-keyed outlines
    codes
        Code points, each of which the font has

    Notes
    -----
    The renderer of PDF writes the number of a glyph where a reader of PDF expects its CID, so the two are made one.
    Source: ISO 32000-1, 9.7.4.2 (glyph selection in CIDFonts).
    """
    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont

    options = Options(layout_features=[], hinting=False, notdef_outline=True, name_IDs=_NAMES)
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=sorted({*codes, *_SPACES}))
    with TTFont(file, recalcTimestamp=False, lazy=True) as font:
        subsetter.subset(font)
        few = io.BytesIO()
        font.save(few)

    # Read again, so that no table has names of glyphs in it yet: the other tables are then kept as they are.
    with TTFont(few, recalcTimestamp=False) as font:
        outlines = font["CFF "].cff[0]
        names = [".notdef", *(f"cid{number:05d}" for number in range(1, len(outlines.charset)))]
        glyphs = outlines.CharStrings
        glyphs.charStrings = {name: glyphs.charStrings[old] for name, old in zip(names, outlines.charset, strict=True)}
        outlines.charset = names
        font.setGlyphOrder(names)
        numbered = io.BytesIO()
        font.save(numbered)
    return numbered.getvalue()

"""How wide words are in the bundled font, and how many lines they take, before any page is laid out."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache

from finplan.typesetting.fonts import BOLD, REGULAR, characters, fallback_characters, own_widths

_FALLBACK_EM = 1.0
"""Chinese characters, kana and Korean syllables are at most as wide as they are high."""
_UNKNOWN_EM = 1.3
"""No letter or picture of a font of the machine that is likely to stand in is wider."""
_LEADING, _FALLBACK_LEADING, _UNKNOWN_LEADING = 1.18, 1.26, 1.5
"""How high a line is, in the size of its letters: as the style sheet has it, or as letters of the other fonts need."""
_KERNING = 1.02
"""Pairs of letters move apart or together by less in a whole word."""
_PART = re.compile(r"[\u1100-\u11ff\u2e80-\ua4cf\uac00-\ud7af\uf900-\ufaff\uff00-\uffef]|[^ \-‐–—/]+[\-‐–—/]*|[^ ]")
"""What stays on one line if it can: one letter of a wide alphabet, or letters up to a space or a dash."""


def width_em(text: str, *, bold: bool = False) -> float:
    """Return how wide a text is on one line, in the size of its letters, rounded to be enough.

    >>> round(width_em("leg"), 2), round(width_em("WWW"), 2), round(width_em("東京"), 2)
    (1.46, 2.9, 2.04)
    """
    widths = own_widths(BOLD if bold else REGULAR)
    return _KERNING * sum(_of(letter, widths) for letter in text)


def leading(text: str) -> float:
    """Return how high a line of a text is, in the size of its letters.

    >>> leading("leg"), leading("東京")
    (1.18, 1.26)
    """
    others = {ord(letter) for letter in text} - characters()
    if not others:
        return _LEADING
    return _FALLBACK_LEADING if others <= fallback_characters() else _UNKNOWN_LEADING


def lines_taken(text: str, size: float, width: float, *, bold: bool = False) -> int:
    """Return how many lines a text takes at the most, broken at spaces and dashes, and within a word that is too long.

    Parameters
    ----------
    text
        The text
    size
        Of its letters, in the unit of *width*
    width
        Of the lines
    bold
        Whether it is set semi-bold
    """
    room = width / size
    lines, used = 1, 0.0
    for part_em, gap_em in _parts(text, bold):
        if used + gap_em + part_em <= room or not used:
            used += gap_em + part_em
        else:
            lines, used = lines + 1, part_em
        while used > room:
            # A word is broken before the letter that is too much, which may be a wide one.
            lines, used = lines + 1, used - max(room - _UNKNOWN_EM, room / 2)
    return lines


@lru_cache(maxsize=4096)
def _parts(text: str, bold: bool) -> tuple[tuple[float, float], ...]:
    """Return the width of each part, with that of the space before it where there is one. [em]"""
    space_em = width_em(" ", bold=bold)
    return tuple(
        (width_em(match.group(), bold=bold), space_em if match.start() and text[match.start() - 1] == " " else 0.0)
        for match in _PART.finditer(text)
    )


def _of(letter: str, widths: Mapping[int, float]) -> float:
    known = widths.get(ord(letter))
    if known is not None:
        return known
    return _FALLBACK_EM if ord(letter) in fallback_characters() else _UNKNOWN_EM

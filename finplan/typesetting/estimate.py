"""How wide words are in whatever font of plain letters draws them: an estimate, where a page carries no font."""

from __future__ import annotations

_WIDTHS = {
    0.26: "ijlI'",
    0.30: " .,:;|!",
    0.40: 'frt()[]"/-',
    0.50: "sz–",
    0.60: "acekvxyJ",
    0.65: "bdghnopquEFLBPRSTXYZK0123456789×",
    0.78: "ACDGHNOQUVØ",
}
_WIDTH_OF = {character: width for width, characters in _WIDTHS.items() for character in characters}
_WIDEST = 1.0
"""An M, an em dash, a character of another alphabet."""


def estimated_em(text: str) -> float:
    """Return how wide a text is on one line, in the size of its letters, to within a tenth.

    >>> estimated_em("1100")
    2.6
    """
    return sum(_WIDTH_OF.get(character, _WIDEST) for character in text)

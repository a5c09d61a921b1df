"""A maker's words inside a rule of style, where they can be nothing but words."""

from __future__ import annotations

from markupsafe import Markup

_PLAIN = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789")


def css_text(words: str) -> Markup:
    r"""Return *words* as they stand between the quotation marks of a string in a style sheet.

    Notes
    -----
    Every character but letters and figures is written by its code point in six hexadecimal digits, so that no quotation
    mark, no end of a line and no end of the style element is left in it. So are spaces: one behind an escape is part
    of it.
    Source: W3C, CSS Syntax Module Level 3, section 4.3.7, consume an escaped code point.

    Examples
    --------
    >>> print(css_text("Top, 2 m"))
    Top\00002c\0000202\000020m
    >>> print(css_text('</style>"'))
    \00003c\00002fstyle\00003e\000022
    """
    return Markup("".join(letter if letter in _PLAIN else f"\\{ord(letter):06x}" for letter in words))  # noqa: S704

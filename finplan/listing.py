"""How names are listed and counted in a sentence, and cut where there is no room."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

NO_BREAK = "\u00a0"
"""Between a number and what it counts, so that no line breaks there."""


def listed(names: Iterable[str]) -> str:
    """Return names as a person lists them.

    >>> listed(["leg"]), listed(["leg", "apron", "top"])
    ('leg', 'leg, apron and top')
    """
    all_names = list(names)
    return " and ".join([", ".join(all_names[:-1]), all_names[-1]] if len(all_names) > 1 else all_names)


def some(names: Sequence[str], most: int = 24, letters: int = 240) -> str:
    """Return names as a person lists them, of many or of very long ones only the first, and how many more there are.

    >>> some(["leg", "apron", "top", "shelf"], most=3), some(["a part of a long name", "leg"], letters=20)
    ('leg, apron and 2 more', 'a part of a long name and 1 more')
    """
    taken, length = 0, 0
    for name in names:
        length += len(name)
        if taken and (taken == most or length > letters):
            break
        taken += 1
    if taken == len(names):
        return listed(names)
    kept = min(taken, max(1, most - 1))
    return listed([*names[:kept], f"{len(names) - kept} more"])


def number_of(count: int, what: str) -> str:
    """Return how many there are of something.

    >>> number_of(1, "tag"), number_of(3, "flat place")
    ('1 tag', '3 flat places')
    """
    return f"{count} {what}{'' if count == 1 else 's'}"


def counted(name: str, count: int) -> str:
    """Return a part with how many of it there are.

    >>> counted("top", 1), counted("leg", 4).split()
    ('top', ['leg', '×', '4'])
    """
    return f"{name}{NO_BREAK}×{NO_BREAK}{count}" if count > 1 else name


def breakable(words: str) -> str:
    """Return words with the usual spaces alone, for what breaks lines by itself or is searched."""
    return words.replace(NO_BREAK, " ")


def shortened(text: str, limit: int) -> str:
    """Return *text* cut to so many characters, which shows.

    >>> shortened("Reading table, village library", 15)
    'Reading table…'
    """
    return text if len(text) <= limit else text[: limit - 1].rstrip(" ,.;:") + "…"

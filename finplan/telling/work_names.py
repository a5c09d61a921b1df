"""What a kind of work is called in a sentence."""

from __future__ import annotations

_WORK: dict[str, str] = {
    "sand": "sanding bare wood",
    "raise-grain": "raising the grain",
    "fill": "filling",
    "coat": "coating",
    "abrade": "abrading",
    "rub-out": "rubbing out",
    "abrade-again": "abrading again",
    "clean-up": "cleaning up",
    "glue-up": "gluing up",
    "joints": "sanding joints",
    "mask": "masking",
    "put-together": "putting together",
    "test": "testing old paint",
    "wipe-down": "wiping down",
    "extra": "steps beside the coats",
}


def work_name(deed: str) -> str:
    """Return a kind of work as it is named in a sentence.

    >>> work_name("sand")
    'sanding bare wood'
    """
    return _WORK[deed]

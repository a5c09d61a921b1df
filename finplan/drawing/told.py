"""Texts on a drawing that know which fields of the file they show, for who lets them be changed where they stand."""

from __future__ import annotations

from collections.abc import Sequence

from finplan.problems import Where

ToldPiece = tuple[str, Where | None]
"""Some of a text, and the path of its field from the part down; None of what is no field's."""


class Told(str):
    """A text with the fields that it is made of; on paper it is any other text."""

    __slots__ = ("pieces",)
    pieces: tuple[ToldPiece, ...]

    @classmethod
    def of(cls, pieces: Sequence[ToldPiece]) -> Told:
        """Return the text that pieces make."""
        text = cls("".join(words for words, _ in pieces))
        text.pieces = tuple(pieces)
        return text

    def within(self, *prefix: str | int) -> Told:
        """Return the same text, its fields seen from further up the file."""
        return Told.of([(words, None if path is None else (*prefix, *path)) for words, path in self.pieces])


def told(text: str, *path: str | int) -> Told:
    """Return a text that is the value of one field.

    >>> told("1050", "diameter").pieces
    (('1050', ('diameter',)),)
    """
    return Told.of([(text, path)])


def told_of(*texts: str) -> Told:
    """Return one text made of several, which keeps what they know.

    >>> told_of("R", told("40", "corners")), told_of("R", told("40", "corners")).pieces
    ('R40', (('R', None), ('40', ('corners',))))
    """
    pieces: list[ToldPiece] = []
    for text in texts:
        pieces += text.pieces if isinstance(text, Told) else [(text, None)]
    return Told.of(pieces)

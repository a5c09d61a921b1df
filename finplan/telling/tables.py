"""A table for a person, which terminal and paper lay out."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ToldTable:
    """A table for a person."""

    title: str
    heading: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: str
    """A letter for each column: ``r`` for one that is set to the right."""
    foot: str = ""

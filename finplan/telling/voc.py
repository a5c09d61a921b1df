"""Limits of organic vapour in a litre ready to use, in words."""

from __future__ import annotations

from finplan.catalogue import Catalogue
from finplan.safety import VocLine
from finplan.showing import plain


def voc_words(line: VocLine, catalogue: Catalogue) -> str:
    """Return what a finish holds beside one limit, and whether it is within."""
    standing = "The tin decides." if line.standing == "depends on the tin" else f"This type is {line.standing}."
    rule = f"{line.jurisdiction}, {line.category}: {voc_limit(line)}"
    return f"{catalogue.finishes[line.finish].title}: {voc_held(line)} g/L ready to use; {rule}. {standing}"


def voc_held(line: VocLine) -> str:
    """Return what this type of finish holds, in g/L."""
    return f"{plain(line.voc_g_l.low)} to {plain(line.voc_g_l.high)}"


def voc_limit(line: VocLine) -> str:
    """Return how much a rule lets it hold."""
    return f"{line.limit_g_l:g} g/L"

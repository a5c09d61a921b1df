"""What would make an amount surer: the label of the tin, or the tin weighed before and after the first coat."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from finplan.material.cause import CauseKind, Term
from finplan.material.total import total
from finplan.material.use import CLEANING, SAMPLE, Use

SurerDeed = Literal["weigh", "label"]

_TELLS: dict[SurerDeed, tuple[CauseKind, ...]] = {"weigh": ("product", "hand", "wood"), "label": ("product",)}
"""What is known once it is done. A weighed coat tells how far this product goes with this hand on this wood; only coats
still differ from each other."""


@dataclass(frozen=True, slots=True)
class Surer:
    """What would make an amount surer."""

    deed: SurerDeed
    """``weigh``: the tin, before and after the first coat. ``label``: how far a litre goes, from the label."""
    at_confidence: float
    """What would be enough with the same confidence, should it turn out as is typical."""


def surest(uses: Sequence[Use], enough: float, confidence: float, worth_pct: float) -> Surer | None:
    """Return what would make an amount surest.

    Parameters
    ----------
    uses
        What uses it
    enough
        What is enough as things are known
    confidence
        How sure that is
    worth_pct
        What it has to save to be told. [%]

    Notes
    -----
    Weighing a coat helps where another follows; else only the label does.
    """
    if confidence <= 0.5:
        return None
    terms = [term for use in uses for term in use.terms]
    coats = {use.coat for use in uses if use.item not in (SAMPLE, CLEANING)}
    deeds: tuple[SurerDeed, ...] = ("weigh", "label") if len(coats) > 1 else ("label",)
    ways = [Surer(deed, total(_told(terms, deed)).at(confidence)) for deed in deeds]
    best = min(ways, key=lambda way: way.at_confidence)
    return best if best.at_confidence <= enough * (1 - worth_pct / 100) else None


def _told(terms: Sequence[Term], deed: SurerDeed) -> list[Term]:
    return [term.without(*_TELLS[deed]) for term in terms]

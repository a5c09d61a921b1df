"""Plans and pieces as tests ask for them: from what was read, at once or stage by stage."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from finplan.material import DEFAULT_CONFIDENCE
from finplan.planning import Plan, PlannedPiece, Source, Wishes, together
from finplan.planning.several import refuse
from finplan.reading import GivenDate


def plan_of(
    sources: Sequence[Source],
    *,
    now: datetime,
    deliver: GivenDate | None = None,
    confidence: float = DEFAULT_CONFIDENCE,
    wishes: Wishes | None = None,
) -> Plan:
    """Return a plan of which nothing is reckoned yet."""
    return Plan(together(sources), now, deliver, confidence, wishes or Wishes())


def make_plan(
    sources: Sequence[Source],
    *,
    now: datetime,
    deliver: GivenDate | None = None,
    confidence: float = DEFAULT_CONFIDENCE,
    wishes: Wishes | None = None,
) -> Plan:
    """Return a plan of which all is reckoned that a sheet shows."""
    return plan_of(sources, now=now, deliver=deliver, confidence=confidence, wishes=wishes).whole()


def sound_pieces(sources: Sequence[Source]) -> tuple[PlannedPiece, ...]:
    """Return pieces of which none is refused."""
    pieces = together(sources)
    refuse(pieces)
    return pieces

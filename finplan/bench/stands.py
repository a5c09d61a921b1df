"""What stands of a job at a moment and is told before all else: its old coatings, and what lies on it for too long."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from finplan.bench.film import film_words
from finplan.bench.lying import lying_words
from finplan.ledger import HeldPlan, Ledger, newest, own_job_of
from finplan.planning import Plan, PlannedPiece


def standing_words(
    ledger: Ledger, held: HeldPlan, plan: Plan, pieces: Sequence[PlannedPiece], moment: datetime
) -> tuple[str, ...]:
    """Return what stands of a job, whatever its plan knew; each a sentence without its stop.

    Parameters
    ----------
    ledger, held
        The record, and the newest plan of the job in it
    plan
        That plan
    pieces
        As their files say, without what the record knows
    moment
        Now
    """
    return (*film_words(ledger, held, plan, pieces), *lying_words(ledger, held, plan, moment))


def standing_words_of(
    ledger: Ledger, files: Sequence[str], plan: Plan, pieces: Sequence[PlannedPiece], moment: datetime
) -> tuple[str, ...]:
    """Return the same of the job of files; nothing where the record has none."""
    job = own_job_of(ledger, files)
    last = None if job is None else newest(ledger, job)
    return () if last is None else standing_words(ledger, last, plan, pieces, moment)

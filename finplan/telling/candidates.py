"""Why a coating system does not fit, and what may go wrong with it, in words: on the terminal and in the data alike."""

from __future__ import annotations

from finplan.planning import Candidate
from finplan.telling.requirements import clashes_words


def why_not_words(candidate: Candidate) -> str | None:
    """Return why a system does not fit, and what would help; None where it does, or is only late."""
    if candidate.clashes:
        return clashes_words(candidate.clashes)
    reasons = dict.fromkeys(f"{problem.wrong} ({problem.expected})" for problem in candidate.refused)
    return "; ".join(reasons) or None


def system_risks(candidate: Candidate) -> tuple[str, ...]:
    """Return what may go wrong with a system on the timbers of a piece, each with what helps."""
    return tuple(dict.fromkeys(f"{risk.wrong}; {risk.expected}" for risk in candidate.risks))

"""Why a coating system does not fit, in words: on the terminal and in the data alike."""

from __future__ import annotations

from finplan.planning import Candidate
from finplan.telling.requirements import clashes_words


def why_not_words(candidate: Candidate) -> str | None:
    """Return why a system does not fit, and what would help; None where it does, or is only late."""
    return clashes_words(candidate.clashes) if candidate.clashes else candidate.why

"""Which coating system: every one that the catalogue knows, tried on this piece, in this shop, for this date."""

from finplan.choice.compare import Candidate, Verdict, compare_systems

__all__ = ["Candidate", "Verdict", "compare_systems"]

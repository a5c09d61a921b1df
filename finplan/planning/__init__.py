"""From files to a plan: what is read, what it makes stage by stage, and which system would do as well.

Names are imported when they are asked for: whoever only reads a file waits for no timetable.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from finplan.planning.choice import Candidate, Verdict, compare_systems
    from finplan.planning.plan import Plan, PlannedPiece, air_risks, around_of, make_plan, order_of
    from finplan.planning.source import (
        Paper,
        Source,
        checked_piece,
        clashes_of,
        digest_of,
        missing_for_plan,
        read_source,
        read_sources,
        risks_of,
        shop_and_catalogue,
        surface_of,
        treatments_of,
    )
    from finplan.planning.timing import (
        Treated,
        Wishes,
        job_of,
        piece_names,
        steps_before,
        timetable_of,
        treated,
        treated_pieces,
    )
    from finplan.planning.used import RESTS, caution_sources, used_sources

_NAMES = {
    "choice": ("Candidate", "Verdict", "compare_systems"),
    "plan": ("Plan", "PlannedPiece", "air_risks", "around_of", "make_plan", "order_of"),
    "source": (
        "Paper",
        "Source",
        "checked_piece",
        "clashes_of",
        "digest_of",
        "missing_for_plan",
        "read_source",
        "read_sources",
        "risks_of",
        "shop_and_catalogue",
        "surface_of",
        "treatments_of",
    ),
    "timing": (
        "Treated",
        "Wishes",
        "job_of",
        "piece_names",
        "steps_before",
        "timetable_of",
        "treated",
        "treated_pieces",
    ),
    "used": ("RESTS", "caution_sources", "used_sources"),
}
_HOMES = {name: module for module, names in _NAMES.items() for name in names}

__all__ = [
    "RESTS",
    "Candidate",
    "Paper",
    "Plan",
    "PlannedPiece",
    "Source",
    "Treated",
    "Verdict",
    "Wishes",
    "air_risks",
    "around_of",
    "caution_sources",
    "checked_piece",
    "clashes_of",
    "compare_systems",
    "digest_of",
    "job_of",
    "make_plan",
    "missing_for_plan",
    "order_of",
    "piece_names",
    "read_source",
    "read_sources",
    "risks_of",
    "shop_and_catalogue",
    "steps_before",
    "surface_of",
    "timetable_of",
    "treated",
    "treated_pieces",
    "treatments_of",
    "used_sources",
]

if not TYPE_CHECKING:

    def __getattr__(name: str) -> object:
        if name not in _HOMES:
            msg = f"module {__name__!r} has no attribute {name!r}"
            raise AttributeError(msg)
        found = getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
        globals()[name] = found
        return found

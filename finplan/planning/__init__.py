"""From what was read to a plan, stage by stage; and which coating system would do as well.

Names are imported when they are asked for: whoever only reads a file waits for no timetable.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from finplan.planning.choice import Candidate, Verdict, compare_systems
    from finplan.planning.job import job_of, work_of
    from finplan.planning.order import order_of
    from finplan.planning.piece import PlannedPiece, with_stages
    from finplan.planning.plan import Plan, make_plan, plan_of
    from finplan.planning.several import sound_pieces, together
    from finplan.planning.source import (
        Source,
        checked_piece,
        digest_of,
        missing_for_plan,
        read_source,
        read_sources,
    )
    from finplan.planning.surroundings import air_risks, around_of, dust_of
    from finplan.planning.timing import timetable_of
    from finplan.planning.used import RESTS, caution_sources, used_sources
    from finplan.planning.wishes import (
        WishError,
        Wishes,
        confidence_of,
        date_of,
        done_of,
        moment_of,
        seconds_of,
        steps_before,
    )
    from finplan.planning.workshop import Workshop, read_workshop, workshop_and_problems

_NAMES = {
    "choice": ("Candidate", "Verdict", "compare_systems"),
    "job": ("job_of", "work_of"),
    "order": ("order_of",),
    "piece": ("PlannedPiece", "with_stages"),
    "plan": ("Plan", "make_plan", "plan_of"),
    "source": ("Source", "checked_piece", "digest_of", "missing_for_plan", "read_source", "read_sources"),
    "surroundings": ("air_risks", "around_of", "dust_of"),
    "timing": ("timetable_of",),
    "several": ("sound_pieces", "together"),
    "used": ("RESTS", "caution_sources", "used_sources"),
    "wishes": (
        "WishError",
        "Wishes",
        "confidence_of",
        "date_of",
        "done_of",
        "moment_of",
        "seconds_of",
        "steps_before",
    ),
    "workshop": ("Workshop", "read_workshop", "workshop_and_problems"),
}
_HOMES = {name: module for module, names in _NAMES.items() for name in names}

__all__ = [
    "RESTS",
    "Candidate",
    "Plan",
    "PlannedPiece",
    "Source",
    "Verdict",
    "WishError",
    "Wishes",
    "Workshop",
    "air_risks",
    "around_of",
    "caution_sources",
    "checked_piece",
    "compare_systems",
    "confidence_of",
    "date_of",
    "digest_of",
    "done_of",
    "dust_of",
    "job_of",
    "make_plan",
    "missing_for_plan",
    "moment_of",
    "order_of",
    "plan_of",
    "read_source",
    "read_sources",
    "read_workshop",
    "seconds_of",
    "sound_pieces",
    "steps_before",
    "timetable_of",
    "together",
    "used_sources",
    "with_stages",
    "work_of",
    "workshop_and_problems",
]

if not TYPE_CHECKING:

    def __getattr__(name: str) -> object:
        if name not in _HOMES:
            msg = f"module {__name__!r} has no attribute {name!r}"
            raise AttributeError(msg)
        found = getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
        globals()[name] = found
        return found

"""From what was read to a plan, stage by stage; and which coating system would do as well.

Names are imported when they are asked for: whoever only reads a file waits for no timetable.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from finplan.lazy import lazily

if TYPE_CHECKING:
    from finplan.planning.again import replanned
    from finplan.planning.approval import Approval, approval_of
    from finplan.planning.choice import Candidate, Verdict, compare_systems
    from finplan.planning.found import Checked, found_in, said_of
    from finplan.planning.heavy import anybody_else_in, flat_mass_g, least_mass_g
    from finplan.planning.job import job_of, work_of
    from finplan.planning.measures import Measures
    from finplan.planning.order import order_of
    from finplan.planning.piece import PlannedPiece, with_stages
    from finplan.planning.plan import Plan
    from finplan.planning.sample import with_samples
    from finplan.planning.several import together, unaccepted
    from finplan.planning.source import (
        Source,
        checked_piece,
        digest_of,
        missing_for_plan,
        read_source,
        read_sources,
    )
    from finplan.planning.surroundings import air_risks, around_of, cautions_of_piece, dust_of
    from finplan.planning.timing import slips_if_late, timetable_of
    from finplan.planning.used import RESTS, caution_sources, used_sources
    from finplan.planning.wet_edges import WetEdge
    from finplan.planning.wishes import (
        LEAST_SURE,
        MOST_SURE,
        WishError,
        Wishes,
        confidence_of,
        date_of,
        done_of,
        moment_of,
        named_done,
        seconds_of,
        start_of,
        steps_before,
    )
    from finplan.planning.wood import wood_risks
    from finplan.planning.workshop import Workshop, read_workshop, workshop_and_problems

_NAMES = {
    "again": ("replanned",),
    "approval": ("Approval", "approval_of"),
    "choice": ("Candidate", "Verdict", "compare_systems"),
    "found": ("Checked", "found_in", "said_of"),
    "heavy": ("anybody_else_in", "flat_mass_g", "least_mass_g"),
    "job": ("job_of", "work_of"),
    "measures": ("Measures",),
    "order": ("order_of",),
    "piece": ("PlannedPiece", "with_stages"),
    "plan": ("Plan",),
    "sample": ("with_samples",),
    "source": ("Source", "checked_piece", "digest_of", "missing_for_plan", "read_source", "read_sources"),
    "wet_edges": ("WetEdge",),
    "wood": ("wood_risks",),
    "surroundings": ("air_risks", "around_of", "cautions_of_piece", "dust_of"),
    "timing": ("slips_if_late", "timetable_of"),
    "several": ("together", "unaccepted"),
    "used": ("RESTS", "caution_sources", "used_sources"),
    "wishes": (
        "LEAST_SURE",
        "MOST_SURE",
        "WishError",
        "Wishes",
        "confidence_of",
        "date_of",
        "done_of",
        "moment_of",
        "named_done",
        "seconds_of",
        "start_of",
        "steps_before",
    ),
    "workshop": ("Workshop", "read_workshop", "workshop_and_problems"),
}
__all__ = [
    "LEAST_SURE",
    "MOST_SURE",
    "RESTS",
    "Approval",
    "Candidate",
    "Checked",
    "Measures",
    "Plan",
    "PlannedPiece",
    "Source",
    "Verdict",
    "WetEdge",
    "WishError",
    "Wishes",
    "Workshop",
    "air_risks",
    "anybody_else_in",
    "approval_of",
    "around_of",
    "caution_sources",
    "cautions_of_piece",
    "checked_piece",
    "compare_systems",
    "confidence_of",
    "date_of",
    "digest_of",
    "done_of",
    "dust_of",
    "flat_mass_g",
    "found_in",
    "job_of",
    "least_mass_g",
    "missing_for_plan",
    "moment_of",
    "named_done",
    "order_of",
    "read_source",
    "read_sources",
    "read_workshop",
    "replanned",
    "said_of",
    "seconds_of",
    "slips_if_late",
    "start_of",
    "steps_before",
    "timetable_of",
    "together",
    "unaccepted",
    "used_sources",
    "with_samples",
    "with_stages",
    "wood_risks",
    "work_of",
    "workshop_and_problems",
]

if not TYPE_CHECKING:
    __getattr__ = lazily(__name__, _NAMES)

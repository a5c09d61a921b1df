"""Plans with another timetable than was made for them, and their safety reckoned anew."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from finplan.material import Market
from finplan.planning import Plan, around_of, with_stages
from finplan.safety import background_of, precautions, safety_report
from finplan.timetable import TimetableStep


def with_steps(plan: Plan, steps: Sequence[TimetableStep]) -> Plan:
    """The plan with these rows in the place of its own."""
    timetable = replace(plan.timetable, steps=tuple(steps))
    coats = plan.materials.coats
    sanding = [piece.sanding for piece in plan.pieces]
    around = around_of(plan.pieces[0].source)
    safety = safety_report(plan.treatments, coats, sanding, timetable, around)
    day = max(row.end.date() for row in steps)
    market = Market(plan.catalogue, plan.shop.shelf, plan.units, plan.materials.confidence, day)
    cared = precautions(
        plan.treatments, timetable, safety, background_of(sanding, around), market, beside={}, helpers={}
    )
    return with_stages(plan, timetable=timetable, safety=safety, precautions=cared)

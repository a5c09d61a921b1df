"""A repair that was planned, or taken back."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from finplan.bench import Repaired
from finplan.data.row import CountFromOne, NotNegative, Share, row
from finplan.quantity import Range


@row
class RepairCostRow:
    """Before and after.

    One figure of the plan before a repair came into it, or was taken out, and after.
    """

    ready: datetime
    """When all is ready."""
    in_time: Share | None
    """How likely every date is kept; null where there is none."""
    to_buy: NotNegative
    """What all that has to be bought costs, as far as prices are known."""
    needed_ml: dict[str, NotNegative]
    """What all coats of a finish typically take, by its name. [ml]"""


@row
class RepairRow:
    """Repair.

    A coat that went wrong, mended: its steps are in the plan, and the rest was planned again.
    """

    format: Literal["finplan-repair/1"]
    """Says what this is."""
    repair: CountFromOne
    """Its number in the record."""
    taken_back: bool
    """Whether it was taken back: then its steps are in the plan no more."""
    fault: str
    """A name in the catalogue's faults."""
    coat: str
    """The id of the step that put the coat on."""
    after: str
    """The id of the step after which it is mended."""
    share: Share
    """How much of the faces is affected."""
    parts: tuple[str, ...]
    """The parts that are mended; empty for all of the item."""
    steps: tuple[str, ...]
    """The ids of what mends it, in order, as in the timetable."""
    work_h: Range
    """How long that work takes, without cleaning up. [h]"""
    plan: CountFromOne | None
    """The number of the plan that holds now."""
    before: RepairCostRow
    """The plan before."""
    now: RepairCostRow
    """The plan that holds now."""


def repair_data(told: Repaired) -> RepairRow:
    """Return a repair that was planned, or taken back."""
    entry = told.entry
    return RepairRow(
        format="finplan-repair/1",
        repair=entry.id,
        taken_back=told.taken_back,
        fault=entry.fault,
        coat=entry.coat,
        after=entry.after,
        share=entry.share,
        parts=entry.parts,
        steps=tuple(operation.id for operation in told.operations),
        work_h=Range.total(operation.hours for operation in told.operations),
        plan=told.plan.number,
        before=_cost(told, before=True),
        now=_cost(told, before=False),
    )


def _cost(told: Repaired, *, before: bool) -> RepairCostRow:
    plan = told.before if before else told.plan
    return RepairCostRow(
        ready=max(piece.ready for piece in plan.timetable.pieces),
        in_time=plan.timetable.in_time_probability,
        to_buy=plan.materials.known_cost,
        needed_ml=dict(plan.measures.needed_ml),
    )

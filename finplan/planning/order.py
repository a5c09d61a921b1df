"""What pieces of one shop need together: one order of materials for all of them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from finplan.climate import pot_lives
from finplan.figures import checked
from finplan.inputs import ShelfItem
from finplan.material import (
    DEFAULT_CONFIDENCE,
    NO_LESSONS,
    AbrasiveUse,
    Lessons,
    MaterialJob,
    MaterialPlan,
    material_plan,
)
from finplan.planning.piece import PlannedPiece
from finplan.planning.source import Source
from finplan.reading import GivenDate


def order_of(
    pieces: Sequence[PlannedPiece],
    *,
    now: datetime,
    deliver: GivenDate | None = None,
    confidence: float = DEFAULT_CONFIDENCE,
    lessons: Lessons = NO_LESSONS,
    shelf: tuple[ShelfItem, ...] | None = None,
) -> MaterialPlan:
    """Return what pieces of one shop need together.

    Parameters
    ----------
    pieces
        The pieces with what each of their items gets and how they are sanded
    now
        When a piece that names no delivery is taken to be finished: what is on the shelf has to keep until then
    deliver
        The delivery, where it is not that of the piece files
    confidence
        The probability wanted that what is bought is enough
    lessons
        What the shop has learnt of its amounts
    shelf
        What stands on the shelf, where it is not the shop file that says so
    """
    jobs = [_material_job(piece, now, deliver) for piece in pieces]
    first = pieces[0].source
    finishes = {
        step.finish for piece in pieces for treatment in piece.treatments for step in treatment.steps if step.finish
    }
    order = material_plan(
        jobs,
        first.catalogue,
        (*(first.shop.shelf if shelf is None else shelf), *_kept_abrasives(jobs, first)),
        units=first.units,
        confidence=confidence,
        pot_lives_h=pot_lives(finishes, first.catalogue, first.shop.climate),
        lessons=lessons,
    )
    return checked(order, "the materials")


def _kept_abrasives(jobs: Sequence[MaterialJob], source: Source) -> list[ShelfItem]:
    """Return what the shop has of the grades that its file says it keeps, where its shelf does not count them."""
    shop = source.shop
    if "grits" in source.shop_file.defaults:
        return []
    counted = {(item.abrasive, item.grit) for item in shop.shelf}
    used = {(use.abrasive, use.grit) for job in jobs for use in job.abrasives if use.grit in shop.grits}
    pieces = source.catalogue.sanding_rules["usual"].kept_pieces
    return [ShelfItem(abrasive=abrasive, grit=grit, left=pieces) for abrasive, grit in sorted(used - counted)]


def _material_job(piece: PlannedPiece, now: datetime, deliver: GivenDate | None) -> MaterialJob:
    sanding = piece.sanding
    due = piece.source.piece.deliver if piece.sample else deliver or piece.source.piece.deliver
    return MaterialJob(
        piece=piece.name,
        treatments=piece.treatments,
        last_grits={group.group: group.steps[-1].p_grade for group in sanding.groups if group.steps},
        abrasives=tuple(AbrasiveUse(need.abrasive, need.grit, need.needed) for need in sanding.abrasives),
        extras=piece.extras,
        sample=piece.sample,
        day=due.day if due is not None else now.astimezone(piece.source.shop.time_zone).date(),
    )

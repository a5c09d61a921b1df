"""A plan, and pieces, with what the record holds of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from finplan.ledger import Ledger, RepairEntry, newest, own_job_of, repairs_of, ticks_of
from finplan.planning import Plan, PlannedPiece, with_stages
from finplan.record.film_tested import results_of, with_results
from finplan.record.frozen import HeldOtherwiseError, thawed
from finplan.record.readable import repairs_known
from finplan.system import CoatRepair


def with_held_timetable(plan: Plan, ledger: Ledger, files: Sequence[str]) -> Plan:
    """Return a plan with the newest timetable that is held of its files, where these are as they were for it."""
    job = own_job_of(ledger, files)
    last = None if job is None else newest(ledger, job)
    if last is None or last.made.digest != plan.digest:
        return plan
    try:
        timetable = thawed(last.made, plan.shop.time_zone)
    except HeldOtherwiseError:
        return plan
    tested = results_of(ticks_of(ledger, last.job, up_to=last.made.last_tick))
    knew = repairs_of(ledger, last.job, only=repairs_known(last.made))
    pieces = with_repairs(with_results(plan.pieces, tested), knew)
    return with_stages(replace(plan, pieces=pieces), timetable=timetable)


def with_repairs(pieces: tuple[PlannedPiece, ...], repairs: Sequence[RepairEntry]) -> tuple[PlannedPiece, ...]:
    """Return pieces with what the record says is mended of their coats."""
    if not repairs:
        return pieces
    coat_repairs = tuple(
        CoatRepair(repair.id, repair.fault, repair.coat, repair.after, repair.share, repair.parts) for repair in repairs
    )
    return tuple(with_stages(replace(piece, repairs=coat_repairs), surface=piece.surface) for piece in pieces)

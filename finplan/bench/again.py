"""The rest of a job planned again, after what was ticked and what is told of the air."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

from finplan.climate import Measured
from finplan.ledger import HeldPlan, Ledger, files_of
from finplan.planning import Plan, PlannedPiece
from finplan.problems import NotPossibleError
from finplan.record import (
    Making,
    air_logged,
    air_told,
    completed,
    done_now,
    next_plan,
    plan_maker,
    read_plan,
    wet_since,
)
from finplan.timetable import Progress


def rest_planned(
    ledger: Ledger,
    last: HeldPlan,
    pieces: Sequence[PlannedPiece],
    moment: datetime,
    *,
    air: Sequence[str] = (),
    read_log: Callable[[str], str] | None = None,
    limit: str | None = None,
    learn: bool = True,
    progress: Progress | None = None,
) -> Plan:
    """Return the next plan of a job, which is held: what is ticked stays, and the rest is planned from now on.

    Parameters
    ----------
    ledger, last
        The record, and the newest plan of the job
    pieces
        All of the job
    moment
        Now
    air
        The air since the coats were on that are still to dry, as it was typed
    read_log
        Reads the file of a logger by its name; without it no file is read, whatever is typed
    limit, learn, progress
        As for ``plan_maker`` and ``next_plan``

    Raises
    ------
    NotPossibleError
        What is told of the air cannot be understood, or there is nothing to dry.
    """
    make = plan_maker(pieces, moment, limit=limit, progress=progress)
    told = _air_of_shop(air, ledger, last, make, moment, read_log)
    return next_plan(ledger, files_of(ledger, last.job), last, make, made=moment, learn=learn, told=told)


def _air_of_shop(
    typed: Sequence[str],
    ledger: Ledger,
    held: HeldPlan,
    make: Making,
    moment: datetime,
    read_log: Callable[[str], str] | None,
) -> tuple[Measured, ...]:
    plan = read_plan(ledger, held, make) if typed else None
    if plan is None:
        return ()
    now = moment.astimezone(plan.shop.time_zone)
    since = wet_since(completed(plan, done_now(ledger, held)), plan)
    logs = [text for text in typed if text.lower().endswith(".csv")]
    if not logs or read_log is None:
        return air_told(typed, now, since)
    if len(typed) > 1:
        msg = "--air: either one log or readings"
        raise NotPossibleError(msg)
    return air_logged(logs[0], read_log(logs[0]), now, since)

"""A plan that was kept, held against the rules once more."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from finplan.scheduling import Scheduled, broken_rules
from finplan.timetable.job import Job
from finplan.timetable.operation import all_operations
from finplan.timetable.owed import goes_on
from finplan.timetable.problem import ProblemMaker, Window
from finplan.timetable.setting import Setting
from finplan.timetable.timetable import TimetableStep
from finplan.timetable.waits import Waits


def broken_by(job: Job, rows: Sequence[TimetableStep]) -> list[str]:
    """Return which rules of the shop a plan breaks that was made before, in words; nothing where it keeps them all.

    Parameters
    ----------
    job
        What it was made for
    rows
        Its rows

    Notes
    -----
    By the checker that every new plan passes too (``scheduling.broken_rules``), on the clock: it knows nothing of how a
    plan was made. Whether the date is kept is no rule, since a plan may have been the least late one.
    """
    setting = Setting(job)
    operations = {operation.id: operation for piece in job.pieces for operation in all_operations(piece.open)}
    attended = sorted((row for row in rows if row.kind == "attended"), key=lambda row: row.id)
    schedule: dict[str, Scheduled] = {}
    for name, stretches in groupby(attended, key=lambda row: row.id):
        steps = sorted(stretches, key=lambda row: row.start.timestamp())
        if name not in operations:
            return [f"{name} is no step of this job"]
        who = setting.who(operations[name])
        if steps[0].person not in who:
            return [f"{name} is done by {steps[0].person}, who cannot"]
        start, end = setting.slot_up_to(steps[0].start), setting.slot_from(steps[-1].end)
        schedule[name] = Scheduled(start=start, end=end, mode=who.index(steps[0].person))
    there = setting.lifted(setting.first)
    starts = {name: scheduled.start for name, scheduled in schedule.items()}
    every = [operation for piece in job.pieces for operation in piece.open]
    in_use = [
        operation
        for piece in job.pieces
        for operation in piece.owed
        if operation.id not in schedule and there is not None and goes_on(operation, every, starts, there)
    ]
    lacking = [operation.id for operation in every if operation.id not in schedule and operation not in in_use]
    if lacking:
        return [f"{lacking[0]} is still to be done and is not in it"]
    job = job.without_owed(in_use)
    if there is not None:  # what may still be wet from before is there from the first moment of work on
        schedule |= {coat.id: Scheduled(start=there, end=there, mode=0) for _, coat in setting.coats_before}
    last = max((scheduled.end for scheduled in schedule.values()), default=setting.first)
    windows = {piece.key: Window(setting.first, max(last, setting.first + 1)) for piece in job.pieces}
    waits = Waits(setting, job.ready_for)
    placement = ProblemMaker(job.pieces, setting, windows, waits, turns=False).placement()
    return broken_rules(placement.problem, schedule)

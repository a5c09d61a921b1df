"""Plans that are searched for: all at once in one model, or a piece at a time."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from finplan.scheduling import (
    EarliestFinish,
    EarliestStarts,
    Fewest,
    LargestSlack,
    LatestStarts,
    Objective,
    Result,
    ResultStatus,
    Schedule,
    solve,
)
from finplan.timetable.alike import in_turns, turns_of
from finplan.timetable.at_once import AtOnce
from finplan.timetable.construct.plans import Maker
from finplan.timetable.dates import Dates
from finplan.timetable.found import Found
from finplan.timetable.gap import Gap
from finplan.timetable.problem import NOTHING_FIXED, Placement, Window
from finplan.timetable.timetable import Buffer
from finplan.timetable.windows import Windows

_EFFORT, _SHARE = 2.0, 1 / 8
"""Of the solver for all searches of a job, in its own units of time; and what of the rest each objective may take.

Most take next to nothing, being proven: a share of what is left is enough for these, and bounds what all take together
of a job in which nothing is.
"""
_LEAST_EFFORT = 0.1
"""So much each objective may take, whatever is left: a plan is found with less of it, if hardly a better one."""
_LEAST_LATE_EFFORT = 0.3
"""Of the solver for the plan that is least late: it only says by how much a date is missed."""
_LARGEST_MODEL = 40_000
"""Constraints. A model of pieces that lie weeks apart has more; the plan that was made at once is then the answer."""


class Search:
    """Searches for better plans than those that are made at once, for as long as ``left_s`` says that time is left."""

    def __init__(
        self, dates: Dates, windows: Windows, at_once: AtOnce, maker: Maker, left_s: Callable[[], float]
    ) -> None:
        self.undecided = False
        """Whether it was ever left open that there is no plan where none was found."""
        self._dates, self._windows, self._at_once, self._maker = dates, windows, at_once, maker
        self._job, self._setting = dates.job, dates.setting
        self._gap = Gap(dates, maker)
        self._left_s = left_s
        slots = {
            operation.id: self._setting.slots_of(operation) for piece in self._job.pieces for operation in piece.open
        }
        self._turns = [turns for piece in self._job.pieces for turns in turns_of(piece, slots)]
        self._effort_left = _EFFORT

    def solved(
        self,
        windows: Mapping[str, Window],
        buffer: Buffer,
        objectives: Sequence[Objective],
        *,
        made: Found | None = None,
        settled: Found | None = None,
        confirm: bool = True,
        tidy: bool = True,
        effort: float = math.inf,
    ) -> Found | None:
        """Return the best plan within windows, from one that is known on; None where none is found in the time.

        Of one that is *settled* all stays that is over before what waits for something still to come can begin.
        """
        if made is not None and self._left_s() <= 0:
            return None
        fixed = NOTHING_FIXED if settled is None else self._windows.over_before(in_turns(settled.schedule, self._turns))
        placement = self._windows.placement(windows, fixed=fixed)
        wanted = [*([Fewest(placement.again)] if placement.again else []), *objectives]
        if tidy:
            wanted += [Fewest(placement.clean_ups), EarliestStarts()]
        result = solve(
            placement.problem,
            wanted,
            limit_s=max(self._left_s(), 0.5),
            effort=min(effort, max(_LEAST_EFFORT, _SHARE * self._effort_left)),
            largest=_LARGEST_MODEL,
            workers=1,
            hint=None if made is None else in_turns(made.schedule, self._turns),
            confirm=confirm and made is None,
        )
        self._effort_left -= result.effort
        if result.status == "unknown" and made is None:
            self.undecided = True
        if not result.schedule:
            return None
        unhelped = self._windows.placement(windows, turns=False)
        if self._at_once.breaks(unhelped, result.schedule):
            return None
        return Found(result, unhelped if fixed else placement, buffer, windows)

    def late_wishes(self, placement: Placement) -> list[Objective]:
        """Return what is wanted of a plan before its dates: to start late, and where there is no date, to end early."""
        chains = zip(self._job.pieces, placement.chains, strict=True)
        dated = tuple(chain for piece, chain in chains if piece.deliver is not None and chain)
        undated = tuple(
            finish for piece in self._job.pieces if piece.deliver is None for finish in placement.finishes[piece.key]
        )
        return [*([LatestStarts(dated)] if dated else []), *([EarliestFinish(undated)] if undated else [])]

    def against_bound(self, made: Found, *, late: bool, together: bool = False) -> Found:
        """Return a plan with how good it is, against what each piece could have alone, or all of them *together*."""
        early = self._gap.early
        stages = self._gap.late(made, together=together) if late else [early(made, self._job.pieces, together=together)]
        status: ResultStatus = "optimal" if all(stage.proven for stage in stages) else "feasible"
        cut_short = self._left_s() <= 0
        return replace(made, result=Result(status, made.schedule, tuple(stages), cut_short=cut_short))

    def in_time(self, made: Found, due: Mapping[str, int], last: int, buffer: Buffer) -> Found | None:
        """Return a plan that is not late at all, where one that is known is; None where none is found."""
        if not self._windows.may_keep_dates():
            return None
        within = {piece.key: Window(self._setting.first, last) for piece in self._job.pieces}
        within |= {key: Window(self._setting.first, at, at) for key, at in due.items()}
        return self.solved(within, buffer, [], settled=made, tidy=False, confirm=False, effort=_LEAST_LATE_EFFORT)

    def least_late(self, made: Found, due: Mapping[str, int], last: int, buffer: Buffer) -> Found:
        """Return the plan whose latest piece is as little late as can be, from one on that is known.

        First one is looked for that is not late at all: within its dates less is left open, and it is found far sooner.
        """
        before = self.undecided
        found = self.in_time(made, due, last, buffer)
        if found is not None:
            return found
        self.undecided = before  # by what is searched next
        windows = {piece.key: Window(self._setting.first, last) for piece in self._job.pieces}
        placement = self._windows.placement(windows)
        finishes = tuple(
            replace(finish, due=due.get(piece.key))
            for piece in self._job.pieces
            for finish in placement.finishes[piece.key]
        )
        slack = [LargestSlack(finishes, 0)]
        found = (
            self.solved(windows, buffer, slack, made=made, settled=made, tidy=False, effort=_LEAST_LATE_EFFORT) or made
        )
        self.undecided = (
            self.undecided
            or found is made
            or not all(stage.proven for stage in found.result.stages if isinstance(stage.objective, LargestSlack))
        )
        return found

    def improved(self, made: Found, *, late: bool) -> Found:
        """Return a plan at least as good, a few pieces taken out and put back at a time."""
        dates = {key: window.due for key, window in made.windows.items() if window.due is not None}
        due = dates if late else {}
        latest = {key: self._windows.latest(key, at) for key, at in due.items()}
        soonest = {piece.key: self._maker.soonest(piece.key) for piece in self._job.pieces if piece.key not in due}

        known = self._maker.extras(made.schedule)[0]

        def losses(plan: Schedule) -> dict[str, int]:
            ready = self._maker.ready(plan)
            if late:
                begun = self._maker.begun(plan)
                return {key: latest[key] - begun[key] if key in due else at - soonest[key] for key, at in ready.items()}
            last = max(ready.values(), default=0)
            return {key: int(at == last) for key, at in ready.items()}

        def score(plan: Schedule) -> tuple[float, ...]:
            if late:
                again, *others = self._at_once.late_score(plan)
                return max(again, known), *others  # less abrading again is worth no earlier start
            ready = self._maker.ready(plan)
            too_late = sum(ready.get(key, 0) > at for key, at in dates.items())
            return too_late, *self._at_once.early_score(plan)

        plan = self._maker.renewed(made.schedule, score, losses, due)
        if late:
            plan = self._at_once.moved_up(plan, due)
        return self._at_once.made(plan, dates, made.buffer) or made

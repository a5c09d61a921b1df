"""From a job to a plan: as late as is safe, or as early as can be.

A plan is made at once by placing one operation after another. What is not too much for one model is then searched for
the best there is, from that plan on; what is, is made better a piece at a time. How long each search goes on is counted
in the solver's own steps, so that every machine gets the same plan; the clock is only a net beyond that.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace

from finplan.scheduling import (
    EarliestFinish,
    EarliestStarts,
    Fewest,
    Finish,
    LargestSlack,
    LatestStarts,
    Objective,
    Result,
    Scheduled,
    Stage,
    Status,
    solve,
    start_bounds,
)
from finplan.timetable.buffer import WorkingTime, working_day_h
from finplan.timetable.construct.place import NoRoomError, TimeIsUpError
from finplan.timetable.construct.plans import Maker, Plan
from finplan.timetable.found import Found, broken, finished
from finplan.timetable.improve import Wanted, improved
from finplan.timetable.job import Job, PieceWork
from finplan.timetable.operation import all_operations
from finplan.timetable.problem import Placement, ProblemMaker, Window
from finplan.timetable.setting import Setting
from finplan.timetable.stages import stage_time
from finplan.timetable.timetable import Buffer
from finplan.timetable.waits import Waits

_NET_S, _NET_S_A_PIECE = 240.0, 30.0
"""Where nothing else is asked the clock ends a search after so long: and so much longer for each piece. [s]"""
WEEKS = (4, 8, 22)
"""How many weeks are looked at, one after the other: a short window is solved far faster. The last is all there is."""
_ONE_MODEL_UP_TO = 70
"""So many operations are looked at all together."""
_EFFORT = 1.0
"""Of the solver for each objective of one model, in its own units of time."""
_LARGEST_MODEL = 40_000
"""Constraints. A model of pieces that lie weeks apart has more; the plan that was made at once is then the answer."""
_LEAST_LATE_EFFORT = 0.3
"""Of the solver for the plan that is least late: it only says by how much a date is missed."""
_MOVES = 24
"""So often a piece moves while all others stay, for all plans of a job together: half of what is left for each."""
_NARROW_DAYS = 2
"""So many working days, beside what all the work takes, the shortest window begins before the latest start."""
Progress = Callable[[str], None]
Bounds = Mapping[str, tuple[int, int]]
NO_BUFFER = Buffer(0.0, working=False)


class Planner:
    """Plans the pieces of a job, again and again under other wishes, in one setting."""

    def __init__(self, job: Job, *, limit_s: float | None = None, progress: Progress | None = None) -> None:
        self.job = job
        limit_s = _NET_S + _NET_S_A_PIECE * len(job.pieces) if limit_s is None else limit_s
        self.setting = Setting(job)
        self.working = WorkingTime(self.setting)
        self.waits = Waits(self.setting, job.ready_for)
        self._deadline = time.monotonic() + limit_s
        self.maker = Maker(job.pieces, self.setting, self.waits, lambda: self.left_s)
        self.faults: list[str] = []
        """What a solver got wrong, each in a line; its plan is then not taken."""
        self.undecided = False
        """Whether it was ever left open that there is no plan where none was found."""
        self.stuck = ""
        """What finds no room in all the time that is looked at, where there is no plan whatever the dates."""
        self._progress = progress
        self._moves_left = _MOVES
        self._least: dict[tuple[float, bool, tuple[tuple[str, float], ...]], Found | None] = {}
        self._bounds: dict[tuple[tuple[str, Window], ...], Bounds | None] = {}
        self._small = sum(len(piece.open) for piece in job.pieces) <= _ONE_MODEL_UP_TO

    @property
    def left_s(self) -> float:
        """What is left of the time: the net beyond the counted effort. [s]"""
        return self._deadline - time.monotonic()

    # --- dates ------------------------------------------------------------------------------------------------------

    def due(self, piece: PieceWork) -> int | None:
        """Return the slot by which a piece has to be ready."""
        moment = self.job.delivery(piece)
        return None if moment is None else self.setting.slot_up_to(moment)

    def due_with(self, piece: PieceWork, buffer: Buffer) -> int | None:
        """Return the slot by which a piece has to be ready with so much to spare."""
        due = self.due(piece)
        if due is None:
            return None
        due -= math.ceil(buffer.sooner_h.get(piece.key, 0.0) * 60 / self.setting.slot_min)
        slots = round(buffer.wanted_h * 60 / self.setting.slot_min)
        return self.working.back(due, slots) if buffer.working else due - slots

    def _dues(self, buffer: Buffer) -> dict[str, int]:
        dues = {piece.key: self.due_with(piece, buffer) for piece in self.job.pieces}
        return {key: due for key, due in dues.items() if due is not None}

    def ready_slot(self, piece: PieceWork, found: Found) -> int:
        """Return when a piece is ready: what is still to be done, and the coats that have been put on already."""
        return self._ready(piece, found.placement.finishes[piece.key], found.schedule)

    def _ready(self, piece: PieceWork, finishes: Sequence[Finish], schedule: Plan) -> int:
        still = [finished(finish, schedule) for finish in finishes]
        return max([*still, *self._done_slots(piece)], default=self.setting.first)

    def _done_slots(self, piece: PieceWork) -> Iterator[int]:
        for operation in piece.operations:
            if operation.id in piece.done:
                end = self.setting.slot_from(piece.done[operation.id])
                fit = None
                if operation.finish is not None:
                    finish = self.setting.catalogue.finishes[operation.finish]
                    fit = self.setting.dry_slot(operation, end, stage_time(finish, self.job.ready_for))
                yield end if fit is None else fit

    def start_slot(self, piece: PieceWork, schedule: Mapping[str, Scheduled]) -> int:
        """Return when the work on a piece begins."""
        names = (one.id for one in all_operations(piece.open))
        return min((schedule[name].start for name in names if name in schedule), default=self.setting.first)

    # --- plans ------------------------------------------------------------------------------------------------------

    def late(self, buffer: Buffer, *, tidy: bool = True) -> Found | None:
        """Return the plan that starts as late as leaves a buffer; None where none is found.

        Without *tidy* only the start is right, and nothing is done to share clean-ups.
        """
        made = self.made_late(buffer) or self._in_time(buffer)
        if made is None or not self._small:
            return None if made is None else self._better(made, late=True, tidy=tidy)
        for windows, last in self._late_windows(made, buffer):
            self._tell("looking back from the delivery")
            wishes = self._late_wishes(self.placement(windows))
            found = self.solved(windows, buffer, wishes, made=made, confirm=last, tidy=tidy)
            if found is not None:
                return found
        return self._better(made, late=True, tidy=tidy)

    def made_late(self, buffer: Buffer) -> Found | None:
        """Return the plan that is made at once for ``late``; None where it finds no room, which proves nothing."""
        due = self._dues(buffer)
        try:
            plan = self.maker.late(self._late_score, due)
        except NoRoomError:
            return None
        return self._made(self._moved_up(plan, due), due, buffer)

    def _moved_up(self, plan: Plan, due: Mapping[str, int]) -> Plan:
        """Return a plan with everything as early as can be that begins no piece sooner."""
        try:
            moved = self.maker.moved_up(plan)
        except (NoRoomError, TimeIsUpError):
            return plan
        ready = self.maker.ready(moved)
        in_time = all(ready.get(key, 0) <= at for key, at in due.items())
        better = moved if in_time and self._late_score(moved) <= self._late_score(plan) else plan
        return self.maker.workmanlike(better)

    def _moved_back(self, plan: Plan, due: Mapping[str, int]) -> Plan:
        """Return a plan with everything that has a date as late as can be, where it is a better one for that."""
        try:
            moved = self.maker.moved_back(plan, due)
        except (NoRoomError, TimeIsUpError):
            return plan
        return moved if self._late_score(moved) <= self._late_score(plan) else plan

    def _late_score(self, plan: Plan) -> tuple[float, ...]:
        """Return how good a plan for ``late`` is: little abrading again, late starts, then early ends."""
        again, cleaned = self.maker.extras(plan)
        begun, ready = self.maker.begun(plan), self.maker.ready(plan)
        dated = {piece.key for piece in self.job.pieces if piece.deliver is not None}
        starts = sum(self.working.up_to(start) for key, start in begun.items() if key in dated)
        return again, -starts, max((at for key, at in ready.items() if key not in dated), default=0), cleaned

    def _late_windows(self, made: Found, buffer: Buffer) -> Iterator[tuple[dict[str, Window], bool]]:
        """Give the windows in which the best plan may lie, and whether they are the last.

        With a plan at hand no piece is begun sooner than it lets: by as much as all others could be begun later.
        """
        pieces = self.job.pieces
        if self.maker.extras(made.schedule)[0]:
            yield from self.windows_before_due(pieces, buffer)
            return
        due = self._dues(buffer)
        last = max([self.setting.first, *self.maker.ready(made.schedule).values()])
        widest = {one.key: Window(self.setting.first, due.get(one.key, last), due.get(one.key)) for one in pieces}
        begun = self.maker.begun(made.schedule)
        dated = [one for one in pieces if one.key in due and one.open]
        latest = {one.key: self._latest(one.key, due[one.key]) for one in dated}
        lost = sum(self.working.up_to(latest[one.key]) - self.working.up_to(begun[one.key]) for one in dated)
        for one in dated:
            first = max(self.setting.first, self.working.back(latest[one.key], lost))
            widest[one.key] = replace(widest[one.key], first=first)
        yield widest, True

    def safest(self, enough: Buffer | None) -> Found | None:
        """Return the plan with the largest smallest buffer, up to *enough*, that starts as late as keeps it.

        What is ready as early as can be leaves some buffer: with less no piece is looked for.
        """
        self._tell("looking for the largest buffer")
        buffer = enough or Buffer(0.0, working=self.job.shop.buffer_h is None)
        slots = None if enough is None else round(enough.wanted_h * 60 / self.setting.slot_min)
        early = self.early(dated=True, tidy=False)
        if early is None:
            return None
        left = [self._left_over(piece, early, working=buffer.working) for piece in self.job.pieces]
        least = min(one for one in [*left, slots] if one is not None)
        kept = Buffer(least * self.setting.slot_min / 60, working=buffer.working)
        if not self._small:
            late = self.late(kept)
            return replace(early if late is None else late, buffer=buffer)
        windows: dict[str, Window] = {}
        for piece in self.job.pieces:
            last = self.due_with(piece, kept)
            if last is None:
                last = max(self.ready_slot(piece, early), self.setting.first + self.slots(WEEKS[0]))
            windows[piece.key] = Window(self.setting.first, last, self.due(piece))
        placement = self.placement(windows)
        finishes = tuple(
            self._measured(finish, piece, working=buffer.working)
            for piece in self.job.pieces
            for finish in placement.finishes[piece.key]
        )
        objectives = [LargestSlack(finishes, slots), *self._late_wishes(placement)]
        return self.solved(windows, buffer, objectives, made=early) or early

    def _left_over(self, piece: PieceWork, found: Found, *, working: bool) -> int | None:
        """Return how many slots a plan leaves before the delivery of a piece, all or those in which somebody works."""
        due, ready = self.due(piece), self.ready_slot(piece, found)
        if due is None:
            return None
        return self.working.up_to(due) - self.working.up_to(ready) if working else due - ready

    def early(self, *, dated: bool = False, tidy: bool = True) -> Found | None:
        """Return the plan that is ready as early as can be; *dated*: with every date kept; *tidy*: as for ``late``."""
        made = self.made_early(dated=dated) or (self._in_time(NO_BUFFER) if dated else None)
        if made is None or not self._small:
            return None if made is None else self._better(made, late=False, tidy=tidy)
        windows = self._early_windows(made, dated=dated)
        finishes = tuple(finish for found in self.placement(windows).finishes.values() for finish in found)
        found = self.solved(windows, NO_BUFFER, [EarliestFinish(finishes)], made=made, tidy=tidy)
        return found or self._better(made, late=False, tidy=tidy)

    def made_early(self, *, dated: bool) -> Found | None:
        """Return the plan that is made at once for ``early``; None where it keeps not every date, or finds no room."""
        due = self._dues(NO_BUFFER) if dated else {}

        def late(plan: Plan) -> int:
            ready = self.maker.ready(plan)
            return sum(max(0, ready.get(key, 0) - at) for key, at in due.items())

        try:
            plan = self.maker.early(lambda one: (late(one), *self._early_score(one)), {}, due)
        except NoRoomError:
            return None
        return None if late(plan) else self._made(self.maker.workmanlike(plan), due, NO_BUFFER)

    def _early_score(self, plan: Plan) -> tuple[float, ...]:
        """Return how good a plan for ``early`` is: little abrading again, ready early, then few clean-ups."""
        again, cleaned = self.maker.extras(plan)
        ready = self.maker.ready(plan)
        return again, max(ready.values(), default=0), cleaned, sum(ready.values())

    def least_late(self, buffer: Buffer = NO_BUFFER) -> Found | None:
        """Return the plan whose latest piece is as little late as can be for its date with a buffer."""
        key = (buffer.wanted_h, buffer.working, tuple(sorted(buffer.sooner_h.items())))
        if key not in self._least:
            self._least[key] = self._found_least_late(buffer)
        return self._least[key]

    def _found_least_late(self, buffer: Buffer) -> Found | None:
        due = self._dues(buffer)
        try:
            plan = self.maker.early(lambda one: (self._lateness(one, due), *self.maker.extras(one)), {}, due)
        except NoRoomError as error:
            self.stuck = str(error)
            return None
        made = self._made(plan, {}, buffer)
        if made is not None and self._lateness(plan, due) == 0:
            return made
        if not self._small or made is None:
            self.undecided = True
            return made
        last = max([*self.maker.ready(plan).values(), *(at + self._lateness(plan, due) for at in due.values())])
        last = min(last, self.setting.slots - 1)
        windows = {piece.key: Window(self.setting.first, last) for piece in self.job.pieces}
        placement = self.placement(windows)
        finishes = tuple(
            replace(finish, due=due.get(piece.key))
            for piece in self.job.pieces
            for finish in placement.finishes[piece.key]
        )
        slack = [LargestSlack(finishes, 0)]
        found = self.solved(windows, buffer, slack, made=made, tidy=False, effort=_LEAST_LATE_EFFORT) or made
        self.undecided = (
            self.undecided
            or found is made
            or not all(stage.proven for stage in found.result.stages if isinstance(stage.objective, LargestSlack))
        )
        return found

    def _lateness(self, plan: Plan, due: Mapping[str, int]) -> int:
        """Return by how much the latest piece is late; 0 where none is. [slots]"""
        ready = self.maker.ready(plan)
        return max([0, *(ready.get(key, 0) - at for key, at in due.items())])

    def may_keep_dates(self) -> bool:
        """Return whether waits alone leave room for every date, each piece begun at once."""
        due = self._dues(NO_BUFFER)
        first, last = self.setting.first, self.setting.slots - 1
        if any(at <= first for at in due.values()):
            return False
        windows = {key: Window(first, at, at) for key, at in due.items()}
        windows |= {one.key: Window(first, last) for one in self.job.pieces if one.key not in due}
        return self.bounds(windows) is not None

    def searched_in_time(self) -> Found | None:
        """Return a plan that keeps every date, searched for where none was made at once; None where none is found."""
        return self._in_time(NO_BUFFER)

    def _in_time(self, buffer: Buffer) -> Found | None:
        """Return a plan that keeps every date with a buffer, where none was made at once; None where none is found."""
        due = self._dues(buffer)
        least = self.least_late(buffer)
        if least is None or self._lateness(least.schedule, due) > 0:
            return None
        return self._made(self._moved_up(self._moved_back(least.schedule, due), due), due, buffer)

    def _early_windows(self, made: Found, *, dated: bool) -> dict[str, Window]:
        """Return the windows in which the best plan lies: up to when one that is known is ready."""
        first = self.setting.first
        last = max([first + 1, *self.maker.ready(made.schedule).values()])
        windows: dict[str, Window] = {}
        for piece in self.job.pieces:
            due = self.due(piece) if dated else None
            windows[piece.key] = Window(first, last if due is None else min(last, due), due)
        return windows

    def _late_wishes(self, placement: Placement) -> list[Objective]:
        """Return what is wanted of a plan before its dates: to start late, and where there is no date, to end early."""
        chains = zip(self.job.pieces, placement.chains, strict=True)
        dated = tuple(chain for piece, chain in chains if piece.deliver is not None and chain)
        undated = tuple(
            finish for piece in self.job.pieces if piece.deliver is None for finish in placement.finishes[piece.key]
        )
        return [*([LatestStarts(dated)] if dated else []), *([EarliestFinish(undated)] if undated else [])]

    def _measured(self, finish: Finish, piece: PieceWork, *, working: bool) -> Finish:
        """Return a finish with its due date, both in working slots where that is how buffers are measured."""
        due = self.due(piece)
        if due is None or not working:
            return replace(finish, due=due)
        count = self.working.up_to

        def counted(end: int) -> int | None:
            moment = end if finish.rule is None else finish.rule(end)
            return None if moment is None else count(moment)

        return Finish(finish.activity, counted, count(due))

    # --- windows ----------------------------------------------------------------------------------------------------

    def slots(self, weeks: int) -> int:
        """Return how many slots so many weeks are, of those that are looked at."""
        return min(weeks * 7 * 24 * 60 // self.setting.slot_min, self.setting.slots - self.setting.first - 1)

    def windows_before_due(
        self, pieces: Sequence[PieceWork], buffer: Buffer, *, narrow: bool = True
    ) -> Iterator[tuple[dict[str, Window], bool]]:
        """Give windows that reach ever further back from the delivery, and whether they are the widest there are.

        Left out are those in which waits alone leave no room.
        """
        setting = self.setting
        for weeks in WEEKS:
            windows: dict[str, Window] = {}
            for piece in pieces:
                due = self.due(piece)
                last = setting.first + self.slots(weeks) if due is None else due
                first = max(setting.first, last - self.slots(weeks))
                windows[piece.key] = Window(first, last, self.due_with(piece, buffer))
            if any(window.last <= window.first for window in windows.values()):
                return
            bounds = self.bounds(windows)
            widest = all(window.first == setting.first for window in windows.values())
            if bounds is not None:
                if narrow:
                    yield self._narrowed(pieces, windows, bounds), False
                yield windows, widest
            if widest:
                return

    def bounds(self, windows: Mapping[str, Window]) -> Bounds | None:
        """Return between which slots everything starts in these windows, as ``start_bounds`` does.

        The same windows are looked at for the plan, for the length of the shortest and for the latest start.
        """
        key = tuple(windows.items())
        if key not in self._bounds:
            self._bounds[key] = start_bounds(self.placement(windows, turns=False).problem)
        return self._bounds[key]

    def _narrowed(
        self, pieces: Sequence[PieceWork], windows: Mapping[str, Window], bounds: Bounds
    ) -> dict[str, Window]:
        """Return windows that begin before the latest start alone by what all the work takes, and a little.

        What has no date is ready as early as can be: it keeps its window.
        """
        work = sum(self.setting.slots_of(one) for piece in self.job.pieces for one in piece.open)
        days = round(_NARROW_DAYS * working_day_h(self.job.shop) * 60 / self.setting.slot_min)
        narrow: dict[str, Window] = {}
        for piece in pieces:
            window = windows[piece.key]
            if piece.deliver is None:
                narrow[piece.key] = window
                continue
            latest = min((bounds[name][1] for name in _names(piece)), default=window.last)
            first = max(window.first, self.working.back(latest, work + days))
            narrow[piece.key] = replace(window, first=first)
        return narrow

    def placement(self, windows: Mapping[str, Window], *, turns: bool = True) -> Placement:
        """Return the problem of the pieces that have a window; *turns*: with what only helps a search."""
        pieces = [piece for piece in self.job.pieces if piece.key in windows]
        return ProblemMaker(pieces, self.setting, windows, self.waits, turns=turns).placement()

    def _tell(self, words: str) -> None:
        if self._progress is not None:
            self._progress(words)

    # --- finding them -----------------------------------------------------------------------------------------------

    def _made(self, plan: Plan, due: Mapping[str, int], buffer: Buffer) -> Found | None:
        """Return a plan that was made at once as one that was found; None where it breaks a rule after all."""
        if any(at < 0 for at in due.values()):
            return None  # a date that has passed, which no plan keeps, not even one without any work
        begun, ready = self.maker.begun(plan), self.maker.ready(plan)
        windows = {
            one.key: Window(
                begun.get(one.key, self.setting.first),
                due.get(one.key, ready.get(one.key, self.setting.first + 1)),
                due.get(one.key),
            )
            for one in self.job.pieces
        }
        placement = self.placement(windows, turns=False)
        if self._breaks(placement, plan):
            return None
        return Found(Result("feasible", plan), placement, buffer, windows)

    def _breaks(self, placement: Placement, plan: Plan) -> bool:
        """Hold a plan against every rule, on the clock: what breaks one is not given."""
        faults = broken(placement, plan)
        if faults:
            self.faults.append(f"A plan that was found was not taken, since it breaks a rule: {faults[0]}.")
        return bool(faults)

    def _better(self, made: Found, *, late: bool, tidy: bool) -> Found:
        """Return a plan that was made at once, made better; against what each piece could have alone."""
        found = self._improved(made, late=late) if tidy and not self._small else made
        stages = self._late_stages(found) if late else [self._early_stage(found, self.job.pieces)]
        status: Status = "optimal" if all(stage.proven for stage in stages) else "feasible"
        cut_short = self.left_s <= 0
        return replace(found, result=Result(status, found.schedule, tuple(stages), cut_short=cut_short))

    def _improved(self, made: Found, *, late: bool) -> Found:
        """Return a plan at least as good, a piece moved at a time."""
        self._tell("making it better a piece at a time")
        windows = {key: replace(window, first=self.setting.first) for key, window in made.windows.items()}
        placement = self.placement(windows, turns=False)
        due = self._dues(made.buffer)

        def loss(plan: Plan) -> dict[str, int]:
            begun, ready = self.maker.begun(plan), self.maker.ready(plan)
            if late:
                return {key: self._latest(key, due[key]) - at for key, at in begun.items() if key in due}
            last = max(ready.values())
            return {key: 1 for key, at in ready.items() if at == last}

        score = self._late_score if late else self._early_score
        most = math.ceil(self._moves_left / 2)
        self._moves_left -= most
        wanted = Wanted(score, late, loss, most, lambda: self.left_s)
        plan = improved(made.schedule, placement, self.job.pieces, wanted)
        if late:
            plan = self._moved_up(plan, due)
        return self._made(plan, due, made.buffer) or made

    def _latest(self, key: str, due: int) -> int:
        """Return the latest start of a piece by its waits alone."""
        latest = self.maker.latest(key, due)
        return self.setting.first if latest is None else latest

    def _late_stages(self, made: Found) -> list[Stage]:
        """Return how late the pieces with a date are begun, and how early the others are ready."""
        due = self._dues(made.buffer)
        begun = self.maker.begun(made.schedule)
        dated = [piece for piece in self.job.pieces if piece.key in due and piece.open]
        others = [piece for piece in self.job.pieces if piece.key not in due]
        value = sum(self.working.up_to(begun[piece.key]) for piece in dated)
        bound = sum(self.working.up_to(max(begun[one.key], self._latest(one.key, due[one.key]))) for one in dated)
        stages = [Stage(LatestStarts(()), value, bound)] if dated else []
        return [*stages, *([self._early_stage(made, others)] if others else [])]

    def _early_stage(self, made: Found, pieces: Sequence[PieceWork]) -> Stage:
        """Return how early pieces are ready, against each of them alone in the shop."""
        ready = self.maker.ready(made.schedule)
        value = bound = self.setting.first
        for piece in (one for one in pieces if one.open):
            value, bound = max(value, ready[piece.key]), max(bound, self.maker.soonest(piece.key))
        return Stage(EarliestFinish(()), value, bound)

    def solved(
        self,
        windows: Mapping[str, Window],
        buffer: Buffer,
        objectives: Sequence[Objective],
        *,
        made: Found | None = None,
        confirm: bool = True,
        tidy: bool = True,
        effort: float = _EFFORT,
    ) -> Found | None:
        """Return the best plan within windows, from one that is known on; None where none is found in the time."""
        if made is not None and self.left_s <= 0:
            return None
        placement = self.placement(windows)
        wanted = [*([Fewest(placement.again)] if placement.again else []), *objectives]
        if tidy:
            wanted += [Fewest(placement.clean_ups), EarliestStarts()]
        result = solve(
            placement.problem,
            wanted,
            limit_s=max(self.left_s, 0.5),
            effort=effort,
            largest=_LARGEST_MODEL,
            workers=1,
            hint=None if made is None else made.schedule,
            confirm=confirm and made is None,
        )
        if result.status == "unknown" and made is None:
            self.undecided = True
        if not result.schedule:
            return None
        if self._breaks(self.placement(windows, turns=False), result.schedule):
            return None
        return Found(result, placement, buffer, windows)


def _names(piece: PieceWork) -> list[str]:
    """Return what has to be done to a piece whatever is chosen."""
    return [one.id for one in piece.open]

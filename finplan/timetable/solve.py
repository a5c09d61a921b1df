"""From a job to a timetable: as late as is safe, or as early as can be."""

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
    solve,
    start_bounds,
)
from finplan.timetable.buffer import WorkingTime, working_day_h
from finplan.timetable.found import Found, NotFoundYetError, check, finished
from finplan.timetable.job import Job, PieceWork
from finplan.timetable.operation import all_operations
from finplan.timetable.problem import Placement, ProblemMaker, Window
from finplan.timetable.rolling import Placed, rolled
from finplan.timetable.setting import Setting
from finplan.timetable.stages import stage_time
from finplan.timetable.timetable import Buffer

_LIMIT_S, _LIMIT_S_A_PIECE = 25.0, 5.0
"""For how long a plan is looked for where nothing else is asked: and so much longer for each piece. [s]"""
WEEKS = (4, 8, 22)
"""How many weeks are looked at, one after the other: a short window is solved far faster. The last is all there is."""
_SHARE = 0.25
"""So much of what is left of the time a window may take that is not the widest."""
_CHUNK, _CHUNK_AT_MOST = 1, 3
"""Of several pieces so many are placed together, round those that are placed already; and where they find no room."""
_ONE_MODEL_UP_TO = 150
"""So many operations are then looked at once more all together."""
_NARROW_DAYS = 2
"""So many working days, beside what all the work takes, the shortest window begins before the latest start."""
_IMPROVE_S, _CHUNK_S = 5.0, 8.0
"""For how long at most: all together, once there is a plan; and each chunk. [s]"""
Progress = Callable[[str], None]
Bounds = Mapping[str, tuple[int, int]]


class Planner:
    """Plans the pieces of a job, again and again under other wishes, in one setting."""

    def __init__(self, job: Job, *, limit_s: float | None = None, progress: Progress | None = None) -> None:
        self.job = job
        limit_s = _LIMIT_S + _LIMIT_S_A_PIECE * len(job.pieces) if limit_s is None else limit_s
        self.setting = Setting(job)
        self.working = WorkingTime(self.setting)
        self._deadline = time.monotonic() + limit_s
        self._progress = progress
        self._bounds: dict[tuple[tuple[str, Window], ...], Bounds | None] = {}

    @property
    def _left_s(self) -> float:
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
        slots = round(buffer.wanted_h * 60 / self.setting.slot_min)
        return self.working.back(due, slots) if buffer.working else due - slots

    def ready_slot(self, piece: PieceWork, found: Found) -> int:
        """Return when a piece is ready: what is still to be done, and the coats that have been put on already."""
        still = [finished(finish, found.schedule) for finish in found.placement.finishes[piece.key]]
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
        """Return the plan that starts as late as leaves a buffer; None where there is none.

        Of several pieces a good plan is found piece by piece first; what is not too many together is then improved.
        Without *tidy* only the start is right, and nothing is done to share clean-ups.
        """
        pieces = self.job.pieces
        if len(pieces) == 1 or any(piece.deliver is None for piece in pieces):
            return self._late_of(pieces, buffer, tidy=tidy)
        found = self._rolled(buffer)
        if found is None:
            return self._late_of(pieces, buffer)
        if sum(len(piece.open) for piece in pieces) > _ONE_MODEL_UP_TO:
            return found
        return self._improved(found)

    def _late_of(
        self,
        pieces: Sequence[PieceWork],
        buffer: Buffer,
        placed: Placed = (),
        *,
        confirm: bool = True,
        limit_s: float | None = None,
        tidy: bool = True,
    ) -> Found | None:
        undecided: NotFoundYetError | None = None
        for windows, last in self.windows_before_due(pieces, buffer):
            self._tell(f"looking back from the delivery: {', '.join(piece.piece for piece in pieces)}")
            placement = self.placement(windows, placed)
            wishes = self._late_wishes(pieces, placement)
            share_s = limit_s if last else min(limit_s or math.inf, self._left_s * _SHARE)
            try:
                found = self.solved(placement, buffer, wishes, confirm=confirm and last, limit_s=share_s, tidy=tidy)
            except NotFoundYetError as error:
                undecided = error
                continue
            if found is not None:
                return found
        if undecided is not None:
            raise undecided
        return None

    def _rolled(self, buffer: Buffer) -> Found | None:
        """Return a good plan of several pieces, a few placed at a time; None where that way leads to none."""
        pieces = self.job.pieces

        def place(chunk: Sequence[PieceWork], placed: Placed) -> Mapping[str, Scheduled] | None:
            if len(chunk) > _CHUNK_AT_MOST:
                return None
            try:
                found = self._late_of(chunk, buffer, placed, confirm=False, limit_s=_CHUNK_S)
            except NotFoundYetError:
                return None
            if found is None:
                return None
            return {name: one for name, one in found.schedule.items() if not _of_any(name, placed)}

        schedule = rolled(pieces, lambda piece: self.due(piece) or 0, place, _CHUNK)
        if schedule is None:
            return None
        windows = {
            piece.key: Window(self.start_slot(piece, schedule), self.due(piece) or 0, self.due_with(piece, buffer))
            for piece in pieces
        }
        reach = {
            key: replace(one, first=min(one.first, one.last - self.slots(WEEKS[0]))) for key, one in windows.items()
        }
        reach = {key: replace(one, first=max(one.first, self.setting.first)) for key, one in reach.items()}
        # Coats of any number may have shared a clean-up here.
        check(self.placement(reach, all_together=True), schedule)
        placement = self.placement(reach)
        stage = self._late_stage(placement, schedule)
        return Found(Result("optimal" if stage.proven else "feasible", schedule, (stage,)), placement, buffer)

    def _late_stage(self, placement: Placement, schedule: Mapping[str, Scheduled]) -> Stage:
        """Return how late a plan starts, against every piece starting as late as its waits alone would let it."""
        bounds = start_bounds(placement.problem) or {}
        value = bound = 0
        for chain in filter(None, placement.chains):
            value += self.working.up_to(min(schedule[name].start for name in chain))
            bound += self.working.up_to(min(bounds[name][1] for name in chain))
        return Stage(LatestStarts(placement.chains), value, bound)

    def _improved(self, found: Found) -> Found:
        """Return a plan of all pieces at least as good, looked for from one that is known."""
        self._tell("looking at all pieces together")
        wishes = self._late_wishes(self.job.pieces, found.placement)
        try:
            better = self.solved(found.placement, found.buffer, wishes, hint=found.schedule, limit_s=_IMPROVE_S)
        except NotFoundYetError:
            return found
        return found if better is None or not better.result.stages else self._later_of(found, better)

    def _later_of(self, one: Found, other: Found) -> Found:
        starts = [
            sum(self.working.up_to(self.start_slot(piece, found.schedule)) for piece in self.job.pieces)
            for found in (one, other)
        ]
        return one if starts[0] > starts[1] else other

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
        objectives = [LargestSlack(finishes, slots), *self._late_wishes(self.job.pieces, placement)]
        return self.solved(placement, buffer, objectives, hint=early.schedule)

    def _left_over(self, piece: PieceWork, found: Found, *, working: bool) -> int | None:
        """Return how many slots a plan leaves before the delivery of a piece, all or those in which somebody works."""
        due, ready = self.due(piece), self.ready_slot(piece, found)
        if due is None:
            return None
        return self.working.up_to(due) - self.working.up_to(ready) if working else due - ready

    def early(self, *, dated: bool = False, tidy: bool = True) -> Found | None:
        """Return the plan that is ready as early as can be; *dated*: with every date kept; *tidy*: as for ``late``."""
        for weeks in (WEEKS[0] // 2, *WEEKS):
            last = self.setting.first + self.slots(weeks)
            windows = {}
            for piece in self.job.pieces:
                due = self.due(piece) if dated else None
                windows[piece.key] = Window(self.setting.first, last if due is None else min(last, due), due)
            if any(window.last <= window.first for window in windows.values()):
                return None
            placement = self.placement(windows)
            finishes = tuple(finish for found in placement.finishes.values() for finish in found)
            found = self.solved(placement, Buffer(0.0, working=False), [EarliestFinish(finishes)], tidy=tidy)
            if found is not None:
                return found
        return None

    def _late_wishes(self, pieces: Sequence[PieceWork], placement: Placement) -> list[Objective]:
        """Return what is wanted of a plan before its dates: to start late, and where there is no date, to end early."""
        chains = zip(pieces, placement.chains, strict=True)
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
            self._bounds[key] = start_bounds(self.placement(windows).problem)
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
            latest = min((bounds[one.id][1] for one in piece.open), default=window.last)
            first = max(window.first, self.working.back(latest, work + days))
            narrow[piece.key] = replace(window, first=first)
        return narrow

    def placement(self, windows: Mapping[str, Window], placed: Placed = (), *, all_together: bool = False) -> Placement:
        """Return the problem of the pieces that have a window, round those that are placed already."""
        pieces = [piece for piece in self.job.pieces if piece.key in windows]
        maker = ProblemMaker(pieces, self.setting, windows, self.job.ready_for, placed, all_together=all_together)
        return maker.placement()

    def _tell(self, words: str) -> None:
        if self._progress is not None:
            self._progress(words)

    def solved(
        self,
        placement: Placement,
        buffer: Buffer,
        objectives: Sequence[Objective],
        *,
        hint: Mapping[str, Scheduled] | None = None,
        confirm: bool = True,
        limit_s: float | None = None,
        tidy: bool = True,
    ) -> Found | None:
        """Return the best plan; None where there is none.

        Raises
        ------
        NotFoundYetError
            The time was too short to find one, or to prove that there is none.
        """
        wanted = [*([Fewest(placement.again)] if placement.again else []), *objectives]
        if tidy:
            wanted += [Fewest(placement.clean_ups), EarliestStarts()]
        left_s = max(self._left_s, 0.5)
        result = solve(
            placement.problem,
            wanted,
            limit_s=left_s if limit_s is None else min(limit_s, left_s),
            workers=1,
            hint=hint,
            confirm=confirm,
        )
        if result.status == "unknown":
            msg = "no plan was found in the time given; that does not mean that there is none: allow more with --limit"
            raise NotFoundYetError(msg)
        if result.status == "impossible":
            return None
        check(placement, result.schedule)
        return Found(result, placement, buffer)


def _of_any(name: str, placed: Placed) -> bool:
    return any(name.startswith(piece.key) for piece, _ in placed)

"""Plans made at once, by several rules of what comes first: the best of them is taken."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from itertools import islice

from finplan.scheduling import Schedule
from finplan.timetable.construct.alone import latest_begun, latest_times, soonest_ready
from finplan.timetable.construct.bench import Bench
from finplan.timetable.construct.last_hand import with_last_hand
from finplan.timetable.construct.network import Network, Task
from finplan.timetable.construct.place import NoRoomError, Rank, TimeIsUpError, place_early, place_late, too_hard
from finplan.timetable.construct.reorder import reordered
from finplan.timetable.construct.taken_out import Putting, renewed
from finplan.timetable.construct.together import latest_sum
from finplan.timetable.construct.workmanlike import awkward_min, kinds_of_work
from finplan.timetable.job import PieceWork
from finplan.timetable.setting import Setting
from finplan.timetable.waits import Waits

_FEW = 3
"""Of fewer pieces no other order is tried."""
_PLACED = 20_000
"""So many tasks are placed to try orders of the pieces, for all plans together: half of what is left for each."""
_HURRIED = 6
"""So often what came too late is moved up."""
_RENEWED = 40_000
"""So many tasks are placed to take pieces out of plans and put them back, for all plans together: half of what is left
for each."""
_SHIFTED = 8_000
"""So many tasks are placed to move all of a plan back and up again, of the best plan that is ready early first."""
Score = Callable[[Schedule], tuple[float, ...]]
"""How good a plan is: the lower, the better; the first number counts most."""


class Maker:
    """Makes plans of pieces in one setting, for as long as ``left_s`` says that something is left of the time."""

    def __init__(
        self, pieces: Sequence[PieceWork], setting: Setting, waits: Waits, left_s: Callable[[], float]
    ) -> None:
        self.network = Network(pieces, setting, waits)
        self._pieces = [piece.key for piece in pieces]
        self._setting, self._left_s = setting, left_s
        self._names = {key: [task.name for task in self.network.of_piece(key)] for key in self._pieces}
        self._number = {name: number for number, name in enumerate(self.network.tasks)}
        self._patience = 0 if not setting.spans else 60 // setting.slot_min
        self._placed_left, self._renewed_left = _PLACED, _RENEWED
        self._order: Sequence[str] | None = None
        """The best order in which pieces were placed."""
        self._empty, self._bare = Bench(self.network, setting), Bench(None, setting)

    # --- early ------------------------------------------------------------------------------------------------------

    def early(self, score: Score, first: Mapping[str, int], due: Mapping[str, int]) -> Schedule:
        """Return the best plan in which everything is done as early as can be.

        Parameters
        ----------
        score
            How good a plan is
        first
            By piece key: no work on it begins before. [slot]
        due
            By piece key: by when it should be ready, where there is a date. [slot]

        Raises
        ------
        NoRoomError
            Of a task that has none in the time that is looked at.
        TimeIsUpError
            Before any plan was made to its end.
        """
        plans: list[Schedule] = []
        error: NoRoomError | None = None
        for rank in self._ranks(due):
            try:
                plan = self._early(self._empty.copy(), self._number, rank, first)
                plans.append(plan)
                plans.append(self._early(self._empty.copy(), self._number, by_start(plan), first))
            except NoRoomError as no_room:
                error = error or no_room
            except TimeIsUpError:
                if not plans:
                    raise
                return min(plans, key=score)
        if error is not None and not plans:
            raise error
        best = min(plans, key=score)
        plans += self._hurried(best, first, due)
        left = _SHIFTED // (2 * len(self.network.tasks) + 1)
        for plan in sorted(plans, key=score):
            shifted = list(islice(self._shifted(plan, score, first, due), left))
            plans += shifted
            left -= len(shifted) + 1
            if left <= 0:
                break
        return min(plans, key=score)

    def _shifted(
        self, plan: Schedule, score: Score, first: Mapping[str, int], due: Mapping[str, int]
    ) -> Iterator[Schedule]:
        """Give plans with everything moved back before the end, and up again, while each is better than the last.

        Moved back, what others wait for for long comes before what could as well be done later, and so it is moved up
        in a better order (Valls, Ballestín and Quintanilla, "Justification and RCPSP", 2005, from memory).
        """
        while True:
            ready = self.ready(plan)
            last = max(ready.values(), default=0)
            back = {key: min(last, max(at, due.get(key, last))) for key, at in ready.items()}
            try:
                shifted = self._early(self._empty.copy(), self._number, by_start(self.moved_back(plan, back)), first)
            except (NoRoomError, TimeIsUpError):
                return
            if score(shifted) >= score(plan):
                return
            plan = shifted
            yield plan

    def _hurried(self, plan: Schedule, first: Mapping[str, int], due: Mapping[str, int]) -> Iterator[Schedule]:
        """Give plans in which each piece that came too late is taken for due so much sooner, until none does.

        Whatever is late again is moved up again, so that it comes before more and more of the rest.
        """
        for rank in (0, 1, -1):
            moved, tried = dict(due), plan
            for _ in range(_HURRIED):
                ready = self.ready(tried)
                late = {key: ready[key] - at for key, at in due.items() if key in ready and ready[key] > at}
                if not late:
                    return
                moved |= {key: moved[key] - by for key, by in late.items()}
                try:
                    tried = self._early(self._empty.copy(), self._number, self._ranks(moved)[rank], first)
                except NoRoomError:
                    break
                except TimeIsUpError:
                    return
                yield tried

    def _ranks(self, due: Mapping[str, int]) -> list[Rank]:
        """Return rules of what comes first: what ends last, what can begin, items, and pieces one after another.

        With a small rack little else than items leads on: what lies there is taken further first.
        """
        ends = self._last_ends(due)
        tasks = self.network.tasks
        first_end: dict[tuple[str, str], int] = {}
        for name, end in ends.items():
            item = (tasks[name].piece, tasks[name].operation.item)
            first_end[item] = min(first_end.get(item, end), end)
        by_item = {name: first_end[tasks[name].piece, tasks[name].operation.item] for name in ends}
        ranks: list[Rank] = [
            lambda name, _: (ends[name], self._number[name]),
            lambda name, _: (by_item[name], self._number[name]),
            lambda name, start: (start, ends[name], self._number[name]),
        ]
        if not due:
            return ranks
        return [*ranks, lambda name, _: (due.get(tasks[name].piece, self._setting.slots), self._number[name])]

    def _early(self, bench: Bench, names: Iterable[str], rank: Rank, first: Mapping[str, int]) -> Schedule:
        place_early(bench, self.network, names, rank, first, self._patience, self._left_s)
        return self._needed(bench)

    def _last_ends(self, due: Mapping[str, int]) -> dict[str, int]:
        """Return when every task ends at the latest where nothing else is done, for its date or far from now."""
        far = max([self._setting.slots - 1, *due.values()])
        found: dict[str, int] = {}
        for key in self._pieces:
            for task in reversed(self.network.of_piece(key)):
                ends = [self._ends_before(self.network.tasks[name], task, found) for name in task.before]
                found[task.name] = min(ends, default=due.get(key, far) - self._dries(task))
        return found

    def _dries(self, task: Task) -> int:
        if task.fit is None:
            return 0
        start = max(self._setting.first, task.earliest)
        moment = task.fit(start)
        return 0 if moment is None else moment - start

    def _ends_before(self, after: Task, task: Task, ends: Mapping[str, int]) -> int:
        """Return when a task ends for another to be done in time, by how long it would wait if it were done now."""
        start = max(self._setting.first, task.earliest)
        moments = [start if rule is None else rule(start) for name, rule in after.waits if name == task.name]
        waited = max((moment - start for moment in moments if moment is not None), default=0)
        return ends[after.name] - after.slots - waited

    def _needed(self, bench: Bench) -> Schedule:
        """Return what was placed without the abrading that turned out not to be needed."""
        plan = dict(bench.plan)
        for task in self.network.tasks.values():
            if task.again is not None and task.again.name in plan and not too_hard(bench, task, plan[task.name].start):
                del plan[task.again.name]
        return plan

    # --- late -------------------------------------------------------------------------------------------------------

    def late(self, score: Score, due: Mapping[str, int]) -> Schedule:
        """Return the best plan in which every piece with a date is begun as late as can be, the others ended early.

        Parameters
        ----------
        score
            How good a plan is
        due
            By piece key: by when it has to be fit for the customer, where there is a date. [slot]

        Raises
        ------
        NoRoomError
            Of a task that has none before its date.
        TimeIsUpError
            Before any plan was made to its end.
        """
        dated = sorted((key for key in self._pieces if key in due), key=lambda key: -due[key])
        found: list[Schedule] = []
        error: NoRoomError | None = None
        for groups in ([[key] for key in dated], [dated]):
            try:
                found.append(self._late(groups, due))
            except NoRoomError as no_room:
                error = no_room
            except TimeIsUpError:
                if not found:
                    raise
        if not found and error is not None:
            raise error
        best = min(found, key=score)
        return best if len(dated) < _FEW else self._reordered(dated, best, score, due)

    def _reordered(self, order: Sequence[str], plan: Schedule, score: Score, due: Mapping[str, int]) -> Schedule:
        """Return a plan in which pieces are placed in a better order, and remember that order for another time.

        Nothing more is abraded again than in the plan that is known; that less is, is worth no later start.
        """
        known = score(plan)[0]

        def start_score(found: Schedule) -> tuple[float, ...]:
            again, *others = score(found)
            return max(again, known), *others

        def place(keys: Sequence[str]) -> Schedule | None:
            try:
                return self._late([[key] for key in keys], due)
            except (NoRoomError, TimeIsUpError):
                return None

        def losses(found: Schedule) -> dict[str, int]:
            begun = self.begun(found)
            return {key: latest[key] - begun[key] for key in order if key in begun}

        latest = {key: self.latest(key, due[key]) or 0 for key in order}
        tries = self._placed_left // (2 * len(self.network.tasks))
        self._placed_left -= tries * len(self.network.tasks)
        start = self._order if self._order is not None and set(self._order) == set(order) else order
        again = place(start)
        if again is not None and start_score(again) <= start_score(plan):
            plan = again
        self._order, plan = reordered(start, plan, place, losses, start_score, tries)
        return plan

    def _late(self, groups: Sequence[Sequence[str]], due: Mapping[str, int]) -> Schedule:
        bench = self._empty
        for group in groups:
            names = [name for key in group for name in self._names[key]]
            bench = place_late(bench, self.network, names, self._latest_first, due, self._patience, self._left_s)
        undated = [name for key in self._pieces if key not in due for name in self._names[key]]
        ends = self._last_ends({})
        rank: Rank = lambda name, start: (ends[name], self._number[name])  # noqa: E731
        bench = bench.copy()
        place_early(bench, self.network, undated, rank, {}, self._patience, self._left_s)
        return self._needed(bench)

    def moved_back(self, plan: Schedule, due: Mapping[str, int]) -> Schedule:
        """Return a plan with everything of the pieces with a date as late as can be, in the order of another plan.

        Raises
        ------
        NoRoomError, TimeIsUpError
            As for ``late``.
        """
        names = [name for key in due for name in self._names[key]]
        bench = self._empty.copy()
        undated = [name for key in self._pieces if key not in due for name in self._names[key]]
        place_early(bench, self.network, undated, by_start(plan), {}, self._patience, self._left_s)
        rank: Rank = lambda name, _: (-plan[name].end, -plan[name].start, -self._number[name])  # noqa: E731
        return self._needed(place_late(bench, self.network, names, rank, due, self._patience, self._left_s))

    # --- better -----------------------------------------------------------------------------------------------------

    def renewed(
        self, plan: Schedule, score: Score, losses: Callable[[Schedule], Mapping[str, int]], due: Mapping[str, int]
    ) -> Schedule:
        """Return a plan that scores at least as well, a few pieces put back at a time (``taken_out``).

        Parameters
        ----------
        plan
            A plan that keeps every rule
        score
            How good a plan is
        losses
            By piece key, by how much it could be better alone: of pieces with a date by a later start, else an
            earlier end. Pieces that are not in *due* are put back as early as can be, all others as late.
        due
            By piece key: by when it has to be fit for the customer, where it is put back as late as can be. [slot]
        """

        def back(bench: Bench, keys: Sequence[str]) -> Schedule | None:
            try:
                for key in keys:
                    bench = self._put_back(bench, key, due)
            except (NoRoomError, TimeIsUpError):
                return None
            return self._needed(bench)

        work = math.ceil(self._renewed_left / 2)
        self._renewed_left -= work
        return renewed(plan, self.network, self._setting, Putting(score, losses, back), work)

    def _put_back(self, bench: Bench, key: str, due: Mapping[str, int]) -> Bench:
        names = self._names[key]
        if key in due:
            return place_late(bench, self.network, names, self._latest_first, due, self._patience, self._left_s)
        place_early(bench, self.network, names, self._file_order, {}, self._patience, self._left_s)
        return bench

    def _file_order(self, name: str, _: int) -> tuple[int, ...]:
        return (self._number[name],)

    def _latest_first(self, name: str, last: int) -> tuple[int, ...]:
        return (-last, -self._number[name])

    # --- what a plan comes to ---------------------------------------------------------------------------------------

    def begun(self, plan: Schedule) -> dict[str, int]:
        """Return when the work on every piece begins in a plan, by its key. [slot]"""
        found: dict[str, int] = {}
        for task in self.network.tasks.values():
            again = None if task.again is None else plan.get(task.again.name)
            start = plan[task.name].start if again is None else min(again.start, plan[task.name].start)
            found[task.piece] = min(found.get(task.piece, start), start)
        return found

    def ready(self, plan: Schedule) -> dict[str, int]:
        """Return when what is still to be done to every piece is fit for the customer, by its key. [slot]"""
        found: dict[str, int] = {}
        for task in self.network.tasks.values():
            end = plan[task.name].end
            moment = end if task.fit is None else task.fit(end)
            found[task.piece] = max(found.get(task.piece, 0), self._setting.slots if moment is None else moment)
        return found

    def latest(self, key: str, due: int) -> int | None:
        """Return a slot after which no plan begins a piece that is due then; None where none can."""
        return latest_begun(self._bare, self.network, self._setting, key, due)

    def latest_sum(self, due: Mapping[str, int], value: Callable[[int], int]) -> int:
        """Return what the starts of pieces that are due then come to at most, together; *value*: what one is worth."""
        starts: dict[str, Mapping[str, int]] = {}
        alone: dict[str, int] = {}
        for key, at in due.items():
            found = latest_times(self._bare, self.network, key, at)
            latest = self.latest(key, at)
            alone[key] = self._setting.first if latest is None else latest
            if found is not None:
                starts[key] = found[0]
        return latest_sum(self.network, self._setting, starts, alone, value)

    def soonest(self, key: str) -> int:
        """Return a slot before which no plan readies a piece."""
        return soonest_ready(self._bare, self.network, key)

    def extras(self, plan: Schedule) -> tuple[int, int]:
        """Return how often a plan abrades again, and how often it cleans up."""
        tasks = self.network.tasks.values()
        again = sum(task.again is not None and task.again.name in plan for task in tasks)
        return again, sum(task.clean_up is not None and task.clean_up.name in plan for task in tasks)

    def moved_up(self, plan: Schedule) -> Schedule:
        """Return a plan with everything as early as can be that begins no piece sooner."""
        return self._early(self._empty.copy(), self._number, by_start(plan), self.begun(plan))

    def workmanlike(self, plan: Schedule) -> Schedule:
        """Return a plan that is no more awkward, begins no piece sooner, readies none later and abrades none more.

        Tried are those in which what goes on with the same tools is done in a row, within a day or half a day.
        """
        day = 24 * 60 // self._setting.slot_min
        kind = kinds_of_work(self.network)
        begun = self.begun(plan)
        awkward = awkward_min(plan, self.network, self._setting)
        for within in (day, day // 2):
            rank = _in_a_row(plan, kind, within)
            try:
                tried = self._early(self._empty.copy(), self._number, rank, begun)
            except (NoRoomError, TimeIsUpError):
                continue
            found = awkward_min(tried, self.network, self._setting)
            if found < awkward and self._as_good(tried, plan):
                plan, awkward = tried, found
        return plan

    def with_last_hand(self, plan: Schedule, *, still: Collection[str], coats: bool) -> Schedule:
        """Return a plan that is no more awkward, with single tasks moved; arguments as for ``last_hand``."""
        found = with_last_hand(plan, self.network, self._setting, coats=False, still=still)
        return with_last_hand(found, self.network, self._setting, coats=True, still=still) if coats else found

    def _as_good(self, plan: Schedule, other: Schedule) -> bool:
        """Return whether a plan readies no piece later than another, begins none sooner, and abrades no more."""
        ready, begun = self.ready(other), self.begun(other)
        return (
            self.extras(plan)[0] <= self.extras(other)[0]
            and all(moment <= ready[key] for key, moment in self.ready(plan).items())
            and all(start >= begun[key] for key, start in self.begun(plan).items())
        )


def _in_a_row(plan: Schedule, kind: Mapping[str, int], within: int) -> Rank:
    """Return the order of a plan with what is of one kind in a row, within so many slots."""
    return lambda name, _: (plan[name].start // within, kind[name], plan[name].start)


def by_start(plan: Schedule) -> Rank:
    """Return the order in which tasks are begun in a plan."""
    return lambda name, _: (plan[name].start, plan[name].end)

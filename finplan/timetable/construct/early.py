"""Plans made at once in which all is ready as early as can be: forwards in many orders, the best of them is taken."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import islice

from finplan.scheduling import Schedule, Scheduled
from finplan.timetable.construct.items_out import items_out
from finplan.timetable.construct.laid_out import LAID_OUT_WHILE_ONE_IS_PLACED, LaidOut
from finplan.timetable.construct.place import NoRoomError, Rank, TimeIsUpError, place_early
from finplan.timetable.construct.placer import Placer, by_start
from finplan.timetable.job import PieceWork
from finplan.timetable.setting import Setting
from finplan.timetable.waits import Waits

_HURRIED = 6
"""So often what came too late is moved up."""
_HURRIED_TASKS = 5_000
"""So many tasks are placed for that in each order: of very many it is moved up less often, but twice."""
_DRAWN = 40_000
"""So many tasks are placed to try orders that are drawn at random for plans that are ready early, likewise."""
_ASKED = 4
"""So many times as many where such a plan is what the maker asks for."""
_WORTH = 20
"""Of what is only told beside it none is drawn where fewer orders than that could be tried."""
_ANEW = 4
"""Of so many orders one is drawn anew; in the others only a few tasks are moved."""
_WHOLE = 10
"""Of so many draws one is of a whole order; in the others some items are taken out and put back."""
_SHIFTED = 8_000
"""So many tasks are placed to move all of a plan back and up again, of the best plan that is ready early first."""
_SHIFTS = 32
"""Of so many plans it is kept what they come to, moved back and up again."""
Score = Callable[[Schedule], tuple[float, ...]]
"""How good a plan is: the lower, the better; the first number counts most."""


class EarlyMaker(Placer):
    """Makes plans that are ready early, for as long as ``left_s`` says that something is left of the time."""

    def __init__(
        self, pieces: Sequence[PieceWork], setting: Setting, waits: Waits, left_s: Callable[[], float]
    ) -> None:
        super().__init__(pieces, setting, waits, left_s)
        self._drawn_left = _DRAWN
        self.shifted_at_most = _SHIFTED
        self._shifts: dict[tuple[object, ...], Schedule | None] = {}
        """What the last few plans come to moved back and up again."""
        self._laid: list[LaidOut] = []
        """The plan out of which items were taken last, and what it came to when these were put back."""

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
        along: dict[frozenset[tuple[str, Scheduled]], Schedule] = {}
        for rank in self._ranks(due):
            try:
                plan = self._early(self._empty.copy(), self._number, rank, first)
                plans.append(plan)
                told = frozenset(plan.items())  # of a small job most of them are the same
                if told not in along:
                    along[told] = self._early(self._empty.copy(), self._number, by_start(plan), first)
                plans.append(along[told])
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
        left = self.shifted_at_most // (2 * len(self.network.tasks) + 1)
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
            shifted = self._back_and_up(plan, first, due)
            if shifted is None or score(shifted) >= score(plan):
                return
            plan = shifted
            yield plan

    def _back_and_up(self, plan: Schedule, first: Mapping[str, int], due: Mapping[str, int]) -> Schedule | None:
        """Return a plan with everything moved back before the end, and up again; None where it finds no room or time.

        Of one plan that is worked out once: where there is little to do most orders come to the same.
        """
        told = frozenset(plan.items()), frozenset(first.items()), frozenset(due.items())
        if told not in self._shifts:
            ready = self.ready(plan)
            last = max(ready.values(), default=0)
            back = {key: min(last, max(at, due.get(key, last))) for key, at in ready.items()}
            shifted: Schedule | None = None
            try:
                shifted = self._early(self._empty.copy(), self._number, by_start(self.moved_back(plan, back)), first)
            except NoRoomError:
                pass
            except TimeIsUpError:
                return None
            if len(self._shifts) >= _SHIFTS:
                self._shifts.pop(next(iter(self._shifts)))
            self._shifts[told] = shifted
        return self._shifts[told]

    def drawn_early(self, plan: Schedule, score: Score, due: Mapping[str, int], *, asked: bool) -> Schedule:
        """Return a plan that scores at least as well, of orders drawn at random, for as long as one could be.

        Parameters
        ----------
        plan
            A plan that keeps every rule
        score
            How good a plan is
        due
            By piece key: by when it should be ready, where there is a date. [slot]
        asked
            Whether it is what the maker asks for, and not only told beside it: more orders are tried then
        """
        count = len(self.network.tasks)
        if not count:
            return plan
        work = math.ceil(self._drawn_left / 2)
        self._drawn_left -= work
        if not asked and work < _WORTH * count:
            return plan
        work *= _ASKED if asked else 1
        soonest = max(map(self.soonest, self._pieces))
        turn, best = 0, score(plan)
        while work >= 3 * count and max(self.ready(plan).values()) > soonest:
            whole = turn % _WHOLE == 0
            try:
                if whole:
                    tried, placed = self._drawn_plan(turn // _WHOLE, plan, due), count
                else:
                    tried, placed = self._items_moved(plan)
                work -= placed
                if tried is not None and (whole or score(tried) < best):
                    tried = next(self._shifted(tried, score, {}, due), tried)
                    work -= 2 * count
            except TimeIsUpError:
                break
            turn += 1
            if tried is not None and score(tried) <= best:
                plan, best = tried, score(tried)
        return plan

    def _items_moved(self, plan: Schedule) -> tuple[Schedule | None, int]:
        """Return a plan with some items taken out and put back as early as can be around all others; None for no room.

        And how many tasks were placed, or laid out ten times as often. Every other time they are put back near the
        order in which they were, else in any.
        """
        laid = next((known for known in self._laid if known.plan == plan), None)
        laid = laid or LaidOut(self.network, self._setting, plan)
        tasks = self.network.tasks
        fit = {name: self._fit(task, plan) for name, task in tasks.items()}
        ready = max(fit.values())
        last = self._moves.one([task for name, task in tasks.items() if fit[name] == ready])
        out = items_out(self.network, plan, (last.piece, last.operation.item), self._moves)
        again = [task.again for task in out if task.again is not None and task.again.name in plan]
        bench, until = laid.without_tasks([*out, *again])
        self._laid = [laid, bench]
        order = self._moves.drawn(out, ready - min(plan[name].start for name in tasks))
        if self._moves.one((True, False)):
            order = {name: by + plan[name].start for name, by in order.items()}
        rank: Rank = lambda name, _: (round(order[name]), self._number[name])  # noqa: E731
        placed = len(out) + len(tasks) // LAID_OUT_WHILE_ONE_IS_PLACED
        if not bench.is_sound():
            return None, placed
        try:
            place_early(bench, self.network, order, rank, {}, self._patience, self._left_s)
        except NoRoomError:
            return None, placed
        kept = all(bench.plan[name].start <= at for name, at in until.items())
        return self._needed(bench) if kept else None, placed

    def _drawn_plan(self, turn: int, plan: Schedule, due: Mapping[str, int]) -> Schedule | None:
        """Return a plan of an order drawn at random; None where it has no room.

        Three of four are in the order of the plan so far with a few items or tasks moved in it. Every fourth is drawn
        anew.
        """
        if turn % _ANEW > 0:
            ready = max(self.ready(plan).values())
            rank = self._few_moved(plan, ready - min(scheduled.start for scheduled in plan.values()))
        else:
            ends = self._last_ends(due)
            rank = self._rank_of_turn(turn // _ANEW, plan, ends, max(ends.values()) - min(ends.values()))
        try:
            return self._early(self._empty.copy(), self._number, rank, {})
        except NoRoomError:
            return None

    def _rank_of_turn(self, turn: int, plan: Schedule, ends: Mapping[str, int], length: int) -> Rank:
        """Return an order drawn near that of what ends last, near that of a plan, or a plan's up to some moment."""
        if turn // 2 % 3 == 0:
            return self._drawn_order(ends, length)
        if turn // 2 % 3 == 1:
            return self._drawn_order({name: plan[name].start for name in ends}, length)
        return self._drawn_after(plan, ends, length)

    def _hurried(self, plan: Schedule, first: Mapping[str, int], due: Mapping[str, int]) -> Iterator[Schedule]:
        """Give plans in which each piece that came too late is taken for due so much sooner, until none does.

        Whatever is late again is moved up again, so that it comes before more and more of the rest.
        """
        tries = max(2, min(_HURRIED, _HURRIED_TASKS // max(1, len(self.network.tasks))))
        for rank in (0, 1, -1):
            moved, tried = dict(due), plan
            for _ in range(tries):
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

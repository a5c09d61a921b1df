"""Plans made at once in which all is ready as early as can be: forwards in many orders, the best of them is taken."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import islice

from finplan.scheduling import Schedule, Scheduled
from finplan.timetable.construct.place import NoRoomError, Rank, TimeIsUpError
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
_ASKED = 2
"""So many times as many where such a plan is what the maker asks for."""
_ANEW = 4
"""Of so many orders one is drawn anew; in the others only a few tasks are moved."""
_NEAR = 1.05
"""What is ready so much later than the best is moved back and up again, in which it may become better."""
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
        work *= _ASKED if asked else 1
        soonest = max(map(self.soonest, self._pieces))
        turn = 0
        while work >= 3 * count and max(self.ready(plan).values()) > soonest:
            try:
                tried, placed = self._drawn_plan(turn, plan, score, due)
            except TimeIsUpError:
                break
            turn += 1
            work -= placed
            if tried is not None and score(tried) <= score(plan):
                plan = tried
        return plan

    def _drawn_plan(
        self, turn: int, plan: Schedule, score: Score, due: Mapping[str, int]
    ) -> tuple[Schedule | None, int]:
        """Return a plan of an order drawn at random, and how many tasks were placed; None where one has no room.

        Three of four are in the order of the plan so far with a few items or tasks moved in it. Every fourth is drawn
        anew. What comes out well is moved back and up again.
        """
        count, ready = len(self.network.tasks), max(self.ready(plan).values())
        few = turn % _ANEW > 0
        if few:
            rank = self._few_moved(plan, ready - min(scheduled.start for scheduled in plan.values()))
        else:
            ends = self._last_ends(due)
            rank = self._rank_of_turn(turn // _ANEW, plan, ends, max(ends.values()) - min(ends.values()))
        try:
            tried = self._early(self._empty.copy(), self._number, rank, {})
            near = max(self.ready(tried).values()) <= _NEAR * ready
            if few and turn % _ANEW > 1:
                near = score(tried) <= score(plan)
            return (next(self._shifted(tried, score, {}, due), tried), 3 * count) if near else (tried, count)
        except NoRoomError:
            return None, count

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

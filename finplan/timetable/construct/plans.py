"""Plans made at once, by several rules of what comes first: the best of them is taken."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from itertools import islice

from finplan.scheduling import Schedule, Scheduled
from finplan.timetable.construct.bench import Bench
from finplan.timetable.construct.ejected import InTime, all_in_time
from finplan.timetable.construct.laid_out import LaidOut
from finplan.timetable.construct.last_hand import with_last_hand
from finplan.timetable.construct.place import NoRoomError, Rank, TimeIsUpError
from finplan.timetable.construct.placer import Placer, Trail, by_start, in_a_row
from finplan.timetable.construct.reorder import by_share, reordered
from finplan.timetable.construct.taken_out import Putting, renewed
from finplan.timetable.construct.workmanlike import awkward_min, kinds_of_work
from finplan.timetable.job import PieceWork
from finplan.timetable.setting import Setting
from finplan.timetable.waits import Waits

_FEW = 3
"""Of fewer pieces no other order is tried."""
_PLACED = 60_000
"""So many tasks are placed to try orders of the pieces, for all plans together: half of what is left for each."""
_HURRIED = 6
"""So often what came too late is moved up."""
_RENEWED = 40_000
"""So many tasks are placed to take pieces out of plans and put them back, for all plans together: half of what is left
for each."""
_EJECTED = 60_000
"""So many tasks are placed to put what is too late where it is in time, likewise."""
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


class Maker(Placer):
    """Makes plans of pieces in one setting, for as long as ``left_s`` says that something is left of the time."""

    def __init__(
        self, pieces: Sequence[PieceWork], setting: Setting, waits: Waits, left_s: Callable[[], float]
    ) -> None:
        super().__init__(pieces, setting, waits, left_s)
        self._placed_left, self._renewed_left = _PLACED, _RENEWED
        self._ejected_left, self._drawn_left = _EJECTED, _DRAWN
        self._order: Sequence[str] | None = None
        """The best order in which pieces were placed."""
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
        plans: list[Schedule] = []
        error: NoRoomError | None = None
        for groups in ([[key] for key in dated], [dated]):
            try:
                plans.append(self._late(groups, due))
            except NoRoomError as no_room:
                error = no_room
            except TimeIsUpError:
                if not plans:
                    raise
        if not plans and error is not None:
            raise error
        best = min(plans, key=score)
        return best if len(dated) < _FEW else self._reordered(dated, best, score, due)

    def _reordered(self, order: Sequence[str], plan: Schedule, score: Score, due: Mapping[str, int]) -> Schedule:
        """Return a plan in which pieces are placed in a better order, and remember that order for another time.

        Nothing more is abraded again than in the plan that is known; that less is, is worth no later start.
        """
        known = score(plan)[0]

        def start_score(schedule: Schedule) -> tuple[float, ...]:
            again, *others = score(schedule)
            return max(again, known), *others

        trails: list[Trail] = []

        def place(keys: Sequence[str]) -> Schedule | None:
            try:
                return self._late_along(keys, trails, due)
            except (NoRoomError, TimeIsUpError):
                return None

        def losses(schedule: Schedule) -> dict[str, int]:
            begun = self.begun(schedule)
            return {key: latest[key] - begun[key] for key in order if key in begun}

        latest = {key: self.latest(key, due[key]) or 0 for key in order}
        tries = self._placed_left // max(1, 2 * len(self.network.tasks))
        self._placed_left -= tries * len(self.network.tasks)
        first, is_known = plan, self._order is not None and set(self._order) == set(order)
        start = order
        for tried in [self._order or order] if is_known else by_share(latest, due, self.shares(latest)):
            again = place(tried)
            if again is not None and start_score(again) <= start_score(plan):
                start, plan = tried, again
        self._order, plan, left = reordered(start, plan, place, losses, start_score, tries)
        if start != order and left > 0:  # what is left once no move pays: from the dates, which may lead elsewhere
            other, otherwise, _ = reordered(order, first, place, losses, start_score, left)
            if start_score(otherwise) < start_score(plan):
                self._order, plan = other, otherwise
        return plan

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
            turns[0] += 1
            try:
                for key in keys:
                    drawn = turns[0] % 2 and key in due
                    rank = self._drawn_latest_first([key], lengths[key]) if drawn else None
                    bench = self._put_back(bench, key, due, rank)
            except (NoRoomError, TimeIsUpError):
                return None
            return self._needed(bench)

        turns, begun = [0], self.begun(plan)
        lengths = {key: at - begun[key] for key, at in due.items() if key in begun}
        work = math.ceil(self._renewed_left / 2)
        self._renewed_left -= work
        return renewed(plan, self.network, self._setting, Putting(score, losses, back), work)

    def all_in_time(self, plan: Schedule, due: Mapping[str, int]) -> Schedule | None:
        """Return a plan that keeps every date, from one on that does not (``ejected``); None where none was found."""
        ready = self.ready(plan)
        late = [key for key, at in due.items() if ready.get(key, 0) > at]
        in_time = InTime(
            lambda bench, key: self._early_in_time(bench, key, due),
            lambda bench, key: self._late_in_time(bench, key, due),
        )
        work = math.ceil(self._ejected_left / 2)
        self._ejected_left -= work
        try:
            return all_in_time(plan, late, due, self.network, self._setting, in_time, work)
        except TimeIsUpError:
            return None

    def late_around(self, plan: Schedule, keys: Collection[str], due: Mapping[str, int]) -> Schedule:
        """Return a plan in which some pieces stay where they are, all others with a date put back as late as can be.

        What finds no room so stays too.

        Parameters
        ----------
        plan
            A plan that keeps every rule and every date
        keys
            Of the pieces that stay
        due
            By piece key: by when it has to be fit for the customer, where there is a date. [slot]
        """
        late = sorted((key for key in self._pieces if key in due and key not in keys), key=lambda key: -due[key])
        while late:
            laid = LaidOut(self.network, self._setting, plan, without=late)
            bench: Bench = laid
            stuck: str | None = None if laid.is_sound() else late[-1]
            for key in late if stuck is None else ():
                put = self._late_in_time(bench, key, due)
                if put is None:
                    stuck = key
                    break
                bench = put
            if stuck is None:
                return self._needed(bench)
            late.remove(stuck)
        return plan

    def workmanlike(self, plan: Schedule) -> Schedule:
        """Return a plan that is no more awkward, begins no piece sooner, readies none later and abrades none more.

        Tried are those in which what goes on with the same tools is done in a row, within a day or half a day.
        """
        day = 24 * 60 // self._setting.slot_min
        kind = kinds_of_work(self.network)
        begun = self.begun(plan)
        awkward = awkward_min(plan, self.network, self._setting)
        for within in (day, day // 2):
            rank = in_a_row(plan, kind, within)
            try:
                tried = self._early(self._empty.copy(), self._number, rank, begun)
            except (NoRoomError, TimeIsUpError):
                continue
            minutes = awkward_min(tried, self.network, self._setting)
            if minutes < awkward and self.as_good(tried, plan):
                plan, awkward = tried, minutes
        return plan

    def with_last_hand(self, plan: Schedule, *, still: Collection[str], coats: bool) -> Schedule:
        """Return a plan that is no more awkward, with single tasks moved; arguments as for ``last_hand``."""
        parted = with_last_hand(plan, self.network, self._setting, coats=False, still=still)
        return with_last_hand(parted, self.network, self._setting, coats=True, still=still) if coats else parted

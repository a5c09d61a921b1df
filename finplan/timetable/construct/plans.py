"""Plans made at once, by several rules of what comes first: the best of them is taken."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Mapping, Sequence
from functools import partial

from finplan.scheduling import Schedule
from finplan.timetable.construct.bench import Bench
from finplan.timetable.construct.early import EarlyMaker, Score
from finplan.timetable.construct.ejected import InTime, all_in_time
from finplan.timetable.construct.laid_out import LaidOut
from finplan.timetable.construct.last_hand import with_last_hand
from finplan.timetable.construct.place import NoRoomError, Rank, TimeIsUpError
from finplan.timetable.construct.placer import Put, Trail, in_a_row
from finplan.timetable.construct.reorder import by_share, reordered
from finplan.timetable.construct.taken_out import Putting, renewed, the_same_draws
from finplan.timetable.construct.workmanlike import awkward_min, kinds_of_work
from finplan.timetable.job import PieceWork
from finplan.timetable.setting import Setting
from finplan.timetable.waits import Waits

_FEW = 3
"""Of fewer pieces no other order is tried."""
_PLACED = 24_000
"""So many tasks are placed to try orders of the pieces, for all plans together: half of what is left for each."""
_RENEWED, _IN_A_ROUND = 40_000, 10_000
"""So many tasks are placed to take pieces out of plans and put them back, for all plans together; and in a round, of
plans that are to be ready early in two at once."""
_EJECTED = 60_000
"""So many tasks are placed to put what is too late where it is in time, likewise."""


class Maker(EarlyMaker):
    """Makes plans of pieces in one setting, for as long as ``left_s`` says that something is left of the time."""

    def __init__(
        self, pieces: Sequence[PieceWork], setting: Setting, waits: Waits, left_s: Callable[[], float]
    ) -> None:
        super().__init__(pieces, setting, waits, left_s)
        self._placed_left, self._renewed_left, self._ejected_left = _PLACED, _RENEWED, _EJECTED
        self._renewing = the_same_draws()
        self._order: Sequence[str] | None = None
        """The best order in which pieces were placed."""
        self._put: Put = self._best_late
        """And how each of them was put."""

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
        known = self._along_known(dated, due)
        if known is not None and not score(known)[0]:
            return self._reordered(dated, known, score, due)  # other ways to begin with it were tried once
        plans: list[Schedule] = []
        error: NoRoomError | None = None
        puts = (self._best_late, self._critical_late, self._latest_late)
        for make in (*(partial(self._late_along, dated, put, []) for put in puts), partial(self._late_together, dated)):
            try:
                plans.append(make(due))
            except NoRoomError as no_room:
                error = no_room
            except TimeIsUpError:
                if not plans:
                    raise
        if not plans and error is not None:
            raise error
        best = min(plans, key=score)
        return best if len(dated) < _FEW else self._reordered(dated, best, score, due)

    def _along_known(self, keys: Sequence[str], due: Mapping[str, int]) -> Schedule | None:
        """Return the plan of the best order of some pieces that is known; None where none is, or it has no room."""
        if self._order is None or set(self._order) != set(keys):
            return None
        return self._placing(self._put, due)(self._order)

    def _reordered(self, order: Sequence[str], plan: Schedule, score: Score, due: Mapping[str, int]) -> Schedule:
        """Return a plan in which pieces are placed in a better order, and remember that order for another time.

        Nothing more is abraded again than in the plan that is known; that less is, is worth no later start.
        """
        known = score(plan)[0]

        def start_score(schedule: Schedule) -> tuple[float, ...]:
            again, *others = score(schedule)
            return max(again, known), *others

        def losses(schedule: Schedule) -> dict[str, int]:
            begun = self.begun(schedule)
            return {key: latest[key] - begun[key] for key in order if key in begun}

        latest = {key: self.latest(key, due[key]) or 0 for key in order}
        first, start = plan, order
        is_known = self._order is not None and set(self._order) == set(order)
        orders = [self._order or order] if is_known else [*by_share(latest, due, self.shares(latest))]
        for put in (self._put,) if is_known else (self._critical_late, self._latest_late, self._best_late):
            place = self._placing(put, due)
            # The better of two takes twice as long: it is tried along the best order alone.
            for tried in [start] if put == self._best_late and not is_known else orders:
                again = place(tried)
                if again is not None and start_score(again) <= start_score(plan):
                    start, plan, self._put = tried, again, put
        each = max(1, len(self.network.tasks)) * (2 if self._put == self._best_late else 1)
        tries = self._placed_left // (2 * each)
        self._placed_left -= tries * each
        place = self._placing(self._put, due)  # what the others have laid out is let go: of many pieces it is much
        self._order, plan, left = reordered(start, plan, place, losses, start_score, tries)
        if start != order and left > 0:  # what is left once no move pays: from the dates, which may lead elsewhere
            other, otherwise, _ = reordered(order, first, place, losses, start_score, left)
            if start_score(otherwise) < start_score(plan):
                self._order, plan = other, otherwise
        return plan

    def _placing(self, put: Put, due: Mapping[str, int]) -> Callable[[Sequence[str]], Schedule | None]:
        """Return what gives the plan of an order of pieces that are put on the bench one by one; None for no room."""
        trails: list[Trail] = []

        def place(keys: Sequence[str]) -> Schedule | None:
            try:
                return self._late_along(keys, put, trails, due)
            except (NoRoomError, TimeIsUpError):
                return None

        return place

    def renewed(
        self, plan: Schedule, score: Score, losses: Callable[[Schedule], Mapping[str, int]], due: Mapping[str, int]
    ) -> Schedule:
        """Return a plan that scores at least as well, a few pieces put back at a time (``taken_out``), in one round.

        Asked again it goes on with other draws.

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
                    bench = self._put_back(bench, key, due, drawn(key) if key in due else None)
            except (NoRoomError, TimeIsUpError):
                return None
            return self._needed(bench)

        def drawn(key: str) -> Rank | None:
            if turns[0] % 4 == 1:
                return self._drawn_latest_first([key], lengths[key])
            if turns[0] % 4 == 3:
                return self._drawn_critical_first(key, due[key], lengths[key])
            return self._critical_first(key, due[key]) if turns[0] % 4 == 2 else None

        turns, begun = [0], self.begun(plan)
        lengths = {key: at - begun[key] for key, at in due.items() if key in begun}
        work = min(self._renewed_left, _IN_A_ROUND if due else 2 * _IN_A_ROUND)
        self._renewed_left -= work
        return renewed(plan, self.network, self._setting, Putting(score, losses, back), work, self._renewing)

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
            stuck = [] if laid.is_sound() else late[-1:]
            for key in () if stuck else late:
                put = self._late_in_time(bench, key, due)
                if put is None:
                    stuck.append(key)  # it has less room still with others that are stuck where they are
                else:
                    bench = put
            if not stuck:
                return self._needed(bench)
            late = [key for key in late if key not in stuck]
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

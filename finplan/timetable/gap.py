"""How good a plan is, against what each of its pieces could have at best."""

from __future__ import annotations

from collections.abc import Sequence

from finplan.scheduling import Attained, EarliestFinish, LatestStarts
from finplan.timetable.construct.plans import Maker
from finplan.timetable.dates import Dates
from finplan.timetable.found import Found
from finplan.timetable.job import PieceWork


class Gap:
    """Tells how far plans may be from the best."""

    def __init__(self, dates: Dates, maker: Maker) -> None:
        self._dates, self._maker = dates, maker

    def late(self, made: Found, *, together: bool) -> list[Attained]:
        """Return how late the pieces with a date are begun, and how early the others are ready.

        Against each of them alone in the shop, and where that is not reached, if wanted, against all of them *together*
        in it, which takes longer.
        """
        due = {key: window.due for key, window in made.windows.items() if window.due is not None}
        begun = self._maker.begun(made.schedule)
        dated = [piece for piece in self._dates.job.pieces if piece.key in due and piece.open]
        others = [piece for piece in self._dates.job.pieces if piece.key not in due]
        up_to = self._dates.working.up_to
        value = sum(up_to(begun[piece.key]) for piece in dated)
        alone = {piece.key: self._maker.latest(piece.key, due[piece.key]) for piece in dated}
        bound = sum(up_to(self._dates.setting.first if at is None else at) for at in alone.values())
        if together and bound > value:
            bound = self._maker.latest_sum({piece.key: due[piece.key] for piece in dated}, up_to)
        bound = max(value, bound)
        stages = [Attained(LatestStarts(()), value, bound)] if dated else []
        return [*stages, *([self.early(made, others, together=together)] if others else [])]

    def early(self, made: Found, pieces: Sequence[PieceWork], *, together: bool) -> Attained:
        """Return how early pieces are ready, against each of them alone in the shop, or all *together* in it."""
        ready = self._maker.ready(made.schedule)
        value = bound = self._dates.setting.first
        left = [work.key for work in pieces if work.open]
        for key in left:
            value, bound = max(value, ready[key]), max(bound, self._maker.soonest(key))
        if together and bound < value:
            bound = max(bound, self._maker.all_soonest(left))
        return Attained(EarliestFinish(()), value, bound)

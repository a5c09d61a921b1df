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
        self._sums: dict[tuple[tuple[str, int], ...], int] = {}
        """What is known of dates that were looked at before."""

    def late(self, made: Found) -> list[Attained]:
        """Return how late the pieces with a date are begun, and how early the others are ready."""
        due = self._dates.dues(made.buffer)
        begun = self._maker.begun(made.schedule)
        dated = [piece for piece in self._dates.job.pieces if piece.key in due and piece.open]
        others = [piece for piece in self._dates.job.pieces if piece.key not in due]
        value = sum(self._dates.working.up_to(begun[piece.key]) for piece in dated)
        wanted = tuple((piece.key, due[piece.key]) for piece in dated)
        if wanted not in self._sums:
            self._sums[wanted] = self._maker.latest_sum(dict(wanted), self._dates.working.up_to)
        bound = max(value, self._sums[wanted])
        stages = [Attained(LatestStarts(()), value, bound)] if dated else []
        return [*stages, *([self.early(made, others)] if others else [])]

    def early(self, made: Found, pieces: Sequence[PieceWork]) -> Attained:
        """Return how early pieces are ready, against each of them alone in the shop."""
        ready = self._maker.ready(made.schedule)
        value = bound = self._dates.setting.first
        for piece in (one for one in pieces if one.open):
            value, bound = max(value, ready[piece.key]), max(bound, self._maker.soonest(piece.key))
        return Attained(EarliestFinish(()), value, bound)

"""In which windows of time pieces are planned: no wider than has to be, since a short one is solved faster."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from finplan.scheduling import Schedule, Scheduled, start_bounds
from finplan.timetable.buffer import working_day_h
from finplan.timetable.construct.plans import Maker
from finplan.timetable.dates import Dates
from finplan.timetable.found import Found
from finplan.timetable.job import PieceWork
from finplan.timetable.over_before import over_before
from finplan.timetable.problem import NOTHING_FIXED, Placement, ProblemMaker, Window
from finplan.timetable.timetable import NO_BUFFER, Buffer
from finplan.timetable.waits import Waits

WEEKS = (4, 8, 22)
"""How many weeks are looked at, one after the other. The last is all there is."""
_NARROW_DAYS = 2
"""So many working days, beside what all the work takes, the shortest window begins before the latest start."""
WindowBounds = Mapping[str, tuple[int, int]]


class Windows:
    """Windows of the pieces of a job, and the scheduling problem within them."""

    def __init__(self, dates: Dates, waits: Waits, maker: Maker) -> None:
        self._dates, self._waits, self._maker = dates, waits, maker
        self._job, self._setting, self._working = dates.job, dates.setting, dates.working
        self._bounds: dict[tuple[tuple[str, Window], ...], WindowBounds | None] = {}

    def placement(
        self, windows: Mapping[str, Window], *, turns: bool = True, fixed: Mapping[str, Scheduled] = NOTHING_FIXED
    ) -> Placement:
        """Return the problem of the pieces that have a window; *turns*: with what only helps a search."""
        pieces = [piece for piece in self._job.pieces if piece.key in windows]
        return ProblemMaker(pieces, self._setting, windows, self._waits, turns=turns, fixed=fixed).placement()

    def over_before(self, plan: Schedule) -> Mapping[str, Scheduled]:
        """Return where a plan has all that is over before what waits for something still to come can begin."""
        return over_before(self._job.pieces, self._setting, self._waits, plan)

    def slots(self, weeks: int) -> int:
        """Return how many slots so many weeks are, of those that are looked at."""
        return min(weeks * 7 * 24 * 60 // self._setting.slot_min, self._setting.slots - self._setting.first - 1)

    def late(self, made: Found, buffer: Buffer) -> Iterator[tuple[dict[str, Window], bool]]:
        """Give the windows in which the best plan may lie, and whether they are the last.

        With a plan at hand no piece is begun sooner than it lets: by as much as all others could be begun later.
        """
        pieces = self._job.pieces
        if self._maker.extras(made.schedule)[0]:
            yield from self.before_due(pieces, buffer)
            return
        due = self._dates.dues(buffer)
        last = max([self._setting.first, *self._maker.ready(made.schedule).values()])
        widest = {work.key: Window(self._setting.first, due.get(work.key, last), due.get(work.key)) for work in pieces}
        begun = self._maker.begun(made.schedule)
        dated = [work for work in pieces if work.key in due and work.open]
        latest = {work.key: self.latest(work.key, due[work.key]) for work in dated}
        lost = sum(self._working.up_to(latest[work.key]) - self._working.up_to(begun[work.key]) for work in dated)
        for piece in dated:
            first = max(self._setting.first, self._working.back(latest[piece.key], lost))
            widest[piece.key] = replace(widest[piece.key], first=first)
        yield widest, True

    def early(self, made: Found, *, dated: bool) -> dict[str, Window]:
        """Return the windows in which the best plan lies: up to when one that is known is ready."""
        first = self._setting.first
        last = max([first + 1, *self._maker.ready(made.schedule).values()])
        windows: dict[str, Window] = {}
        for piece in self._job.pieces:
            due = self._dates.due(piece) if dated else None
            windows[piece.key] = Window(first, last if due is None else min(last, due), due)
        return windows

    def before_due(self, pieces: Sequence[PieceWork], buffer: Buffer) -> Iterator[tuple[dict[str, Window], bool]]:
        """Give windows that reach ever further back from the delivery, and whether they are the widest there are.

        Left out are those in which waits alone leave no room.
        """
        setting = self._setting
        for weeks in WEEKS:
            windows: dict[str, Window] = {}
            for piece in pieces:
                due = self._dates.due(piece)
                last = setting.first + self.slots(weeks) if due is None else due
                first = max(setting.first, last - self.slots(weeks))
                windows[piece.key] = Window(first, last, self._dates.due_with(piece, buffer))
            if any(window.last <= window.first for window in windows.values()):
                return
            bounds = self.bounds(windows)
            widest = all(window.first == setting.first for window in windows.values())
            if bounds is not None:
                yield self._narrowed(pieces, windows, bounds), False
                yield windows, widest
            if widest:
                return

    def _narrowed(
        self, pieces: Sequence[PieceWork], windows: Mapping[str, Window], bounds: WindowBounds
    ) -> dict[str, Window]:
        """Return windows that begin before the latest start alone by what all the work takes, and a little.

        What has no date is ready as early as can be: it keeps its window.
        """
        work = sum(self._setting.slots_of(operation) for piece in self._job.pieces for operation in piece.open)
        days = round(_NARROW_DAYS * working_day_h(self._job.shop) * 60 / self._setting.slot_min)
        narrow: dict[str, Window] = {}
        for piece in pieces:
            window = windows[piece.key]
            if piece.deliver is None:
                narrow[piece.key] = window
                continue
            latest = min((bounds[operation.id][1] for operation in piece.open), default=window.last)
            first = max(window.first, self._working.back(latest, work + days))
            narrow[piece.key] = replace(window, first=first)
        return narrow

    def bounds(self, windows: Mapping[str, Window]) -> WindowBounds | None:
        """Return between which slots everything starts in these windows, as ``start_bounds`` does.

        The same windows are looked at for the plan, for the length of the shortest and for the latest start.
        """
        key = tuple(windows.items())
        if key not in self._bounds:
            self._bounds[key] = start_bounds(self.placement(windows, turns=False).problem)
        return self._bounds[key]

    def may_keep_dates(self) -> bool:
        """Return whether waits alone leave room for every date, each piece begun at once."""
        due = self._dates.dues(NO_BUFFER)
        first, last = self._setting.first, self._setting.slots - 1
        if any(at <= first for at in due.values()):
            return False
        windows = {key: Window(first, at, at) for key, at in due.items()}
        windows |= {piece.key: Window(first, last) for piece in self._job.pieces if piece.key not in due}
        return self.bounds(windows) is not None

    def latest(self, key: str, due: int) -> int:
        """Return the latest start of a piece by its waits alone."""
        latest = self._maker.latest(key, due)
        return self._setting.first if latest is None else latest

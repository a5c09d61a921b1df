"""A plan lived through with one thing late at a time: many delays of every step at once, or a day lost."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime, timedelta
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from finplan.scheduling import Scheduled
from finplan.timetable.blocks import Blocks
from finplan.timetable.calendar import day_begins, shift_day
from finplan.timetable.chance import SEED, Drawn, draws_of
from finplan.timetable.coats import Luck
from finplan.timetable.job import Job, PieceWork
from finplan.timetable.life import Life
from finplan.timetable.operation import STEP_MIN, Operation, all_operations
from finplan.timetable.setting import Setting
from finplan.timetable.slips import LostDay
from finplan.timetable.stages import StageTime
from finplan.timetable.taken import Draws
from finplan.timetable.timetable import TimetableStep

_TRIED = 16
"""So many delays of a step are tried at once, then as many between the last that does and the first that does not."""
_DAYS_LOST = 20
"""No more days are looked at, the first ones: of a plan of months the last days are not asked for in its first week."""


class Typical:
    """Work and drying as they typically go, in so many draws."""

    def __init__(self, draws: int) -> None:
        """Keep how many."""
        self.draws = draws

    def hours(self, _finish: str, stage: StageTime) -> Draws:
        """Return how long a finish takes to a stage. [h]"""
        return np.full(self.draws, stage.hours.typical)

    def work_min(self, _piece: PieceWork, operation: Operation) -> Draws:
        """Return how long an operation takes. [min]"""
        return np.full(self.draws, float(operation.work_min))


def slipping_of(job: Job, rows: Sequence[TimetableStep]) -> Slipping | None:
    """Return a plan that can be lived through with one thing late; None where nothing that is to be done has a date."""
    setting = Setting(job)
    operations = {operation.id: operation for piece in job.pieces for operation in all_operations(piece.open)}
    schedule = _schedule(setting, operations, rows)
    dues = {
        piece.key: setting.minute(moment)
        for piece in job.pieces
        if piece.open and (moment := job.delivery(piece)) is not None
    }
    if not dues or not schedule:
        return None
    return Slipping(job, setting, schedule, dues)


def _schedule(
    setting: Setting, operations: Mapping[str, Operation], rows: Sequence[TimetableStep]
) -> dict[str, Scheduled]:
    """Return rows as a schedule; what is no operation any more, or by nobody who can do it, is left out."""
    attended = sorted((row for row in rows if row.kind == "attended" and row.id in operations), key=lambda row: row.id)
    schedule: dict[str, Scheduled] = {}
    for name, stretches in groupby(attended, key=lambda row: row.id):
        of_one = sorted(stretches, key=lambda row: row.start.timestamp())
        who = setting.who(operations[name])
        if of_one[0].person in who:
            start, end = setting.slot_up_to(of_one[0].start), setting.slot_from(of_one[-1].end)
            schedule[name] = Scheduled(start=start, end=end, mode=who.index(of_one[0].person))
    return schedule


class Slipping:
    """A schedule that is lived through with one thing late at a time."""

    def __init__(
        self, job: Job, setting: Setting, schedule: Mapping[str, Scheduled], dues: Mapping[str, float]
    ) -> None:
        """Set out with a job in its setting, its schedule, and by piece key the minute by which it is due."""
        self._job, self._setting, self._schedule, self._dues = job, setting, schedule, dues
        self._blocks = Blocks(job, setting, schedule)

    def latest(self) -> dict[str, datetime]:
        """Return the latest start of every operation, by its id; what comes after it waits as well.

        None of what follows at once on what may not lie: its time is counted from the end of that. None is before what
        it comes to where something earlier is begun at its latest, so that no step has to begin sooner than one that is
        planned before it: each is looked for on its own, and where another order of hands and rack is the better one
        that of the later step alone is found too early.
        """
        at_once = self._blocks.followed_at_once
        names = [name for name in self._schedule if name not in at_once and not self._is_clean_up(name)]
        planned = np.array([float(self._schedule[name].start * self._setting.slot_min) for name in names])
        low, high = np.zeros(len(names)), np.full(len(names), max(self._dues.values())) - planned
        high = np.maximum(high, STEP_MIN)
        best = np.full(len(names), -np.inf)
        while True:
            shares = np.arange(_TRIED) / _TRIED
            late = low[:, None] + (high - low)[:, None] * shares
            on_the_clock = np.floor((planned[:, None] + late) / STEP_MIN) * STEP_MIN
            # What comes in the night begins in the morning, and then all that is planned after it waits until that.
            begun, _, _ = self._tried(names, on_the_clock)
            held = np.where(np.isfinite(begun), begun, on_the_clock)
            starts, in_time, kept = self._tried(names, held)
            # Where it begins later still, by other hands, what is planned after it has not waited until that.
            best = np.maximum(best, np.where(kept & (starts <= held), starts, -np.inf).max(axis=1))
            # As many as are in time from the first on; whoever comes where something would lie waits for the next.
            until = np.where(in_time.all(axis=1), _TRIED, in_time.argmin(axis=1))
            step = (high - low) / _TRIED
            low, high = low + np.maximum(until - 1, 0) * step, low + until * step
            if (high - low).max() < STEP_MIN:
                break
        latest = self.carried_on({name: at for name, at in zip(names, best.tolist(), strict=True) if np.isfinite(at)})
        clock = self._setting.clock
        return {name: clock(np.floor(minute / STEP_MIN) * STEP_MIN) for name, minute in latest.items()}

    def carried_on(self, latest: Mapping[str, float]) -> dict[str, float]:
        """Return latest starts, in minutes, none before what the latest of an earlier one comes to, where that is kept.

        Where something is begun at its latest, all that is planned after it waits until then; what comes next on the
        same item begins there when it can.
        """
        names = sorted(latest, key=lambda name: (self._schedule[name].start, name))
        if not names:
            return {}
        life, in_time, well = self._lived(names, np.array([[latest[name]] for name in names]))
        kept = (in_time & well)[:, 0]
        item = {
            operation.id: (piece.key, operation.item)
            for piece in self._job.pieces
            for operation in all_operations(piece.open)
        }
        carried: dict[str, float] = {}
        for place, name in enumerate(names):
            earlier = [number for number in range(place) if kept[number]]
            waited = [latest[names[number]] for number in earlier]
            comes_to = [float(life.starts[name][number]) for number in earlier if item[names[number]] == item[name]]
            carried[name] = max([latest[name], *waited, *comes_to])
        return carried

    def has_rows(self) -> bool:
        """Return whether anything is planned that may not lie."""
        return bool(self._blocks.followed_at_once)

    def planned(self, name: str) -> datetime:
        """Return when an operation is planned."""
        return self._setting.clock_of_slot(self._schedule[name].start)

    def minute(self, moment: datetime) -> float:
        """Return the minute that a moment is, counted as the plan lived through counts them."""
        return self._setting.minute(moment)

    def begun(self, moment: datetime) -> dict[str, datetime] | None:
        """Return when each operation begins where nothing is done before a moment; None where something would lie."""
        minute = np.floor(self.minute(moment) / STEP_MIN) * STEP_MIN
        held = dict.fromkeys(self._schedule, np.array([minute]))
        life = self._life(Typical(1), held)
        life.ready()
        if not self._blocks.kept(life.starts, life.ends, 1).all():
            return None
        begins = {name: float(starts[0]) for name, starts in life.starts.items()}
        if not all(map(np.isfinite, begins.values())):
            return None
        return {name: self._setting.clock(np.floor(start / STEP_MIN) * STEP_MIN) for name, start in begins.items()}

    def _tried(self, names: Sequence[str], sooner: Draws) -> tuple[Draws, NDArray[np.bool_], NDArray[np.bool_]]:
        """Return when each operation begins that may not begin sooner, whether every date is kept, and all is well.

        All is not where something would lie over a break that may not.
        *sooner* has a row for each operation, with the minutes that are tried; so has what is returned.
        """
        life, in_time, well = self._lived(names, sooner)
        starts = np.array([life.starts[name].reshape(sooner.shape)[number] for number, name in enumerate(names)])
        return starts, in_time, in_time & well

    def _lived(self, names: Sequence[str], sooner: Draws) -> tuple[Life, NDArray[np.bool_], NDArray[np.bool_]]:
        """Return the plan lived through for each of what is tried, whether every date is kept, and all is well.

        Nothing that is planned after an operation begins sooner either: who comes late to one step has not done the
        next meanwhile.
        """
        held: dict[str, Draws] = {}
        begins = np.array([self._schedule[name].start for name in names])
        for name in names:
            held[name] = np.where((begins <= self._schedule[name].start)[:, None], sooner, 0.0).ravel()
        life = self._life(Typical(sooner.size), held)
        ready = life.ready()
        in_time = np.logical_and.reduce([ready[key] <= due for key, due in self._dues.items()]).reshape(sooner.shape)
        well = self._blocks.kept(life.starts, life.ends, sooner.size).reshape(sooner.shape)
        return life, in_time, well

    def lost_days(self, rows: Sequence[TimetableStep]) -> tuple[LostDay, ...]:
        """Return how likely the dates are still kept where the work of a day is begun on the next, by day.

        A shift that goes on past midnight is of the day on which it began.
        """
        shop = self._job.shop
        days: dict[date, list[str]] = {}
        for row in rows:
            if row.id in self._schedule and all(row.id not in names for names in days.values()):
                who = [person for person in shop.people if person.name == row.person]
                days.setdefault(shift_day(shop, who, row.start), []).append(row.id)
        looked_at = list(days)[:_DAYS_LOST]
        held: dict[str, Draws] = {}
        draws = draws_of(self._job.pieces)
        for number, day in enumerate(looked_at):
            own = np.zeros((len(looked_at), draws))
            own[number] = self._setting.minute(day_begins(shop, day + timedelta(days=1)).astimezone(UTC))
            held |= dict.fromkeys(days[day], own.ravel())
        luck = Drawn(self._setting, self._job.pieces, SEED, len(looked_at), draws=draws)
        ready = self._life(luck, held).ready()
        kept = np.logical_and.reduce([ready[key] <= due for key, due in self._dues.items()])
        shares = kept.reshape(len(looked_at), draws).mean(axis=1)
        return tuple(LostDay(day, share) for day, share in zip(looked_at, shares.tolist(), strict=True))

    def _life(self, luck: Luck, held: Mapping[str, Draws]) -> Life:
        pieces, ready_for = self._job.pieces, self._job.ready_for
        return Life(
            pieces,
            self._setting,
            self._schedule,
            ready_for,
            luck,
            held,
            cleaned_up_after=True,
            on_the_clock=True,
            one_stretch_min=self._blocks.needed_min,
        )

    def _is_clean_up(self, name: str) -> bool:
        return any(
            operation.clean_up is not None and operation.clean_up.id == name
            for piece in self._job.pieces
            for operation in piece.open
        )

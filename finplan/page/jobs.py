"""The jobs of the folder's record: how each stands, and what is done to it at the bench."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Iterator, Sequence
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TypeVar

from finplan.bench import JobNow, Noted, Ticked, entry_words, job_now, opened, tick_off, undone
from finplan.ledger import HeldPlan, Ledger
from finplan.page.hand import BenchAsked, BenchHand, Mend
from finplan.page.workbench import Workbench
from finplan.planning import PlannedPiece, read_sources, together
from finplan.problems import FinplanError, NotPossibleError
from finplan.record import steps_of
from finplan.sheet import WorkingDay, working_days

_KEPT = 12
"""Plans whose days are kept."""
T = TypeVar("T")


class MeanwhileError(FinplanError):
    """Something was ticked or planned since the form was shown; nothing was written down."""


class BeforeError(FinplanError):
    """What comes before is not ticked; nothing was written down."""


@dataclass(frozen=True, slots=True)
class Seen:
    """What a form was made from."""

    plan: int
    """The id of the plan."""
    entry: int
    """The last entry of its steps; 0 where there was none."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A job as it stands, and the days of its plan."""

    job: JobNow
    days: tuple[WorkingDay, ...]


class Jobs:
    """The record of one folder; whoever changes it does so one after the other."""

    def __init__(self, session: Workbench) -> None:
        self._session = session
        self._days: OrderedDict[tuple[int, str], tuple[WorkingDay, ...]] = OrderedDict()
        self._hand = BenchHand()
        self._changing = threading.Lock()

    def end(self) -> None:
        """End what is being planned."""
        self._hand.end()

    def shown(self, name: str) -> Shown:
        """Return how the job of a piece stands.

        Raises
        ------
        NotPossibleError
            No plan of it is held.
        """
        with self._open(name, to_read=True) as (ledger, held, pieces):
            job = job_now(ledger, held, pieces, self._session.now())
        with self._changing:
            self._hand.warm()
        key = held.id, job.plan.digest
        if key not in self._days:
            self._days[key] = working_days(job.plan)
            while len(self._days) > _KEPT:
                self._days.popitem(last=False)
        return Shown(job, self._days[key])

    def tick(
        self, name: str, number: str, noted: Noted, seen: Seen, *, dry: bool = False, believe: bool = False
    ) -> Ticked:
        """Tick a step, or several of a set, by their number as on the sheet.

        Raises
        ------
        MeanwhileError
            Another plan was made, or they were ticked or taken back, since it was shown.
        BeforeError
            What comes before is not ticked, and nobody said that it was done too.
        NotPossibleError
            As ``bench.tick_off``.
        """

        def sure(words: str) -> bool:
            if not believe:
                raise BeforeError(f"{words}.")
            return True

        def write(ledger: Ledger, held: HeldPlan, pieces: tuple[PlannedPiece, ...], now: datetime) -> Ticked:
            return tick_off(ledger, held, pieces, [number], now, noted, dry=dry, believe=sure)

        return self._change(name, number, seen, write)

    def take_back(self, name: str, number: str, seen: Seen) -> Ticked:
        """Take the last entry of a step back; raises as ``tick``, and as ``bench.undone``."""
        return self._change(name, number, seen, lambda ledger, held, _, now: undone(ledger, held, [number], now))

    def plan_again(self, name: str, plan: int, air: Sequence[str]) -> tuple[str, ...]:
        """Plan the rest of a job, hold that, and return what clashes where it does not fit.

        Raises
        ------
        MeanwhileError
            That was done since it was shown.
        NotPossibleError
            It cannot be planned.
        """
        return self._rest_planned(plan, name, self._wanted(name, again=True, air=tuple(air)))

    def mend(self, name: str, step: str, fault: str, share: str | None, plan: int) -> tuple[str, ...]:
        """Plan the repair of a coat and hold the plan; returns what clashes where it does not fit.

        Raises
        ------
        MeanwhileError
            Another plan was made since it was shown.
        NotPossibleError
            As ``bench.repaired``.
        """
        wanted = replace(self._wanted(name, again=True), mend=Mend(step, fault, share))
        return self._rest_planned(plan, name, wanted)

    def _rest_planned(self, plan: int, name: str, wanted: BenchAsked) -> tuple[str, ...]:
        """Plan the rest of a job, unless another plan was made since *plan* was shown."""
        with self._changing:
            with self._open(name, to_read=True) as (_, held, _pieces):
                if held.id != plan:
                    raise MeanwhileError(_newer(held))
            return self._hand.plan(wanted)

    def opened(self, name: str) -> AbstractContextManager[tuple[Ledger, HeldPlan, tuple[PlannedPiece, ...]]]:
        """Open the record on the job of a piece, to be read."""
        return self._open(name, to_read=True)

    def begin(self, name: str) -> tuple[str, ...]:
        """Plan a piece and hold the plan; returns what clashes where it does not fit. Raises as ``plan_again``."""
        with self._changing:
            return self._hand.plan(self._wanted(name, again=False))

    def _wanted(self, name: str, *, again: bool, air: tuple[str, ...] = ()) -> BenchAsked:
        folder = self._session.folder
        return BenchAsked(folder.file(name), folder.shop, folder.ledger, self._session.now(), again, air)

    def _change(
        self,
        name: str,
        number: str,
        seen: Seen,
        write: Callable[[Ledger, HeldPlan, tuple[PlannedPiece, ...], datetime], T],
    ) -> T:
        now = self._session.now()
        with self._changing, self._open(name) as (ledger, held, pieces):
            if held.id != seen.plan:
                raise MeanwhileError(f"{_newer(held)} Nothing was written down.")
            job = job_now(ledger, held, pieces, now)
            steps = steps_of([number], job.numbers)
            last = max((tick.id for tick in job.ticks if not set(steps).isdisjoint(tick.steps)), default=0)
            if last != seen.entry:
                entry = next((tick for tick in job.ticks if tick.id == last), None)
                zone = job.plan.shop.time_zone
                words = "is not ticked any more" if entry is None else entry_words(entry, job.plan.units, zone)
                raise MeanwhileError(f"{number} was changed meanwhile: {words}. Nothing was written down.")
            return write(ledger, held, pieces, now)

    @contextmanager
    def _open(self, name: str, *, to_read: bool = False) -> Iterator[tuple[Ledger, HeldPlan, tuple[PlannedPiece, ...]]]:
        """Open the record on the job of a piece, all pieces of which are in the folder."""
        folder = self._session.folder
        file = folder.file(name)
        workshop, problems = self._session.workshop()
        if workshop is None:
            raise NotPossibleError("; ".join(str(problem) for problem in problems))
        with opened([file], folder.ledger, to_read=to_read) as (ledger, held, files):
            inside = [folder.file(_name_in(path, folder.path)) for path in files]
            yield ledger, held, together(read_sources(inside, workshop))


def _name_in(file: Path, folder: Path) -> str:
    return file.name if file.parent == folder else str(file)


def _newer(held: HeldPlan) -> str:
    return f"Plan {held.number} was made meanwhile; this is what is there now."

"""A process that plans for the bench and holds what comes of it, so that the pages answer meanwhile."""

from __future__ import annotations

import os
import signal
from dataclasses import dataclass
from datetime import datetime
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from pathlib import Path

from finplan.bench import Affected, looked_at, opened, repaired, rest_planned, scene_of
from finplan.ledger import open_or_read_ledger
from finplan.page.beside import begun
from finplan.page.days import days_view
from finplan.page.worker import ends_with
from finplan.place import names_from
from finplan.planning import Plan, PlannedPiece, read_sources, together
from finplan.problems import FinplanError, NotPossibleError
from finplan.record import Asked, TypedError, kept_plan, plan_maker


@dataclass(frozen=True, slots=True)
class Mend:
    """A coat whose repair is to be planned, as it was sent."""

    step: str
    fault: str
    share: str | None
    """How much of its faces; None for what is usual."""


@dataclass(frozen=True, slots=True)
class BenchAsked:
    """What is to be planned and held."""

    file: Path
    shop: Path | None
    ledger: Path
    now: datetime
    again: bool
    """Whether it is the rest of a job that is planned already."""
    air: tuple[str, ...] = ()
    """The air since the coats were on that are still to dry, as it was typed."""
    mend: Mend | None = None
    """What is to be mended beside; None for nothing."""


@dataclass(frozen=True, slots=True)
class Came:
    """What came of it: nothing to say where a plan is held."""

    clashes: tuple[str, ...] = ()
    wrong: str = ""


class BenchHand:
    """Plans one thing after the other, in a process that is begun when it is first needed; one call at a time."""

    def __init__(self) -> None:
        self._process: BaseProcess | None = None
        self._pipe: Connection | None = None

    def warm(self) -> None:
        """Begin the process, where it is not there: it loads while nobody waits."""
        if self._pipe is None:
            self._begin()

    def plan(self, wanted: BenchAsked) -> tuple[str, ...]:
        """Plan and hold it; return what clashes where it does not fit.

        Raises
        ------
        NotPossibleError
            It cannot be planned.
        """
        try:
            pipe = self._pipe or self._begin()
            pipe.send(wanted)
            came = pipe.recv()
        except (EOFError, OSError):
            self.end()
            msg = "planning ended without a result; try it again"
            raise NotPossibleError(msg) from None
        if came.wrong:
            raise NotPossibleError(came.wrong)
        return tuple(came.clashes)

    def end(self) -> None:
        """End it, whatever it is doing."""
        process, self._process, self._pipe = self._process, None, None
        if process is not None:
            process.kill()

    def _begin(self) -> Connection:
        self._pipe, self._process = begun(work_for_bench)
        return self._pipe


def work_for_bench(pipe: Connection) -> None:
    """Plan and hold what comes through a pipe, until nobody holds its other end."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # who started it ends it
    ends_with(os.getppid())
    while True:
        try:
            pipe.send(plan_and_hold(pipe.recv()))
        except (EOFError, OSError):
            return


def plan_and_hold(wanted: BenchAsked) -> Came:
    """Plan and hold what is wanted, in the process that this runs in."""
    try:
        plan = _again(wanted) if wanted.again else _first(wanted)
    except TypedError as error:
        return Came(wrong=str(error) if wanted.mend is None else error.words)
    except FinplanError as error:
        return Came(wrong=str(error))
    return Came(() if plan.timetable.has_plan else days_view(plan).clashes)


def _again(wanted: BenchAsked) -> Plan:
    with opened([wanted.file], wanted.ledger) as (ledger, held, files):
        if wanted.mend is not None:
            pieces, mend = _pieces(files, wanted), wanted.mend
            scene, called = scene_of(ledger, held, pieces, mend.step, wanted.now)
            told, affected = looked_at(scene, mend.fault, called), Affected(share=mend.share)
            return repaired(ledger, held, pieces, told, affected, wanted.now).plan
        return rest_planned(ledger, held, _pieces(files, wanted), wanted.now, air=wanted.air)


def _first(wanted: BenchAsked) -> Plan:
    pieces = _pieces([wanted.file], wanted)
    with open_or_read_ledger(wanted.ledger) as ledger:
        names = names_from([wanted.file], wanted.ledger)
        make = plan_maker(pieces, wanted.now)
        return kept_plan(ledger, names, Asked(), make, made=wanted.now, anew=True, say=lambda _: None)


def _pieces(files: list[Path], wanted: BenchAsked) -> tuple[PlannedPiece, ...]:
    return together(read_sources(files, wanted.shop))

"""A process that plans timetables, one after the other, and tells how far it is; killed where a newer edit comes."""

from __future__ import annotations

import gc
import os
import signal
import threading
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import datetime
from multiprocessing.connection import Connection
from pathlib import Path

from finplan.page.by_record import plan_now
from finplan.planning import read_sources, read_workshop, together
from finplan.reading import Written
from finplan.scheduling import Activity, Problem, solve
from finplan.telling import progress_words
from finplan.timetable import Timetable

MANY_OPERATIONS = 40
"""Of more, a plan without answers is told first, so that there is something to look at."""


@dataclass(frozen=True, slots=True)
class DaysAsked:
    """What is to be planned."""

    words: str
    file: Path
    shop: Path | None
    now: datetime


@dataclass(frozen=True, slots=True)
class Doing:
    """What is being done."""

    words: str


@dataclass(frozen=True, slots=True)
class TimetableFound:
    """A timetable."""

    timetable: Timetable
    last: bool
    """Whether no better one follows."""


@dataclass(frozen=True, slots=True)
class Failed:
    """Nothing was found; says why."""

    words: str


def work(pipe: Connection) -> None:
    """Plan what comes through a pipe, until nobody holds its other end."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # who started it ends it
    ends_with(os.getppid())
    read_workshop(None)
    # The solver loads while nobody waits.
    solve(Problem(activities=(Activity.of("saw", 1, {"bench": 1}),), capacities={"bench": 1}, horizon=2))
    gc.freeze()
    while True:
        try:
            asked = pipe.recv()
        except (EOFError, OSError):
            return
        try:
            _plan(asked, pipe)
        except BrokenPipeError:
            return  # nobody waits for it any more
        except Exception as error:
            with suppress(OSError):
                pipe.send(Failed(str(error) or type(error).__name__))


def _plan(asked: DaysAsked, pipe: Connection) -> None:
    written = Written(Path(asked.file.name), asked.words, asked.file.parent)
    pieces = together(read_sources([written], read_workshop(asked.shop)))
    plan = plan_now(pieces, asked.file, asked.now, lambda doing: pipe.send(Doing(progress_words(doing))))
    if len(plan.pieces[0].operations) > MANY_OPERATIONS and not plan.knows_timetable:
        quick = replace(plan, wishes=replace(plan.wishes, answers=False, limit_s=1.0))
        pipe.send(TimetableFound(quick.timetable, last=False))
    pipe.send(TimetableFound(plan.timetable, last=True))


def ends_with(parent: int) -> None:
    """End this process when the one that started it is gone, however that ended."""

    def look() -> None:
        while os.getppid() == parent:
            threading.Event().wait(1.0)
        os._exit(0)

    threading.Thread(target=look, daemon=True).start()

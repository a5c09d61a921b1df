"""Timetables of what is open, planned in processes of their own; a newer edit ends what an older one still computes."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass

from finplan.page.beside import begun
from finplan.page.worker import DaysAsked, Doing, Failed, TimetableFound, work
from finplan.timetable import Timetable

SETTLED_S = 0.15
"""So long nothing is edited before planning begins: who types on is not planned for at every letter."""


@dataclass(frozen=True, slots=True)
class DaysSoFar:
    """How far the timetable of a text is."""

    state: str
    timetable: Timetable | None = None
    last: bool = False
    """Whether nothing better follows."""
    doing: str = ""
    failed: str = ""


class _Hand:
    """A process that plans, and this end of its pipe."""

    def __init__(self) -> None:
        self.pipe, self.process = begun(work)

    def end(self) -> None:
        self.process.kill()
        self.process.join()
        self.pipe.close()


class DaysPlanner:
    """Plans the newest text of each piece, one piece after the other."""

    def __init__(self, tell: Callable[[str, DaysSoFar], None]) -> None:
        self._tell = tell
        self._known: dict[str, DaysSoFar] = {}
        self._wanted: dict[str, tuple[str, DaysAsked]] = {}
        self._busy: tuple[str, str] | None = None
        self._hand: _Hand | None = None
        self._changed = threading.Condition()
        self._ended = False
        self._thread = threading.Thread(target=self._run, daemon=True)
        self._thread.start()

    def days(self, name: str, state: str) -> DaysSoFar | None:
        """Return how far the timetable of a text is; None where it was not asked for, or is another text's."""
        with self._changed:
            known = self._known.get(name)
            return known if known is not None and known.state == state else None

    def older(self, name: str) -> DaysSoFar | None:
        """Return what is known of the last text of a piece that was planned."""
        with self._changed:
            return self._known.get(f"{name}\0whole")

    def want(self, name: str, state: str, asked: DaysAsked) -> None:
        """Ask for the timetable of a text, unless it is planned or known already."""
        with self._changed:
            known = self._known.get(name)
            if known is not None and known.state == state and not known.failed:
                return
            self._known[name] = DaysSoFar(state, doing="planning")
            self._wanted[name] = (state, asked)
            if self._busy is not None and self._busy[0] == name and self._busy[1] != state:
                self._drop()
            self._changed.notify_all()

    def end(self) -> None:
        """End all that is being computed."""
        with self._changed:
            self._ended = True
            self._drop()
            self._changed.notify_all()

    def _drop(self) -> None:
        hand, self._hand = self._hand, None
        if hand is not None:
            hand.end()

    def _run(self) -> None:
        while True:
            with self._changed:
                if self._hand is None and not self._ended:
                    self._hand = _Hand()
                while not self._wanted and not self._ended:
                    self._changed.wait()
                if self._ended:
                    return
                seen = dict(self._wanted)
                self._changed.wait(SETTLED_S)
                if seen != self._wanted:
                    continue
                name, (state, asked) = self._wanted.popitem()
                self._busy, hand = (name, state), self._hand
            if hand is not None:
                self._follow(hand, name, state, asked)
            with self._changed:
                self._busy = None

    def _follow(self, hand: _Hand, name: str, state: str, asked: DaysAsked) -> None:
        try:
            hand.pipe.send(asked)
            while True:
                told = hand.pipe.recv()
                if not self._take(name, state, told):
                    return
        except (EOFError, OSError):
            with self._changed:
                if self._hand is hand:  # it ended by itself
                    self._hand = None
                    self._note(name, DaysSoFar(state, failed="planning ended without a result; edit again, or reload"))

    def _take(self, name: str, state: str, told: Doing | TimetableFound | Failed) -> bool:
        """Take note of what a process tells, and return whether more follows."""
        with self._changed:
            known = self._known.get(name)
            if known is None or known.state != state:
                return isinstance(told, Doing) or (isinstance(told, TimetableFound) and not told.last)
            match told:
                case Doing():
                    self._note(name, DaysSoFar(state, known.timetable, doing=told.words))
                    return True
                case TimetableFound():
                    self._note(
                        name,
                        DaysSoFar(
                            state,
                            told.timetable,
                            last=told.last,
                            doing="" if told.last else "looking for a better one",
                        ),
                    )
                    if told.last:
                        self._known[f"{name}\0whole"] = self._known[name]
                    return not told.last
                case Failed():
                    self._note(name, DaysSoFar(state, failed=told.words))
                    return False

    def _note(self, name: str, days: DaysSoFar) -> None:
        self._known[name] = days
        self._tell(name, days)

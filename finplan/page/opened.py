"""A folder that is open: its session, its planner, and the windows that are told of both."""

from __future__ import annotations

import threading
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from finplan.page.hub import Hub
from finplan.page.jobs import Jobs
from finplan.page.planner import DaysPlanner, DaysSoFar
from finplan.page.shown import DaysShown, days_shown
from finplan.page.workbench import View, Workbench
from finplan.page.worker import DaysAsked
from finplan.problems import FinplanError
from finplan.timetable import Timetable

_LOOK_S = 0.5
"""How often it is looked whether a file was changed outside."""


class Opened:
    """What every route works on."""

    def __init__(self, folder: Path, now: Callable[[], datetime], zone: str = "UTC") -> None:
        self.session = Workbench(folder, now, zone)
        self.jobs = Jobs(self.session)
        self.hub = Hub()
        self.planner = DaysPlanner(self._told)
        self._states: dict[str, str] = {}
        self._ended = threading.Event()
        threading.Thread(target=self._look, daemon=True).start()

    def seen(self, view: View) -> View:
        """Take note that a text is shown: its days are planned, and other windows hear of it."""
        name, state = view.text.name, view.state
        if view.reckoned.plan is not None and not view.reckoned.plan.knows_timetable:
            folder, words = self.session.folder, view.text.words
            asked = DaysAsked(words, folder.file(name), folder.shop, self.session.now())
            self.planner.want(name, state, asked)
        if self._states.get(name, state) != state:
            self.hub.tell(name, "text", state)
        self._states[name] = state
        return view

    def days(self, view: View) -> DaysShown:
        """Return the days of a piece as far as they are planned."""
        name = view.text.name
        so_far = self.planner.days(name, view.state)
        shown = days_shown(self.session, view, so_far, self.planner.older(name))
        return replace(shown, shop=view.shop or "")

    def timetable(self, view: View) -> Timetable | None:
        """Return the timetable of a text: as it is held, or as far as it is planned; None where there is none yet."""
        if view.reckoned.plan is not None and view.reckoned.plan.knows_timetable:
            return view.reckoned.plan.timetable
        days = self.planner.days(view.text.name, view.state)
        return None if days is None else days.timetable

    def end(self) -> None:
        """End all that is being computed."""
        self._ended.set()
        self.planner.end()
        self.jobs.end()

    def _told(self, name: str, days: DaysSoFar) -> None:
        if days.timetable is None or days.doing:
            self.hub.tell(name, "doing", {"state": days.state, "words": days.doing or days.failed})
        if days.timetable is not None or days.failed:
            self.hub.tell(name, "days", {"state": days.state})

    def _look(self) -> None:
        while not self._ended.wait(_LOOK_S):
            for name in self.hub.names():
                with suppress(FinplanError, OSError):
                    if self.session.state(name) != self._states.get(name):
                        self.seen(self.session.view(name))

"""Checks a finished timetable against the shop file and the catalogue as a person would, rule by rule.

It shares no code with the program's model, calendar or climate; what waits for what it takes from the coating systems,
face by face.
"""

from __future__ import annotations

from collections.abc import Iterator

from tests.timetable.read_back import Planned
from tests.timetable.rules_of_coats import CoatRules
from tests.timetable.rules_of_rooms import RoomRules
from tests.timetable.rules_of_stretches import StretchRules
from tests.timetable.rules_of_told_times import ToldRules
from tests.timetable.rules_of_work import WorkRules


def broken_rules(planned: Planned) -> list[str]:
    """Return every rule that a timetable breaks."""
    return list(Verifier(planned).broken())


class Verifier(RoomRules, ToldRules, StretchRules):
    """The rules of a shop."""

    def broken(self) -> Iterator[str]:
        """Give every broken rule, in words."""
        yield from self._everything_is_done_once()
        if any(not self.rows[name] for name, _ in self.open()):
            return
        for rules in (WorkRules, CoatRules, RoomRules, StretchRules, ToldRules):
            yield from rules.broken(self)

    def _everything_is_done_once(self) -> Iterator[str]:
        known = {name: operation.work_min for name, operation in self.open()}
        put_on = (one for piece in self.pieces for one in piece.operations if one.id in self.planned.wishes.done)
        known |= {one.clean_up.id: one.clean_up.work_min for one in put_on if one.clean_up is not None}
        for name, operation in self.open():
            known |= {one.id: one.work_min for one in (operation.clean_up, operation.again) if one is not None}
            if not self.rows[name]:
                yield f"{name} is not in the timetable"
        for name, rows in self.rows.items():
            minutes = round(sum((row.end - row.start).total_seconds() for row in rows) / 60)
            if rows and name not in known:
                yield f"{name} is in the timetable and was not asked for"
            elif rows and minutes != known[name]:
                yield f"{name} takes {minutes} min instead of {known[name]}"

"""What is done next to what was coated, and when somebody works again."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, time, timedelta

from finplan.inputs import Person
from finplan.moments import show_moment
from finplan.planning import Plan
from finplan.system import SECOND_SIDE
from finplan.telling.after_coat import PUTS_ON, AfterCoat, Then, after_coats, dried_words, still_takes_words
from finplan.telling.step_number import step_number
from finplan.timetable import Deed, TimetableStep, steps_by_row

_JOINS: tuple[Deed, ...] = ("put-together", "glue-up")
_DAYS = 60
"""So far ahead somebody is looked for who works."""


class NextWork:
    """What comes after the coats of one plan."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._after = after_coats(plan)
        self._steps = steps_by_row(plan.timetable.steps, plan.treatments)
        self._rows = [row for row in plan.timetable.steps if row.kind == "attended"]
        self._attended = [row for row in plan.timetable.steps if row.kind == "attended" and row.deed != "clean-up"]

    def after(self, row: TimetableStep) -> AfterCoat | None:
        """Return what comes on the coat that a row puts on; None where it puts none on."""
        return self._after.get(row.id)

    def words(self, rows: Sequence[TimetableStep]) -> str:
        """Return when coats that are told as one are dry, and what is done then; empty of no coats."""
        after = [self._after[row.id] for row in rows if row.id in self._after]
        return dried_words(after, self._then(rows), self.working, self.free) if after else ""

    def below_words(self, rows: Sequence[TimetableStep], *, why: bool = True) -> str:
        """Return until when coats that are told as one may go on those below them, and *why*; empty of first coats."""
        below = [after for row in rows if row.id in self._after for after in self._below(row)]
        return still_takes_words(below, why=why)

    def free(self, moment: datetime) -> datetime:
        """Return the first moment from one on at which somebody works and has nothing to do by the plan."""
        there = (self._free(person, moment) for person in self._plan.shop.people)
        return min((start for start in there if start is not None), default=moment)

    def _free(self, person: Person, moment: datetime) -> datetime | None:
        """Return the same of one person; None of who is not there."""
        rows = [row for row in self._rows if row.person == person.name]
        there = self._there(moment, (person,))
        while there is not None:
            busy = [row.end for row in rows if row.start <= there < row.end]
            if not busy:
                break
            there = self._there(max(busy), (person,))
        return there

    def working(self, moment: datetime) -> datetime:
        """Return the first moment from one on at which somebody works; the moment itself where nobody ever does."""
        return self._there(moment, self._plan.shop.people) or moment

    def _there(self, moment: datetime, people: Sequence[Person]) -> datetime | None:
        starts = list[datetime]()
        for ahead in range(-1, _DAYS):
            midnight = datetime.combine(moment.date() + timedelta(days=ahead), time(0), tzinfo=moment.tzinfo)
            for person in people:
                for shift in self._plan.shop.shifts(person, midnight.date()):
                    start, end = (midnight + timedelta(minutes=minute) for minute in (shift.start_min, shift.end_min))
                    if end > moment:
                        starts.append(max(start, moment))
            if starts and ahead > 0:
                break
        return min(starts, default=None)

    def _then(self, rows: Sequence[TimetableStep]) -> Then | None:
        nexts = [following for row in rows if (following := self.row_after(row)) is not None]
        if not nexts or len({step.step for step in nexts}) > 1:
            return None
        first = min(nexts, key=lambda step: step.start.timestamp())
        number = step_number(first)
        return Then(first.start, show_moment(first.start), f"{first.step}{f' (step {number})' if number else ''}")

    def row_after(self, row: TimetableStep) -> TimetableStep | None:
        """Return what is done next to what a row coats: its treatment's, or putting the piece together; else None."""
        treatment, _ = self._steps[row.id]
        ids = {step.id for step in treatment.steps}
        later = [step for step in self._attended if step.start >= row.end and step.id != row.id]
        of_treatment = [step for step in later if step.of_step in ids]
        joins = [step for step in later if step.piece == row.piece and step.deed in _JOINS and not of_treatment]
        return min([*of_treatment, *joins], key=lambda step: step.start.timestamp(), default=None)

    def _below(self, row: TimetableStep) -> list[AfterCoat]:
        """Return what comes on the coat below one: on all of its sides, but for a second side on that alone."""
        treatment, step = self._steps[row.id]
        before = [earlier for earlier in treatment.steps[: treatment.steps.index(step)] if earlier.finish is not None]
        if not before:
            return []
        rows = [coat for coat in self._attended if coat.of_step == before[-1].id and coat.deed in PUTS_ON]
        rows = [coat for coat in rows if coat.side in ("", SECOND_SIDE) or len({each.side for each in rows}) == 1]
        return [self._after[coat.id] for coat in rows if coat.id in self._after]

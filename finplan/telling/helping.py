"""Who helps at a coat that one person cannot keep wet alone, and when."""

from __future__ import annotations

from dataclasses import dataclass

from finplan.moments import show_clock
from finplan.planning import Plan
from finplan.timetable import TimetableStep


@dataclass(frozen=True, slots=True)
class Helping:
    """One coat at which somebody helps whose own work it is not."""

    person: str
    row: TimetableStep
    """Of who is helped."""

    @property
    def hours(self) -> str:
        """From when until when."""
        return f"{show_clock(self.row.start)}–{show_clock(self.row.end)}"

    @property
    def words(self) -> str:
        """Who helps, when and at which step, in the middle of a sentence."""
        return f"{self.person} helps {self.hours}{at_step(self.row)}"


def at_step(row: TimetableStep) -> str:
    """Return by its number at which step, with a space before it; nothing of one that has none."""
    return "" if row.number is None else f" at step {row.number}"


def helps(plan: Plan) -> tuple[Helping, ...]:
    """Return all at which somebody helps, in order of time."""
    helpers = plan.helpers
    rows = [row for row in plan.timetable.steps if row.kind == "attended" and row.id in helpers]
    return tuple(Helping(helpers[row.id], row) for row in rows)

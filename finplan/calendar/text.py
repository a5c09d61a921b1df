"""What an event of the calendar says: what has to be known at the bench, short enough for a phone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from finplan.catalogue import Moment
from finplan.listing import breakable, listed
from finplan.moments import not_after, show_clock, show_moment
from finplan.planning import Plan
from finplan.showing import capital
from finplan.system import Treatment, TreatmentStep
from finplan.telling import (
    PUTS_ON,
    Helping,
    Mixing,
    after_coat_words,
    after_coats,
    again_line,
    carried_lines,
    cold_words,
    duty_words,
    extra_row_lines,
    grit_lines,
    heavy_lines,
    lifting_lines,
    mixed_anew,
    mixed_together,
    pot_life_words,
    row_care_words,
    runs_of_coats,
    wet_edge_lines,
)
from finplan.timetable import TimetableStep, drying_by_coat, steps_by_row

_SOON = timedelta(hours=2)
"""So long before a recoat window closes there is still time to act."""
_MORNING, _EVENING = 8, 17
"""Hours of the day between which a telephone may ring about a coat."""


class CalendarText:
    """The words of the events of one plan; the sheet says the rest."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        rows = plan.timetable.steps
        self._steps = steps_by_row(rows, plan.treatments)
        self._after = after_coats(plan)
        self._coats = {dries.id: coat for coat, dries in drying_by_coat(rows).items()}
        self._runs = runs_of_coats(plan)
        self._ticks = _ticks_by_row(plan)

    def work(self, go: Sequence[TimetableStep]) -> Iterator[str]:
        """Give the lines of a stretch of work, or of the same on several of a set, what is done first at the top."""
        row = go[0]
        if row.person:
            yield f"For {row.person}."
        if len(go) > 1:
            told = [f"{step.set_number} from {show_clock(step.start)}" for step in go]
            yield f"One after the other: {listed(told)}. What follows is for each of them."
        yield from dict.fromkeys(line for step in go for line in self._with_care(step))
        if row.id in self._steps:
            yield from self._of_step(go, *self._steps[row.id])
        yield from dict.fromkeys(words for step in go for words in self.ticks(step))

    def helping(self, hand: Helping) -> Iterator[str]:
        """Give the lines of who helps at a coat."""
        yield f"For {hand.person}, who helps {hand.row.person}."
        yield from wet_edge_lines(hand.row.of_step or "", hand.row.side, self._plan)
        yield from self._with_care(hand.row)

    def _with_care(self, row: TimetableStep) -> Iterator[str]:
        care = self._plan.precautions.rows.get(row.id)
        if care is not None:
            said = row_care_words(care, self._plan)
            yield from said.before
            if said.wear:
                yield said.wear
            yield from said.mind
            yield from said.air
        yield from lifting_lines(row, self._plan)
        if row.id in self._steps and row.deed != "clean-up":
            yield from heavy_lines(*self._steps[row.id], row, self._plan)
        yield from map(breakable, extra_row_lines(row, self._plan))
        if row.deed == "joints":
            yield "Grits: see the sanding card."

    def _of_step(self, go: Sequence[TimetableStep], treatment: Treatment, step: TreatmentStep) -> Iterator[str]:
        row = go[0]
        if row.deed == "sand":
            yield from map(breakable, grit_lines(treatment, step, self._plan))
        elif row.deed in PUTS_ON:
            yield from self._amount(row)
            yield from wet_edge_lines(step.id, row.side, self._plan)
            yield from carried_lines(step, self._plan)
            words = after_coat_words([self._after[stretch.id] for stretch in go])
            if words:
                yield words
            yield from self._cautions("coating", row)
        elif row.deed == "clean-up":
            yield from self._still_holds(row)
        elif row.deed in ("abrade", "rub-out", "abrade-again"):
            if row.deed == "abrade-again":
                yield again_line(treatment, step, row.side, self._plan)
            yield from self._cautions("sanding", row)

    def drying(self, row: TimetableStep) -> Iterator[str]:
        """Give the lines of a coat that dries."""
        yield "Do not touch, keep dust away."
        yield from cold_words(row, self._plan.units)

    def ticks(self, row: TimetableStep) -> tuple[str, ...]:
        """Return what falls due at the end of a stretch of work, or of the day that it ends."""
        return tuple(self._ticks.get((row.id, row.end), ()))

    def closing(self, row: TimetableStep) -> tuple[datetime, str] | None:
        """Return when to be reminded that a window closes, and with what words.

        None where something is abraded before the next coat anyway, so that no coat comes too late, and where there is
        no hour of the day left in between.

        Parameters
        ----------
        row
            In which a coat dries
        """
        coat = self._after.get(self._coats[row.id])
        closes = None if coat is None or coat.abraded else coat.closes
        if closes is None:
            return None
        at = _by_day(closes - _SOON)
        if at <= row.end:
            return None
        return at, f"If the next coat is not on yet: not after {show_moment(not_after(closes))}, or abrade first."

    # --- a coat -----------------------------------------------------------------------------------------------------

    def _amount(self, row: TimetableStep) -> Iterator[str]:
        measured = self._plan.materials.measured_at(row.of_step or "", row.side)
        if measured is None:
            return
        mixing = Mixing(self._plan.catalogue, self._plan.units)
        title = self._plan.catalogue.finishes[measured.coat.finish].title
        run = self._runs.get(row.id)
        mixed, anew = mixed_together(run, self._plan), mixed_anew(run, self._plan)
        yield f"{title}: pour out {mixing.poured(measured, mixed=mixed)}, up to {mixing.up_to(measured)}."
        life_h = self._plan.materials.pot_lives_h.get(measured.coat.finish)
        if (mixed or anew) and life_h is not None:
            yield breakable(pot_life_words(life_h, run, self._plan))
        yield from (f"{capital(breakable(line))}." for line in mixing.lines(measured, mixed=mixed, anew=anew))

    # --- cautions ---------------------------------------------------------------------------------------------------

    def _cautions(self, when: Moment, row: TimetableStep) -> Iterator[str]:
        """Give the cautions of a moment that apply in a row."""
        yield from (
            f"{line.title}: {line.text}" for line in self._plan.cautions if line.when == when and row.id in line.rows
        )

    def _still_holds(self, row: TimetableStep) -> Iterator[str]:
        titles = [line.title for line in self._plan.cautions if line.when == "coating" and row.id in line.rows]
        if titles:
            yield f"As for the coat, mind: {'; '.join(titles)}."


def _ticks_by_row(plan: Plan) -> dict[tuple[str, datetime], list[str]]:
    """Return what falls due, by the id and the end of a stretch; of the day's, at one that ends it, not at two."""
    due: dict[tuple[str, datetime], list[str]] = {}
    last = {row.end: row for row in plan.timetable.steps if row.kind == "attended"}
    for tick in plan.precautions.ticks:
        row = tick.row or (last[tick.due].id if tick.due in last else None)
        if row is not None:
            due.setdefault((row, tick.due), []).append(duty_words(tick, plan))
    return due


def _by_day(moment: datetime) -> datetime:
    """Return a moment, or the last one before it at which somebody wants to be called.

    >>> _by_day(datetime(2027, 2, 8, 3, 40)), _by_day(datetime(2027, 2, 8, 19, 0)), _by_day(datetime(2027, 2, 8, 8, 25))
    (datetime.datetime(2027, 2, 7, 17, 0), datetime.datetime(2027, 2, 8, 17, 0), datetime.datetime(2027, 2, 8, 8, 25))
    """
    if moment.hour < _MORNING:
        return (moment - timedelta(days=1)).replace(hour=_EVENING, minute=0)
    return moment.replace(hour=_EVENING, minute=0) if moment.hour >= _EVENING else moment

"""One stretch of work before it is printed: its row, as others may share it, and what is the item's own."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from finplan.listing import listed
from finplan.moments import show_clock
from finplan.planning import Plan
from finplan.safety import CartridgesSpent, Duty
from finplan.sheet.step_row import StepRow
from finplan.showing import capital
from finplan.system import Treatment, as_coat
from finplan.telling import (
    Mixing,
    Names,
    NextWork,
    Run,
    again_line,
    before_coating_lines,
    clean_up_label,
    cold_words,
    common_lines,
    duty_words,
    extra_row_lines,
    glue_up_lines,
    key_of,
    lifting_lines,
    marked_name,
    names_together,
    own_lines,
    own_lines_again,
    put_together_lines,
    runs_of_coats,
    step_number,
    stretch_words,
    way_words,
)
from finplan.timetable import TimetableStep, drying_by_coat, first_stretches, steps_by_row


@dataclass(frozen=True, slots=True)
class Work:
    """A stretch before it is printed: the row as others may share it, and what is the item's own."""

    planned: TimetableStep
    row: StepRow
    way: str = ""
    """What is put on and how; empty where nothing is, or where it is told before the session."""
    own: tuple[str, ...] = ()
    treatment: Treatment | None = None
    run: Run | None = None
    """None where the row puts no coat on."""
    begins: bool = True
    """Whether it is the first stretch of its work."""
    due: tuple[str, ...] = ()
    """What is due when it is done and rests on the hours so far: of several items it parts none from the others."""

    def shared(self, comes: object) -> tuple[object, ...]:
        """Return what has to be equal for two items to share a row, with what *comes* on each."""
        row = self.row
        grit = "" if row.used else row.key
        said = (row.label, grit, self.planned.room, self.way, row.lines, row.cautions, row.wear, row.ticks)
        run = None if self.run is None else self.run.start
        return (self.treatment and self.treatment.system, self.planned.deed, comes, run, *said)


class Works:
    """Makes the stretches of work of one plan ready to be printed."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self.names = Names(plan)
        self._steps = steps_by_row(plan.timetable.steps, plan.treatments)
        self._drying = drying_by_coat(plan.timetable.steps)
        self._runs = runs_of_coats(plan)
        self.next = NextWork(plan)
        self._begun = first_stretches(plan.timetable.steps)
        attended = Counter(row.id for row in plan.timetable.steps if row.kind == "attended")
        self._in_stretches = {row_id for row_id, stretches in attended.items() if stretches > 1}
        self._coats = {(row.of_step, row.side): row.id for row in self._begun.values() if row.deed in ("coat", "fill")}

    def name_of_go(self, go: Sequence[TimetableStep]) -> str:
        """Return the name of several of a set that get the same in one go."""
        return marked_name(self.names.of_go(go), self._plan.piece_of(go[0]), self._plan)

    def names_of(self, works: Sequence[Work]) -> str:
        """Return the names of several items, those of a set as one."""
        return listed(names_together(self.names.of_item(work.planned) for work in works))

    def of(self, planned: TimetableStep) -> Work:
        """Return one stretch of work."""
        begins = self._begun[planned.id] is planned
        if planned.deed == "clean-up":
            cleaned = self._clean_up(planned)
            row = replace(cleaned.row, ticks=(*cleaned.row.ticks, *self._due(planned)))
            return replace(cleaned, row=row, begins=begins)
        row = StepRow(
            start=show_clock(planned.start),
            end=show_clock(planned.end),
            item=self.names.of_row(planned),
            label=capital(planned.step) + ("" if begins else ", continued"),
            number=step_number(planned),
            told_once=planned.extra is not None,
            critical=planned.critical,
            ticks=self._ticks(planned),
        )
        work = self._of(planned, row)
        if planned.extra is not None and planned.id in self._in_stretches:
            work = self._stretch(work)
        return replace(work, begins=begins, due=self._due(planned))

    def _stretch(self, work: Work) -> Work:
        """Return a stretch of a step beside the coats that is done in several: its text stands at the first."""
        first = self._begun[work.planned.id]
        told = stretch_words(work.planned, first)
        if work.planned is first:
            return replace(work, own=(*work.own, told))
        return replace(work, row=replace(work.row, lines=()), own=(told,))

    def _of(self, planned: TimetableStep, row: StepRow) -> Work:
        if planned.deed in ("test", "wipe-down"):
            return Work(planned, row)
        if planned.deed == "glue-up":
            return Work(planned, row, own=glue_up_lines(planned.item, self._plan.piece_of(planned)))
        if planned.deed in ("joints", "mask"):
            return Work(planned, row, own=before_coating_lines(planned.id, self._plan.piece_of(planned)))
        if planned.deed == "put-together":
            own = (*lifting_lines(planned, self._plan), *put_together_lines(self._plan.piece_of(planned)))
            return Work(planned, row, own=own)
        if planned.deed == "abrade-again":
            return self._again(planned, row)
        if planned.extra is not None and planned.of_step is None:
            row = replace(row, lines=extra_row_lines(planned, self._plan))
            return Work(planned, row, own=lifting_lines(planned, self._plan))
        return self._step(planned, row)

    def _ticks(self, planned: TimetableStep) -> tuple[str, ...]:
        """Return what is ticked when a stretch is done, whatever was done before it."""
        return self._told(tick for tick in self._ticked_at(planned) if not isinstance(tick.what, CartridgesSpent))

    def _due(self, planned: TimetableStep) -> tuple[str, ...]:
        """Return what is ticked then because of all the hours so far."""
        return self._told(tick for tick in self._ticked_at(planned) if isinstance(tick.what, CartridgesSpent))

    def _told(self, ticks: Iterable[Duty]) -> tuple[str, ...]:
        return tuple(duty_words(tick, self._plan) for tick in ticks)

    def _ticked_at(self, planned: TimetableStep) -> list[Duty]:
        ticks = self._plan.precautions.ticks
        return [tick for tick in ticks if tick.row == planned.id and tick.due == planned.end]

    def _step(self, planned: TimetableStep, row: StepRow) -> Work:
        plan = self._plan
        treatment, step = self._steps[planned.id]
        run = self._runs.get(planned.id)
        measured = plan.materials.measured_at(step.id, planned.side)
        dries = self._drying.get(planned.id)
        row = replace(
            row,
            key=key_of(step, planned.side, plan, run),
            lines=(*common_lines(step, run, plan), *row.lines),
            used="" if measured is None else Mixing(plan.catalogue, plan.units).unit(measured),
            warnings=() if dries is None else tuple(cold_words(dries, plan.units)),
        )
        own = own_lines(treatment, step, planned, plan, run)
        return Work(planned, row, way_words(step, plan), own, treatment, run)

    def _again(self, planned: TimetableStep, row: StepRow) -> Work:
        treatment, step = self._steps[planned.id]
        row = replace(row, lines=(*row.lines, again_line(treatment, step, planned.side, self._plan)))
        return Work(planned, row, own=own_lines_again(treatment, step, planned, self._plan), treatment=treatment)

    def _clean_up(self, planned: TimetableStep) -> Work:
        """Return a row of one line, and what is ticked: the cloths are dealt with before anything else is begun."""
        treatment, step = self._steps[planned.id]
        row = StepRow(
            start=show_clock(planned.start),
            end=show_clock(planned.end),
            item="",
            label=clean_up_label(self._plan.catalogue.finishes[as_coat(step).finish]),
            number=step_number(planned),
            short=True,
            critical=planned.critical,
            ticks=self._ticks(planned),
        )
        return Work(planned, row, treatment=treatment)

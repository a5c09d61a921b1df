"""One stretch of work before it is printed: its row, as others may share it, and what is the item's own."""

from __future__ import annotations

from dataclasses import dataclass, replace

from finplan.moments import show_clock
from finplan.plan import Plan
from finplan.sheet.air import AirLines
from finplan.sheet.other_work import before_coating_lines, clean_up_label, glue_up_lines, put_together_lines
from finplan.sheet.planned import Names
from finplan.sheet.row_cautions import abrading_cautions, coating_cautions, ticks_after
from finplan.sheet.runs import Run, runs
from finplan.sheet.step_row import StepRow
from finplan.sheet.step_words import AGAIN, common_lines, how_lines, key_of, own_lines, own_lines_again
from finplan.showing import capital
from finplan.system import Treatment
from finplan.timetable import (
    AfterCoat,
    TimetableStep,
    after_coat,
    cold_words,
    drying_by_coat,
    first_stretches,
    steps_by_row,
)

_NARROW = 10
"""Letters of a word that stand under the clock; a name with a longer one, or of many words, goes to the work."""


@dataclass(frozen=True, slots=True)
class Work:
    """A stretch before it is printed: the row as others may share it, and what is the item's own."""

    planned: TimetableStep
    row: StepRow
    own: tuple[str, ...] = ()
    treatment: Treatment | None = None
    after: AfterCoat | None = None
    """None where the row puts no coat on."""
    run: Run | None = None
    """Likewise."""

    @property
    def shared(self) -> tuple[object, ...]:
        """What has to be equal for two items to share a row."""
        row = self.row
        grit = "" if row.used else row.key
        said = (row.label, grit, row.room, row.lines, row.how, row.cautions, row.ticks)
        run = None if self.run is None else self.run.start
        return (
            self.treatment and self.treatment.system,
            self.planned.deed,
            self.after and self.after.comes,
            run,
            *said,
        )


class Works:
    """Makes the stretches of work of one plan ready to be printed."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self.names = Names(plan)
        self._steps = steps_by_row(plan.timetable.steps, plan.treatments)
        self._drying = drying_by_coat(plan.timetable.steps)
        self._runs = runs(plan)
        self._air = AirLines(plan)
        self._begun = first_stretches(plan.timetable.steps)

    def of(self, planned: TimetableStep, *, who: bool) -> Work:
        """Return one stretch of work; *who* is whether it says who does it."""
        person = planned.person if who else None
        if planned.deed == "clean-up":
            return self._clean_up(planned, person or "")
        row = StepRow(
            start=show_clock(planned.start),
            end=show_clock(planned.end),
            who=_narrow(person or ""),
            room=_narrow(planned.room),
            item=self.names.of_row(planned),
            label=capital(planned.step) + ("" if self._begun[planned.id] is planned else ", continued"),
            critical=planned.critical,
            lines=_too_wide(person or "", planned.room),
        )
        if planned.deed == "glue-up":
            return Work(planned, row, glue_up_lines(planned.item, self._plan.piece_of(planned)))
        if planned.deed in ("joints", "mask"):
            return Work(planned, row, before_coating_lines(planned.id, self._plan.piece_of(planned)))
        if planned.deed == "put-together":
            return Work(planned, row, put_together_lines(self._plan.piece_of(planned)))
        if planned.deed == "abrade-again":
            return self._again(planned, row)
        return self._step(planned, row)

    def _step(self, planned: TimetableStep, row: StepRow) -> Work:
        plan, catalogue = self._plan, self._plan.catalogue
        treatment, step = self._steps[planned.id]
        run = self._runs.get(planned.id)
        dries = self._drying.get(planned.id)
        row = replace(
            row,
            key=key_of(treatment, step, planned.side, plan),
            lines=(*row.lines, *common_lines(step, run, plan), *self._air.lines(planned.id)),
            how=how_lines(step, plan),
            cautions=(
                *(
                    coating_cautions(step, catalogue)
                    if run is not None
                    else abrading_cautions(treatment, step, catalogue)
                ),
                *self._air.cautions(planned.id),
            ),
            used=("ml" if plan.units == "metric" else "fl oz") if run is not None else "",
            warnings=() if dries is None else tuple(cold_words(dries, plan.units)),
            ticks=ticks_after(planned, plan),
        )
        after = None if run is None else after_coat(planned, treatment, step, self._begun)
        return Work(planned, row, own_lines(treatment, step, planned.side, plan), treatment, after, run)

    def _again(self, planned: TimetableStep, row: StepRow) -> Work:
        treatment, step = self._steps[planned.id]
        row = replace(
            row,
            lines=(*row.lines, AGAIN),
            cautions=abrading_cautions(treatment, step, self._plan.catalogue),
        )
        return Work(planned, row, own_lines_again(treatment, step, self._plan), treatment)

    def _clean_up(self, planned: TimetableStep, person: str) -> Work:
        """Return a row of one line, and what is ticked: the cloths are dealt with before anything else is begun."""
        treatment, step = self._steps[planned.id]
        catalogue = self._plan.catalogue
        row = StepRow(
            start=show_clock(planned.start),
            end=show_clock(planned.end),
            who=_narrow(person),
            room="",
            item="",
            label=clean_up_label(catalogue.finishes[step.finish or ""]),
            short=True,
            critical=planned.critical,
            ticks=ticks_after(planned, self._plan),
        )
        return Work(planned, row, treatment=treatment)


def _narrow(name: str) -> str:
    """Return a name that can stand under the clock, a word a line; an empty one where it cannot."""
    return name if len(name) <= 2 * _NARROW and all(len(word) <= _NARROW for word in name.split()) else ""


def _too_wide(person: str, room: str) -> tuple[str, ...]:
    """Return who works and where, as far as it does not stand under the clock."""
    told = [f"For {person}."] if person and not _narrow(person) else []
    told += [f"Where: {room}."] if not _narrow(room) else []
    return (" ".join(told),) if told else ()

"""One stretch of work before it is printed: its row, as others may share it, and what is the item's own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from finplan.moments import show_clock
from finplan.planning import Plan
from finplan.sheet.step_row import StepRow
from finplan.showing import capital
from finplan.system import Treatment, as_coat
from finplan.telling import (
    AfterCoat,
    Mixing,
    Names,
    Run,
    after_coats,
    again_line,
    before_coating_lines,
    clean_up_label,
    cold_words,
    common_lines,
    glue_up_lines,
    how_lines,
    key_of,
    marked,
    own_lines,
    own_lines_again,
    put_together_lines,
    runs,
    step_number,
)
from finplan.timetable import TimetableStep, drying_by_coat, first_stretches, steps_by_row

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
    worn: str = ""
    """What is worn, whether it is ticked or only said."""

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
            self.after and (self.after.comes, self.after.abraded),
            run,
            self.worn,
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
        self._after = after_coats(plan)
        self._begun = first_stretches(plan.timetable.steps)
        self._coats = {(row.of_step, row.side): row.id for row in self._begun.values() if row.deed in ("coat", "fill")}

    def name_of_go(self, go: Sequence[TimetableStep]) -> str:
        """Return the name of several of a set that get the same in one go."""
        return marked(self.names.of_go(go), self._plan.piece_of(go[0]), self._plan)

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
            number=step_number(planned),
            critical=planned.critical,
            lines=_too_wide(person or "", planned.room),
        )
        row = self._with_care(planned, row)
        return replace(self._of(planned, row), worn=self._worn(planned))

    def _of(self, planned: TimetableStep, row: StepRow) -> Work:
        if planned.deed in ("test", "wipe-down"):
            return Work(planned, row)
        if planned.deed == "glue-up":
            return Work(planned, row, glue_up_lines(planned.item, self._plan.piece_of(planned)))
        if planned.deed in ("joints", "mask"):
            return Work(planned, row, before_coating_lines(planned.id, self._plan.piece_of(planned)))
        if planned.deed == "put-together":
            return Work(planned, row, put_together_lines(self._plan.piece_of(planned)))
        if planned.deed == "abrade-again":
            return self._again(planned, row)
        return self._step(planned, row)

    def _with_care(self, planned: TimetableStep, row: StepRow) -> StepRow:
        """Return a row with what it asks for of safety."""
        precautions = self._plan.precautions
        care = precautions.rows.get(planned.id)
        ticks = tuple(one.text for one in precautions.ticks if one.row == planned.id and one.due == planned.end)
        if care is None:
            return replace(row, ticks=ticks)
        first = self._begun[planned.id] is planned
        return replace(
            row,
            before=care.before if first else (),
            wear=care.wear if first else care.worn and f"Wear: {care.worn}.",
            lines=(*row.lines, *(care.air if care.air_enough else ())),
            cautions=(*care.mind, *(() if care.air_enough else care.air)),
            ticks=ticks,
        )

    def _worn(self, planned: TimetableStep) -> str:
        care = self._plan.precautions.rows.get(planned.id)
        return "" if care is None else care.worn

    def _step(self, planned: TimetableStep, row: StepRow) -> Work:
        plan = self._plan
        treatment, step = self._steps[planned.id]
        run = self._runs.get(planned.id)
        measured = plan.materials.measured_at(step.id, planned.side)
        dries = self._drying.get(planned.id)
        row = replace(
            row,
            key=key_of(step, planned.side, plan),
            lines=(*common_lines(step, run, plan), *row.lines),
            how=how_lines(step, plan),
            used="" if measured is None else Mixing(plan.catalogue, plan.units).unit(measured),
            warnings=() if dries is None else tuple(cold_words(dries, plan.units)),
        )
        after = self._after.get(planned.id)
        return Work(planned, row, own_lines(treatment, step, planned.side, plan), treatment, after, run)

    def _again(self, planned: TimetableStep, row: StepRow) -> Work:
        treatment, step = self._steps[planned.id]
        row = replace(row, lines=(*row.lines, again_line(treatment, step, planned.side, self._plan)))
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
            label=clean_up_label(catalogue.finishes[as_coat(step).finish]),
            number=step_number(planned),
            short=True,
            critical=planned.critical,
        )
        row = self._with_care(planned, row)
        before = self._plan.precautions.rows.get(self._coats.get((planned.of_step, planned.side), ""))
        told = () if before is None else (*before.mind, *before.air)  # at the coat, a line above
        row = replace(
            row,
            lines=tuple(line for line in row.lines if line not in told),
            cautions=tuple(line for line in row.cautions if line not in told),
        )
        return Work(planned, row, treatment=treatment, worn=self._worn(planned))


def _narrow(name: str) -> str:
    """Return a name that can stand under the clock, a word a line; an empty one where it cannot."""
    return name if len(name) <= 2 * _NARROW and all(len(word) <= _NARROW for word in name.split()) else ""


def _too_wide(person: str, room: str) -> tuple[str, ...]:
    """Return who works and where, as far as it does not stand under the clock."""
    told = [f"For {person}."] if person and not _narrow(person) else []
    told += [f"Where: {room}."] if not _narrow(room) else []
    return (" ".join(told),) if told else ()

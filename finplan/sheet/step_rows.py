"""The rows of a day: one stretch of somebody's work each, or one for several items that get the same in turn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from finplan.plan import Plan
from finplan.sheet.planned import Names, drying_by_coat, step_id, steps_by_id
from finplan.sheet.recoat import Following, following, recoat_window
from finplan.sheet.row_cautions import abrading_cautions, coating_cautions, ticks_after
from finplan.sheet.step_words import AGAIN, common_lines, key_of, own_lines, own_lines_again
from finplan.sheet.words import capital, show_clock
from finplan.showing import show_temperature
from finplan.system import Treatment, TreatmentStep
from finplan.timetable import TimetableStep

_NARROW = 10
"""Letters of a word that stand under the clock; a name with a longer one, or of many words, goes to the work."""
_SEVERAL = 3
"""From so many on, items that get the same in turn share a row."""
_MOST = 12
"""No more items share a row, so that it is never taller than a page."""


@dataclass(frozen=True, slots=True)
class ItemLine:
    """One of several items that share a row, with a box of its own."""

    time: str
    item: str
    key: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StepRow:
    """One stretch of somebody's work, or of the same work on several items."""

    start: str
    end: str
    who: str
    room: str
    """As ``who``: none where its words are too long to stand under the clock, and it is told among the lines."""
    item: str
    label: str
    key: str
    """What is needed at a glance: the amount, or the grit."""
    lines: tuple[str, ...]
    cautions: tuple[str, ...]
    items: tuple[ItemLine, ...]
    """Where several share the row; none where it is of one."""
    used: str
    """The unit of the blank for what was really used; none where nothing is put on."""
    window: str
    warnings: tuple[str, ...]
    ticks: tuple[str, ...]
    """What is ticked when it is done."""


@dataclass(frozen=True, slots=True)
class _Work:
    """A stretch before it is printed: the row as others may share it, and what is the item's own."""

    planned: TimetableStep
    treatment: Treatment
    step: TreatmentStep
    row: StepRow
    own: tuple[str, ...]
    following: Following | None
    """None where the row puts no coat on."""

    @property
    def shared(self) -> tuple[object, ...]:
        """What has to be equal for two items to share a row."""
        row = self.row
        grit = "" if row.used else row.key
        said = (row.label, grit, row.room, row.lines, row.cautions, row.ticks)
        return (self.treatment.system, self.planned.person, self.following, *said)


class StepRows:
    """Makes the rows of one plan."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._names = Names(plan)
        self._steps = steps_by_id(plan)
        self._drying = drying_by_coat(plan)
        self._begun: dict[str, TimetableStep] = {}
        for row in plan.timetable.steps:
            if row.kind == "attended":
                self._begun.setdefault(row.id, row)

    def of(self, planned: Sequence[TimetableStep]) -> tuple[StepRow, ...]:
        """Return stretches of work as they are printed, in their order."""
        rows: list[StepRow] = []
        for _, together in groupby((self._work(one) for one in planned), key=lambda work: work.shared):
            works = list(together)
            if len(works) < _SEVERAL:
                rows += [self._single(work) for work in works]
            else:
                rows += [self._several(works[first : first + _MOST]) for first in range(0, len(works), _MOST)]
        return tuple(rows)

    def _work(self, planned: TimetableStep) -> _Work:
        plan, catalogue = self._plan, self._plan.source.catalogue
        of_step = step_id(planned, self._steps)
        treatment, step = self._steps[of_step]
        again = planned.id != of_step
        coat = step.finish is not None and not again
        who = planned.person or ""
        dries = self._drying.get(planned.id)
        abrading = again or step.do in ("abrade", "rub-out")
        row = StepRow(
            start=show_clock(planned.start),
            end=show_clock(planned.end),
            who=_narrow(who),
            room=_narrow(planned.room),
            item=self._names.of_row(planned),
            label=capital(planned.step) + ("" if self._begun[planned.id] is planned else ", continued"),
            key="" if again else key_of(step, plan),
            lines=(*_too_wide(planned), *((AGAIN,) if again else common_lines(step, plan))),
            cautions=abrading_cautions(treatment, step, catalogue) if abrading else coating_cautions(step, catalogue),
            items=(),
            used=("ml" if plan.source.units == "metric" else "fl oz") if coat else "",
            window="",
            warnings=(self._still(dries.still_below_c),) if dries and dries.still_below_c is not None else (),
            ticks=() if again else ticks_after(step, catalogue),
        )
        own = own_lines_again(step, plan) if again else own_lines(treatment, step, plan)
        return _Work(planned, treatment, step, row, own, following(treatment, step) if coat else None)

    def _still(self, limit_c: float) -> str:
        limit = show_temperature(limit_c, self._plan.source.units)
        return f"The nights are too cold: below {limit} it stands still, and the times here count that."

    def _single(self, work: _Work) -> StepRow:
        return replace(work.row, lines=(*work.own, *work.row.lines), window=self._window([work]))

    def _several(self, works: list[_Work]) -> StepRow:
        rows = [work.row for work in works]
        alike = all(work.own == works[0].own for work in works)
        items = tuple(
            ItemLine(f"{row.start}–{row.end}", row.item, row.key if row.used else "", () if alike else work.own)
            for work, row in zip(works, rows, strict=True)
        )
        return replace(
            rows[0],
            end=rows[-1].end,
            item=f"{len(works)} items",
            key="" if rows[0].used else rows[0].key,
            lines=(f"For each: {' '.join(works[0].own)}", *rows[0].lines) if alike and works[0].own else rows[0].lines,
            items=items,
            window=self._window(works),
            warnings=tuple(dict.fromkeys(warning for row in rows for warning in row.warnings)),
        )

    def _window(self, works: list[_Work]) -> str:
        coats = [(work.planned, work.treatment, work.step) for work in works if work.following is not None]
        return recoat_window(coats, self._begun) if coats else ""


def _narrow(name: str) -> str:
    """Return a name that can stand under the clock, a word a line; an empty one where it cannot."""
    return name if len(name) <= 2 * _NARROW and all(len(word) <= _NARROW for word in name.split()) else ""


def _too_wide(planned: TimetableStep) -> tuple[str, ...]:
    """Return who works and where, as far as it does not stand under the clock."""
    told = [f"For {planned.person}."] if planned.person and not _narrow(planned.person) else []
    told += [f"Where: {planned.room}."] if not _narrow(planned.room) else []
    return (" ".join(told),) if told else ()

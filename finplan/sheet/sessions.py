"""Sessions of a person's work: what is ticked, worn and minded in all of one is told once, before it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Literal

from finplan.planning import Plan
from finplan.sheet.step_row import StepRow, lines_taken
from finplan.sheet.step_rows import StepRows
from finplan.sheet.work import Work, Works
from finplan.telling import CareWords, before_coat_lines, row_care_words
from finplan.timetable import Deed, TimetableStep, steps_by_row

Kind = Literal["wet", "dust", "other"]
_KINDS: dict[Deed, Kind] = {
    "coat": "wet",
    "fill": "wet",
    "clean-up": "wet",
    "sand": "dust",
    "joints": "dust",
    "abrade": "dust",
    "abrade-again": "dust",
    "rub-out": "dust",
}
_TITLES: dict[Kind, str] = {
    "wet": "Before you open the tin",
    "dust": "Before you sand",
    "other": "Before you begin",
}
_PAUSE = timedelta(minutes=30)
"""After so long nobody has the tin open any more, and the air may have changed."""


@dataclass(frozen=True, slots=True)
class WorkSession:
    """Work of one kind that a person does in one room without a pause."""

    room: str
    """Empty where it is that of the session before."""
    title: str
    air: tuple[str, ...]
    """In what air its coats may be put on, each with blanks for what it is."""
    ticks: tuple[str, ...]
    cautions: tuple[str, ...]
    """What is minded in all of it."""
    lines: tuple[str, ...]
    """What is only known of all of it."""
    rows: tuple[StepRow, ...]

    @property
    def told(self) -> bool:
        """Whether anything is told before it."""
        return bool(self.room or self.air or self.ticks or self.cautions or self.lines)

    @property
    def height(self) -> int:
        """About how many lines it takes."""
        told = [" ".join((self.title, *self.air, *self.ticks)), " ".join((*self.cautions, *self.lines))]
        return sum(map(lines_taken, told)) + sum(row.height for row in self.rows)


class Sessions:
    """Makes the sessions of one plan."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._works = Works(plan)
        self._rows = StepRows(self._works, plan)
        self._steps = steps_by_row(plan.timetable.steps, plan.treatments)
        self._cares = {row: row_care_words(care, plan) for row, care in plan.precautions.rows.items()}

    def of(self, planned: Sequence[TimetableStep]) -> tuple[WorkSession, ...]:
        """Return the sessions of one person's work, in order of time."""
        parted: list[list[Work]] = []
        for one in planned:
            work = self._works.of(one)
            if parted and self._goes_on(parted[-1], work):
                parted[-1].append(work)
            else:
                parted.append([work])
        found = [self._session(works) for works in parted]
        rooms = ["", *(session.room for session in found)]
        return tuple(
            replace(session, room="") if session.room == before else session
            for session, before in zip(found, rooms, strict=False)
        )

    def _goes_on(self, session: Sequence[Work], work: Work) -> bool:
        """Return whether work belongs to a session: of its kind, or of none, asking for nothing of its own."""
        first, second = session[-1].planned, work.planned
        if second.deed == "clean-up":
            return kind_of(first) == "wet"
        if first.room != second.room or second.start - first.end > _PAUSE:
            return False
        kinds = {kind_of(one.planned) for one in session if self._care(one) is not None}
        return kinds <= {kind_of(second)} or (self._care(work) is None and kind_of(second) == "other")

    def _session(self, works: Sequence[Work]) -> WorkSession:
        cares = {work.planned.id: self._care(work) for work in works}
        of_work = [care for work in works if work.planned.deed != "clean-up" and (care := cares[work.planned.id])]
        ticks = dict.fromkeys(tick for work in works if work.begins for tick in _before(cares[work.planned.id]))
        cautions = _in_all(of_work, lambda care: care.cautions)
        lines = _in_all(of_work, lambda care: care.air if care.air_enough else ())
        air: dict[str, None] = {}
        for work in works:
            if work.planned.deed in ("coat", "fill"):
                limits, *others = before_coat_lines(self._steps[work.planned.id][1], self._plan)
                air[limits] = None
                ticks |= dict.fromkeys(others)
        told = (*ticks, *cautions, *lines)
        own = [replace(work, row=self._with_care(work.row, cares[work.planned.id], told)) for work in works]
        kind: Kind = next((kind_of(work.planned) for work in works if cares[work.planned.id] is not None), "other")
        return WorkSession(
            works[0].planned.room, _TITLES[kind], tuple(air), tuple(ticks), cautions, lines, self._rows.of(own)
        )

    def _care(self, work: Work) -> CareWords | None:
        return self._cares.get(work.planned.id)

    def _with_care(self, row: StepRow, care: CareWords | None, told: Sequence[str]) -> StepRow:
        """Return a row with what it asks for of safety and is not told before its session."""
        if care is None:
            return row
        worn = any(care.worn in line for line in told)
        return replace(
            row,
            wear=f"Wear: {care.worn}." if care.worn and not worn else "",
            cautions=tuple(line for line in care.cautions if line not in told),
            lines=(*row.lines, *(line for line in care.air if care.air_enough and line not in told)),
        )


def kind_of(row: TimetableStep) -> Kind:
    """Return of which kind the work of a row is."""
    return _KINDS.get(row.deed, "other")


def _before(care: CareWords | None) -> tuple[str, ...]:
    return () if care is None else care.before


def _in_all(cares: Sequence[CareWords], said: Callable[[CareWords], Sequence[str]]) -> tuple[str, ...]:
    """Return what is said in all rows of a session that ask for anything."""
    if not cares:
        return ()
    first, *others = [list(said(care)) for care in cares]
    return tuple(line for line in first if all(line in other for other in others))

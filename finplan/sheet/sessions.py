"""Sessions of a person's work: what is ticked, worn and minded in all of one is told once, before it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Literal

from finplan.planning import Plan
from finplan.sheet.step_row import StepRow
from finplan.sheet.step_rows import StepRows
from finplan.sheet.work import Work, Works
from finplan.system import TreatmentStep
from finplan.telling import CareWords, CoatAir, before_all, before_coat_lines, coat_air, row_care_words
from finplan.timetable import Deed, TimetableStep, steps_by_row

WorkKind = Literal["wet", "dust", "other"]
_KINDS: dict[Deed, WorkKind] = {
    "coat": "wet",
    "fill": "wet",
    "clean-up": "wet",
    "sand": "dust",
    "joints": "dust",
    "abrade": "dust",
    "abrade-again": "dust",
    "rub-out": "dust",
}
_TITLES: dict[WorkKind, str] = {
    "wet": "Before you open the tin",
    "dust": "Before you sand",
    "other": "Before you begin",
}
_LETTERS_IN_A_ROW = 60
_PAUSE = timedelta(minutes=30)
"""After so long nobody has the tin open any more, and the air may have changed."""


@dataclass(frozen=True, slots=True)
class WorkSession:
    """Work of one kind that a person does in one room without a pause."""

    room: str
    """Empty where it is that of the session before, once the day is put together."""
    title: str
    air: tuple[CoatAir, ...]
    """In what air its coats may be put on, each with blanks for what it is."""
    ticks: tuple[str, ...]
    cautions: tuple[str, ...]
    """What is minded in all of it."""
    lines: tuple[str, ...]
    """What is only known of all of it."""
    way: tuple[str, ...]
    """How all of its steps are done, where they are done alike."""
    rows: tuple[StepRow, ...]
    as_before: str = ""
    """The step before which all of its ticks were told already that day; empty where they are new."""
    said_before: tuple[str, ...] = ()
    """What of its cautions was told there too."""
    each_time: tuple[str, ...] = ()
    """What of its cautions is told again each time: what its ticks say too, and that its air does not do."""

    @property
    def told(self) -> bool:
        """Whether anything is told before it."""
        return bool(self.room or self.air or self.ticks or self.cautions or self.lines or self.way)

    @property
    def in_its_row(self) -> bool:
        """Whether what is told before it is so little that it stands in its one row."""
        more = (*self.air, *self.cautions, *self.lines, *self.way)
        single = len([row for row in self.rows if not row.short]) == len(self.rows) == 1
        return single and not more and (bool(self.as_before) or sum(map(len, self.ticks)) <= _LETTERS_IN_A_ROW)


class Sessions:
    """Makes the sessions of one plan."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._works = Works(plan)
        self._rows = StepRows(self._works, plan)
        self._steps = steps_by_row(plan.timetable.steps, plan.treatments)
        cautions = plan.catalogue.cautions.values()
        self._in_more_words = {caution.row: caution.before for caution in cautions if caution.row and caution.before}
        self._cares = {row: row_care_words(care, plan, brief=True) for row, care in plan.precautions.rows.items()}

    def of(self, planned: Sequence[TimetableStep]) -> tuple[WorkSession, ...]:
        """Return the sessions of one person's work, in order of time."""
        parted: list[list[Work]] = []
        for step in planned:
            work = self._works.of(step)
            if parted and self._goes_on(parted[-1], work):
                parted[-1].append(work)
            else:
                parted.append([work])
        return tuple(self._session(works) for works in parted)

    def _goes_on(self, session: Sequence[Work], work: Work) -> bool:
        """Return whether work belongs to a session: of its kind, or of none, asking for nothing of its own."""
        first, second = session[-1].planned, work.planned
        if second.deed == "clean-up":
            return work_kind(first) == "wet"
        if first.room != second.room or second.start - first.end > _PAUSE:
            return False
        kinds = {work_kind(done.planned) for done in session if self._care(done) is not None}
        return kinds <= {work_kind(second)} or (self._care(work) is None and work_kind(second) == "other")

    def _session(self, works: Sequence[Work]) -> WorkSession:
        cares = {work.planned.id: self._care(work) for work in works}
        of_work = [care for work in works if work.planned.deed != "clean-up" and (care := cares[work.planned.id])]
        headed = _headed(works, cares)
        ticks = dict.fromkeys(before_all([(work.planned, care) for work, care in headed]))
        cautions = _in_all(of_work, lambda care: care.cautions)
        lines = _in_all(of_work, lambda care: care.air if care.air_enough else ())
        too_little = {line for care in of_work if not care.air_enough for line in care.air}
        coats = [self._steps[work.planned.id][1] for work in works if work.planned.deed in ("coat", "fill")]
        air = self._airs(coats)
        for step in coats:
            ticks |= dict.fromkeys(before_coat_lines(step, self._plan, named=len(air) > 1)[1:])
        told = (*ticks, *cautions, *lines)
        on = {thing for _, care in headed for thing in care.on}
        way = _way_of_all(works)
        own = [
            replace(bare, row=self._with_care(bare.row, cares[bare.planned.id], told, on))
            for bare in (_without(way, work) for work in works)
        ]
        rows, below = _below_of_all(self._rows.of(own))
        kind: WorkKind = next(
            (work_kind(work.planned) for work in works if cares[work.planned.id] is not None), "other"
        )
        return WorkSession(
            works[0].planned.room,
            _TITLES[kind],
            air,
            tuple(ticks),
            cautions,
            lines,
            (*way, *below),
            rows,
            each_time=tuple(line for line in cautions if line in too_little or self._in_more_words.get(line) in ticks),
        )

    def _airs(self, coats: Sequence[TreatmentStep]) -> tuple[CoatAir, ...]:
        """Return the air of coats, each air once; named after its finishes where they want several."""
        titles: dict[CoatAir, dict[str, None]] = {}
        for step in coats:
            finish = self._plan.catalogue.finishes[step.finish or ""]
            titles.setdefault(coat_air(finish, self._plan.units), {})[finish.title] = None
        several = len(titles) > 1
        return tuple(replace(air, of=tuple(of) if several else ()) for air, of in titles.items())

    def _care(self, work: Work) -> CareWords | None:
        return self._cares.get(work.planned.id)

    def _with_care(self, row: StepRow, care: CareWords | None, told: Sequence[str], on: set[str]) -> StepRow:
        """Return a row with what it asks for of safety and is not told, or on, before its session."""
        if care is None:
            return row
        return replace(
            row,
            wear="" if set(care.on) <= on else f"Wear: {care.worn}.",
            cautions=tuple(line for line in care.cautions if line not in told),
            lines=(*row.lines, *(line for line in care.air if care.air_enough and line not in told)),
        )


def work_kind(row: TimetableStep) -> WorkKind:
    """Return of which kind the work of a row is."""
    return _KINDS.get(row.deed, "other")


def _headed(works: Sequence[Work], cares: Mapping[str, CareWords | None]) -> list[tuple[Work, CareWords]]:
    """Return the rows whose care is ticked before all of a session; none where nothing opens in it.

    What goes on after a break, or straight on from the row before, is worn as that is; of a clean-up only what opens.
    """
    asking = [(work, care) for work in works if (care := cares[work.planned.id]) is not None]
    if not any(work.begins and care.opens for work, care in asking):
        return []
    return [(work, care) for work, care in asking if care.opens or work.planned.deed != "clean-up"]


def _in_all(cares: Sequence[CareWords], said: Callable[[CareWords], Sequence[str]]) -> tuple[str, ...]:
    """Return what is said in all rows of a session that ask for anything."""
    if not cares:
        return ()
    first, *others = [list(said(care)) for care in cares]
    return tuple(line for line in first if all(line in other for other in others))


def _way_of_all(works: Sequence[Work]) -> tuple[str, ...]:
    """Return what is said of how each of several steps is done, where it is the same of all; clean-ups have none."""
    said = [(work.way, *work.row.lines) for work in works if not work.row.short]
    if len(said) < 2:
        return ()
    return tuple(line for line in said[0] if line and all(line in others for others in said))


def _without(told: Sequence[str], work: Work) -> Work:
    """Return a stretch of work without what is told before its session."""
    row = replace(work.row, lines=tuple(line for line in work.row.lines if line not in told))
    return replace(work, row=row, way="" if work.way in told else work.way)


def _below_of_all(rows: Sequence[StepRow]) -> tuple[tuple[StepRow, ...], tuple[str, ...]]:
    """Return rows, and until when all their coats may go on those below: where that is the same no row says it."""
    said = [row.below for row in rows if not row.short]
    if len(said) < 2 or len(set(said)) > 1 or not said[0]:
        return tuple(rows), ()
    return tuple(replace(row, below="") for row in rows), (said[0],)

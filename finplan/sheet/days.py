"""Day by day: who does what when, with room for what really happened."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby

from finplan.plan import Plan
from finplan.quantity import Range, show_duration, show_temperature
from finplan.sheet.buying import method_of, mixing, poured
from finplan.sheet.planned import drying_by_coat
from finplan.sheet.words import (
    capital,
    counted,
    listed,
    not_after,
    not_before,
    show_clock,
    show_decant,
    show_long_day,
    show_moment,
    show_range,
    show_span,
    show_work,
)
from finplan.system import Treatment, TreatmentStep
from finplan.timetable import TimetableStep

_ROWS_OF_A_PAGE = 5
"""So many of the tallest rows fit on one page."""
_NARROW = 10
"""Characters of a name that stand under the clock; a longer one goes to the work."""


@dataclass(frozen=True, slots=True)
class StepRow:
    """One stretch of somebody's work."""

    start: str
    end: str
    who: str
    item: str
    label: str
    key: str
    """What is needed at a glance: the amount, or the grit."""
    lines: tuple[str, ...]
    window: str
    warnings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WorkingDay:
    """One day of work."""

    heading: str
    whole: bool
    """Whether it is short enough to be kept on one page."""
    rows: tuple[StepRow, ...]
    drying: tuple[str, ...]
    """What is left standing, from when and until when."""
    evening: tuple[str, ...]
    """What is checked before the light is put out."""
    next_work: str


class _Days:
    """A plan with its steps found by their ids."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.finishes = plan.source.catalogue.finishes
        self.steps: dict[str, tuple[Treatment, TreatmentStep]] = {
            step.id: (treatment, step) for treatment in plan.treatments for step in treatment.steps
        }
        self.begun: dict[str, TimetableStep] = {}
        self.drying = drying_by_coat(plan)
        for row in plan.timetable.steps:
            if row.kind == "attended":
                self.begun.setdefault(row.id, row)

    def row(self, planned: TimetableStep) -> StepRow:
        """Return a stretch of work as it is printed."""
        label = capital(planned.step)
        if self.begun[planned.id] is not planned:
            label += ", continued"
        key, window = "", ""
        lines: tuple[str, ...] = ()
        if planned.id in self.steps:
            treatment, step = self.steps[planned.id]
            key, lines = self._what(treatment, step)
            if step.finish is not None:
                window = self._window(planned, treatment, step)
        else:
            lines = ("The coat below has stood too long: dull it all over by hand, or the next one will not hold.",)
        who = planned.person or ""
        if len(who) > _NARROW:
            who, lines = "", (f"For {who}.", *lines)
        dries = self.drying.get(planned.id)
        return StepRow(
            start=show_clock(planned.start),
            end=show_clock(planned.end),
            who=who,
            item=planned.item,
            label=label,
            key=key,
            lines=lines,
            window=window,
            warnings=(self._still(dries.still_below_c),) if dries and dries.still_below_c is not None else (),
        )

    def _still(self, limit_c: float) -> str:
        limit = show_temperature(limit_c, self.plan.source.units)
        return f"The nights are too cold: below {limit} it stands still, and the times here count that."

    def _what(self, treatment: Treatment, step: TreatmentStep) -> tuple[str, tuple[str, ...]]:
        lines = [] if len(step.groups) == len(treatment.groups) else [f"Only {listed(g.name for g in step.groups)}."]
        note = [f"{step.recipe.note}."] if step.recipe.note else []
        if step.do == "sand":
            return "", (*lines, *self._grits(step), *note)
        if step.do == "raise-grain":
            job = self.plan.source.catalogue.work["raise-grain"]
            return "", (*lines, f"{job.title}.", f"It dries in {show_range(job.wait_h, show_duration)}.", *note)
        if step.do in ("abrade", "rub-out"):
            hours = _together(sanded.hours for sanded in self.plan.sanding.abrading[step.id])
            return step.recipe.grit or "", (*lines, f"By hand, about {show_work(hours)}.", *note)
        coat = self.plan.materials.coat_of(step.id)
        if coat is None or step.finish is None:
            return "", (*lines, *note)
        finish, units = self.finishes[step.finish], self.plan.source.units
        at_hand = f"Have up to {show_decant(coat.needed_ml.high, units)} at hand."
        lines.append(f"{finish.title}. {method_of(coat, self.plan)}. {at_hand}")
        lines += [f"{capital(line)}." for line in mixing(coat, self.plan)]
        if finish.mix:
            lines.append(f"Use the mix within {show_duration(finish.mix.pot_life_h.low)}.")
        if finish.wipe_off_h:
            span = show_span(show_duration(finish.wipe_off_h.low), show_duration(finish.wipe_off_h.high))
            lines.append(f"Wipe off after {show_duration(finish.wipe_off_h.typical)} ({span}).")
        return poured(coat, self.plan), (*lines, *note)

    def _grits(self, step: TreatmentStep) -> list[str]:
        groups = set(step.groups)
        grits: dict[str, dict[str, float]] = {}
        for found in self.plan.sanding.groups:
            if found.group in groups:
                of_part = grits.setdefault(counted(found.group.part, found.group.count), {})
                of_part.update({sanded.grit: sanded.size_um for sanded in found.steps})
        lines = [f"{part}: {', '.join(sorted(sizes, key=lambda grit: -sizes[grit]))}." for part, sizes in grits.items()]
        return [*lines, "Tick each grit on the sanding card."]

    def _window(self, planned: TimetableStep, treatment: Treatment, step: TreatmentStep) -> str:
        """Return when the next coat may go on, in clock times."""
        if planned.next_from is None:
            return ""
        earliest = show_moment(not_before(planned.next_from))
        after = treatment.steps[treatment.steps.index(step) + 1 :]
        if after and after[0].do == "rub-out" and after[0].id in self.begun:
            return f"{capital(after[0].label)} from {show_moment(self.begun[after[0].id].start)}, when it has cured."
        if not any(later.finish is not None for later in after):
            return f"Last coat. Leave it alone until {earliest}."
        if planned.next_until is None:
            return f"Next coat not before {earliest}."
        grit = next((one.recipe.grit for one in (*after, *treatment.steps) if one.do == "abrade"), None)
        with_grit = f" with {grit}" if grit else ""
        latest = show_moment(not_after(planned.next_until))
        return f"Next coat not before {earliest}, not after {latest}; after that abrade{with_grit} first."

    def evening(self, rows: list[TimetableStep]) -> tuple[str, ...]:
        """Return what has to be seen to at the end of a day, by what was used on it."""
        used = [self.steps[row.id][1] for row in rows if row.id in self.steps]
        hazards = [self.finishes[step.finish].hazards for step in used if step.finish is not None]
        lines: list[str] = []
        if any(hazard.self_heating for hazard in hazards):
            lines.append(
                "Cloths, pads and gloves hang flat outdoors, or lie under water in the closed metal can. None is left "
                "in the shop."
            )
        if any(hazard.flammable for hazard in hazards):
            lines.append("Lids are on. Air keeps moving for as long as anything dries.")
        return tuple(lines)


def _together(hours: Iterable[Range]) -> Range:
    total = Range(0.0, 0.0, 0.0)
    for one in hours:
        total = total.plus(one)
    return total


def working_days(plan: Plan) -> tuple[WorkingDay, ...]:
    """Return the days on which somebody works."""
    days = _Days(plan)
    attended = [step for step in plan.timetable.steps if step.kind == "attended"]
    by_day = {day: list(rows) for day, rows in groupby(attended, key=lambda step: step.start.date())}
    following = dict(zip(by_day, list(by_day)[1:], strict=False))
    return tuple(
        WorkingDay(
            heading=show_long_day(day),
            whole=len(rows) <= _ROWS_OF_A_PAGE,
            rows=tuple(days.row(step) for step in rows),
            drying=_drying(plan, rows[0].start),
            evening=days.evening(rows),
            next_work=_next_work(by_day[following[day]], day) if day in following else _after_last(plan),
        )
        for day, rows in by_day.items()
    )


def _drying(plan: Plan, begin: datetime) -> tuple[str, ...]:
    """Return what dries at some time between the beginning of a day's work and midnight."""
    return tuple(
        f"{step.item}: {step.step}, from {show_moment(step.start)} until {show_moment(not_before(step.end))}"
        for step in plan.timetable.steps
        if step.kind == "drying" and step.start.date() <= begin.date() and step.end > begin
    )


def _next_work(rows: list[TimetableStep], day: date) -> str:
    first = rows[0]
    gap = (first.start.date() - day).days - 1
    idle = "" if not gap else "; nothing to do on the day between" if gap == 1 else f"; nothing to do for {gap} days"
    return f"Next work: {show_moment(first.start)}{idle}."


def _after_last(plan: Plan) -> str:
    ready = plan.timetable.ready
    return f"Last day of work. Ready for light use {show_moment(not_before(ready))}." if ready else ""

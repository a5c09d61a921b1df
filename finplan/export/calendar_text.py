"""What an event of the calendar says: what has to be known at the bench, short enough for a phone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from finplan.catalogue.caution import Moment
from finplan.material import poured_words
from finplan.plan import Plan
from finplan.showing import show_measured
from finplan.system import Treatment, TreatmentStep
from finplan.timetable import TimetableStep
from finplan.timetable.sides import FIRST_SIDE, SECOND_SIDE, side_of

_PUTS_ON = ("coat", "fill")
_SOON = timedelta(hours=2)
"""So long before a recoat window closes there is still time to act."""
_MORNING, _EVENING = 8, 17
"""Hours of the day between which a telephone may ring about a coat."""


class CalendarText:
    """The words of the events of one plan; the sheet says the rest."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._steps = {step.id: (treatment, step) for treatment in plan.treatments for step in treatment.steps}
        self._begun: dict[str, TimetableStep] = {}
        for row in plan.timetable.steps:
            self._begun.setdefault(row.id, row)
        self._ticks = _ticks_by_row(plan)

    def work(self, row: TimetableStep) -> Iterator[str]:
        """Give the lines of a stretch of work, what is done first and what to mind behind."""
        if row.person:
            yield f"For {row.person}."
        treatment, step = self._step_of(row)
        if treatment is None or step is None:
            if row.deed == "joints":
                yield "Grits: see the sanding card."
        elif row.deed == "sand":
            yield from self._grits(treatment, step)
        elif row.deed in _PUTS_ON:
            yield from self._amount(row, step)
            yield from self._window(row, treatment, step)
            yield from self._cautions("coating", self._causes(step))
        elif row.deed == "clean-up":
            yield from self._still_holds(step)
        elif row.deed in ("abrade", "rub-out", "abrade-again"):
            if row.deed == "abrade-again":
                yield "The coat below has stood too long: dull it all over, or the next one will not hold."
            below = treatment.steps[: treatment.steps.index(step)]
            yield from self._cautions("sanding", (self._title(one) for one in below if one.finish is not None))
        yield from self.ticks(row)

    def drying(self, row: TimetableStep) -> Iterator[str]:
        """Give the lines of a coat that dries."""
        yield "Do not touch, keep dust away."
        if row.still_below_c is not None:
            yield "The cold nights make it longer."

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
        coated = self._begun.get(row.id.removesuffix("/dry"))
        treatment, step = self._step_of(row)
        if coated is None or treatment is None or step is None or coated.id.endswith(FIRST_SIDE):
            return None
        _, closes = self._opens_and_closes(coated)
        if closes is None or not _coated_next(treatment, step):
            return None
        at = _by_day(closes - _SOON)
        if at <= row.end:
            return None
        return at, f"If the next coat is not on yet: not after {_clock(closes)}, or abrade first."

    # --- a coat -----------------------------------------------------------------------------------------------------

    def _amount(self, row: TimetableStep, step: TreatmentStep) -> Iterator[str]:
        coat = self._plan.materials.coat_of(step.id)
        if coat is None:
            return
        mix, units = self._plan.materials.mix_of(coat), self._plan.units
        amount, up_to = poured_words(mix, units), show_measured(mix.up_to_ml, units)
        if side_of(row.id):
            yield f"{self._title(step)}: both sides take {amount}, up to {up_to}; for this one see the sheet."
        else:
            yield f"{self._title(step)}: pour out {amount}, up to {up_to}."

    def _window(self, row: TimetableStep, treatment: Treatment, step: TreatmentStep) -> Iterator[str]:
        if row.id.endswith(FIRST_SIDE):
            other = self._begun.get(f"{row.id.removesuffix(FIRST_SIDE)}{SECOND_SIDE}")
            if other is not None:
                yield f"Turn it over when it is fit to handle, not before {_clock(other.start)}."
            return
        opens, closes = self._opens_and_closes(row)
        if opens is None:
            return
        later = _later(treatment, step)
        if later and later[0].do == "rub-out":
            rubbed = self._begun.get(later[0].id)
            yield "Leave it alone until it has cured" + (f"; rub out from {_clock(rubbed.start)}." if rubbed else ".")
        elif all(one.finish is None for one in later):
            yield f"Leave it alone until {_clock(opens)}."
        elif closes is not None and _coated_next(treatment, step):
            yield f"Next coat not before {_clock(opens)}, not after {_clock(closes)}; after that abrade first."
        else:
            yield f"Next coat not before {_clock(opens)}."

    def _opens_and_closes(self, row: TimetableStep) -> tuple[datetime | None, datetime | None]:
        """Return the recoat window of a coat; of one put on side by side, that of both sides."""
        first = self._begun.get(f"{row.id.removesuffix(SECOND_SIDE)}{FIRST_SIDE}")
        rows = [row] if first is None else [first, row]
        opens = [one.next_from for one in rows if one.next_from is not None]
        closes = [one.next_until for one in rows if one.next_until is not None]
        return max(opens, default=None), min(closes, default=None)

    # --- sanding ----------------------------------------------------------------------------------------------------

    def _grits(self, treatment: Treatment, step: TreatmentStep) -> Iterator[str]:
        groups = set(step.groups)
        sizes_um: dict[str, dict[str, float]] = {}
        for found in self._plan.piece_of(treatment).sanding.groups:
            if found.group in groups:
                of_part = sizes_um.setdefault(found.group.part, {})
                of_part.update({sanded.grit: sanded.size_um for sanded in found.steps})
        for part, sizes in sizes_um.items():
            grits = ", ".join(sorted(sizes, key=lambda grit: -sizes[grit]))
            if grits:
                yield f"{grits}." if part == treatment.item else f"{part}: {grits}."

    # --- cautions ---------------------------------------------------------------------------------------------------

    def _cautions(self, when: Moment, causes: Iterable[str]) -> Iterator[str]:
        """Give the cautions of a moment that something here calls for: not those of another finish of the plan."""
        here = set(causes)
        yield from (
            f"{line.title}: {line.text}"
            for line in self._plan.cautions
            if line.when == when and not here.isdisjoint(line.because)
        )

    def _still_holds(self, step: TreatmentStep) -> Iterator[str]:
        causes = set(self._causes(step))
        titles = [one.title for one in self._plan.cautions if one.when == "coating" and causes & set(one.because)]
        if titles:
            yield f"As for the coat, mind: {'; '.join(titles)}."

    def _causes(self, step: TreatmentStep) -> Iterator[str]:
        """Give what calls for cautions while a finish is put on: the finish, and the timber where that is bare."""
        yield self._title(step)
        if step.bare:
            yield from (self._plan.catalogue.timbers[group.timber].title for group in step.groups)

    def _title(self, step: TreatmentStep) -> str:
        return self._plan.catalogue.finishes[step.finish].title if step.finish is not None else ""

    def _step_of(self, row: TimetableStep) -> tuple[Treatment, TreatmentStep] | tuple[None, None]:
        """Return the step of a row; its id may have something behind it, as of a side, of drying, of a clean-up."""
        found = row.id
        while found not in self._steps and "/" in found:
            found = found.rpartition("/")[0]
        return self._steps.get(found, (None, None))


def _ticks_by_row(plan: Plan) -> dict[tuple[str, datetime], list[str]]:
    """Return what falls due, by the id and the end of a stretch; of the day's, at one that ends it, not at two."""
    found: dict[tuple[str, datetime], list[str]] = {}
    last = {row.end: row for row in plan.timetable.steps if row.kind == "attended"}
    for tick in plan.safety.ticks:
        row = tick.row or (last[tick.due].id if tick.due in last else None)
        if row is not None:
            found.setdefault((row, tick.due), []).append(tick.text)
    return found


def _later(treatment: Treatment, step: TreatmentStep) -> tuple[TreatmentStep, ...]:
    return treatment.steps[treatment.steps.index(step) + 1 :]


def _coated_next(treatment: Treatment, step: TreatmentStep) -> bool:
    """Return whether the very next thing is another coat, with nothing abraded before it."""
    later = _later(treatment, step)
    return bool(later) and later[0].finish is not None


def _by_day(moment: datetime) -> datetime:
    """Return a moment, or the last one before it at which somebody wants to be called.

    >>> _by_day(datetime(2027, 2, 8, 3, 40)), _by_day(datetime(2027, 2, 8, 19, 0)), _by_day(datetime(2027, 2, 8, 8, 25))
    (datetime.datetime(2027, 2, 7, 17, 0), datetime.datetime(2027, 2, 8, 17, 0), datetime.datetime(2027, 2, 8, 8, 25))
    """
    if moment.hour < _MORNING:
        return (moment - timedelta(days=1)).replace(hour=_EVENING, minute=0)
    return moment.replace(hour=_EVENING, minute=0) if moment.hour >= _EVENING else moment


def _clock(moment: datetime) -> str:
    return f"{moment:%a} {moment.day} {moment:%b %H:%M}"

"""Part tags: what is said of every wet coat on everything that is picked up, in the order in which they go on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from finplan.moments import show_moment
from finplan.planning import Plan
from finplan.showing import capital
from finplan.system import FIRST_SIDE, SECOND_SIDE, CoatStep, Treatment, TreatmentStep, as_coat
from finplan.telling import AfterCoat, LeftAlone, after_coats, left_alone, one_name, ready_at, step_number
from finplan.timetable import TimetableStep, first_stretches, steps_by_row


@dataclass(frozen=True, slots=True)
class Tag:
    """What one label says."""

    piece: str
    part: str
    number: str
    """Which of several loose ones it is; empty where there is one."""
    coat: str
    put_on: str
    caution: str
    """What is not done before the moment."""
    moment: str
    then: str
    """What comes next; empty where nothing does."""
    hand_over: str = ""
    """Of a last coat, when its piece may leave the workshop."""

    @property
    def thing(self) -> str:
        """The part with its number, which stays on one line."""
        return f"{self.part} {self.number}" if self.number else self.part


def tags(plan: Plan) -> tuple[Tag, ...]:
    """Return a tag for every coat of every item in the order in which they are put on, one above all parts at once.

    So has what is left alone though no coat is on it: what lies under stripper, what was washed.

    An assembly is one thing and has one tag; of parts that stand alone each has its own, "shelf 2 of 4", since each is
    put down somewhere else. A tag says what is wet and since when, until when it is not touched, and what comes then.
    It hangs on the part until the tag of the next coat takes its place, so that at any time the tag on a part is true;
    the tags are peeled off in turn as the work goes on.

    A coat is not touched until the next one may go on it: fit to handle it may be earlier, but a tag that is read from
    afar tells one moment, and the later one spoils nothing. Only a thing that has to be turned over is turned earlier.
    A last coat is left alone until it is fit to handle, one that is rubbed out until it has cured.
    """
    steps = steps_by_row(plan.timetable.steps, plan.treatments)
    after = after_coats(plan)
    rows = sorted(first_stretches(plan.timetable.steps).values(), key=lambda row: row.start.timestamp())
    stands = left_alone(plan)
    made: list[Tag] = []
    for row in rows:
        if row.id in after:
            made += _of(row, *steps[row.id], after[row.id], plan)
        elif row.id in stands and row.id in steps:
            made += _standing(row, *steps[row.id], stands[row.id], plan)
    return tuple(made)


def _standing(
    row: TimetableStep, treatment: Treatment, step: TreatmentStep, stands: LeftAlone, plan: Plan
) -> Iterator[Tag]:
    """Give the tags of what is left alone though no coat is on it."""
    number = step_number(row)
    did = f"{number}. {capital(row.step)}" if number else capital(row.step)
    yield from _each(row, treatment, did, (stands.caution, show_moment(stands.until)), stands.row, plan)


def _of(row: TimetableStep, treatment: Treatment, step: TreatmentStep, after: AfterCoat, plan: Plan) -> Iterator[Tag]:
    yield from _each(row, treatment, _coat(row, treatment, as_coat(step), plan), _leave_alone(after), row, plan)


def _each(
    row: TimetableStep, treatment: Treatment, did: str, alone: tuple[str, str], last: TimetableStep, plan: Plan
) -> Iterator[Tag]:
    caution, moment = alone
    then, hand_over = _then(last, plan)
    name = one_name(treatment, plan)
    for number in range(1, treatment.pieces + 1):
        yield Tag(
            piece=plan.piece_of(row).name,
            part=name,
            number="" if treatment.pieces == 1 else f"{number}\u00a0of\u00a0{treatment.pieces}",
            coat=did,
            put_on=show_moment(row.start),
            caution=caution,
            moment=moment,
            then=then,
            hand_over=hand_over,
        )


def _coat(row: TimetableStep, treatment: Treatment, step: CoatStep, plan: Plan) -> str:
    finish = plan.catalogue.finishes[step.finish].title
    coats = [coat for coat in treatment.steps if coat.coat is not None]
    of_how_many = f" of {len(coats)}" if step.coat is not None and len(coats) > 1 else ""
    side = {FIRST_SIDE: ", first side", SECOND_SIDE: ", other side"}.get(row.side, "")
    number = step_number(row)
    called = f"{number}. " if number else ""
    return f"{called}{capital(step.label)}{of_how_many}{side}: {finish}"


def _leave_alone(after: AfterCoat) -> tuple[str, str]:
    """Return what is not done to a wet thing, and before when; of a first side it is turning it over."""
    until = after.untouched_until
    deed = "turn over" if after.comes == "other-side" else "touch"
    return f"Wet. Do not {deed} before", "it is dry" if until is None else show_moment(until)


def _then(row: TimetableStep, plan: Plan) -> tuple[str, str]:
    """Return what comes next to the item, and where no more is done to it alone, when its piece may be handed over."""
    later = [
        step
        for step in plan.timetable.steps
        if step.piece == row.piece and step.kind == "attended" and step.start >= row.end and step.deed != "clean-up"
    ]
    following = _next([step for step in later if step.item == row.item])
    if following:
        return following, ""
    ready = next(ready_at(piece) for piece in plan.timetable.pieces if piece.piece == row.piece)
    together = _next([step for step in later if step.deed == "put-together"])
    return together, f"Hand over after {show_moment(ready)}."


def _next(rows: Sequence[TimetableStep]) -> str:
    if not rows:
        return ""
    first = min(rows, key=lambda step: step.start.timestamp())
    return f"Then {first.step}, {show_moment(first.start)}."

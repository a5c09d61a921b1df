"""What comes on a coat that was put on, and in which time: in clock times, and in words."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from finplan.moments import not_after, not_before, show_moment
from finplan.planning import Plan
from finplan.showing import capital
from finplan.system import FIRST_SIDE, SECOND_SIDE, Treatment, TreatmentStep, side_id
from finplan.timetable import Comes, Deed, TimetableStep, first_stretches, following, later_steps, steps_by_row

PUTS_ON: tuple[Deed, ...] = ("coat", "fill")
"""What leaves a wet coat."""
_UNKNOWN: dict[Comes, str] = {
    "other-side": "Turn it over when it is fit to handle; then the other side.",
    "rub-out": "Leave it alone until it has cured.",
}
"""What is said where it is not known when."""
_STATES: dict[Comes, str] = {"other-side": "fit to handle", "rub-out": "cured", "nothing": "fit to handle"}
"""What a coat has to be for what comes; dry for all else."""


@dataclass(frozen=True, slots=True)
class AfterCoat:
    """What comes on a coat, or on one side of it."""

    comes: Comes
    opens: datetime | None
    """From when anybody may touch it, on both sides: for a next coat and for abrading it has to be fit to be recoated,
    for rubbing out cured, to be turned over and as a last coat fit to handle. None where it does not get so far in the
    time planned."""
    closes: datetime | None
    """Until when it may without being abraded first; None where that is always so, or it is abraded anyway."""
    abraded: bool = False
    """Whether it is planned to be abraded before the next coat."""
    rubbing: str = ""
    """How it is rubbed out, where that comes."""
    abrade_with: str = ""
    """The grade with which it is abraded where it has become too hard."""

    @property
    def untouched_until(self) -> datetime | None:
        """Until when nobody touches it, or of a first side turns it over; None where that is later than is planned."""
        return None if self.opens is None else not_before(self.opens)


def after_coat(
    row: TimetableStep, treatment: Treatment, step: TreatmentStep, begun: Mapping[str, TimetableStep]
) -> AfterCoat:
    """Return what comes on the coat that a row puts on.

    Parameters
    ----------
    row
        Attended; it puts on a coat, or one side of it
    treatment, step
        What the row belongs to
    begun
        The first stretch of everything, by its id
    """
    comes = following(treatment, step)
    later = later_steps(treatment, step)
    other_side = (
        begun.get(side_id(step.id, SECOND_SIDE if row.side == FIRST_SIDE else FIRST_SIDE)) if row.side else None
    )
    if row.side == FIRST_SIDE and other_side is not None:
        return AfterCoat("other-side", row.alone_until, None)
    sides = [row] if other_side is None else [other_side, row]
    opens = [side.alone_until for side in sides]
    if comes in ("coat", "abrading"):
        opens += [side.next_from for side in sides]  # a first side is only waited for until it may be turned over
    closes = [side.next_until for side in sides if side.next_until is not None]
    return AfterCoat(
        comes=comes,
        opens=latest_known(opens),
        closes=min(closes, default=None) if comes == "coat" else None,
        abraded=comes == "abrading" or any(side.abraded_first for side in sides),
        rubbing=later[0].label if comes == "rub-out" else "",
        abrade_with=next(
            (abrading.recipe.grit or "" for abrading in (*later, *treatment.steps) if abrading.do == "abrade"), ""
        ),
    )


def after_coats(plan: Plan) -> dict[str, AfterCoat]:
    """Return what comes on every coat that is still to be put on, by the id of its row."""
    rows = plan.timetable.steps
    steps, begun = steps_by_row(rows, plan.treatments), first_stretches(rows)
    return {row.id: after_coat(row, *steps[row.id], begun) for row in begun.values() if row.deed in PUTS_ON}


def latest_known(moments: Iterable[datetime | None]) -> datetime | None:
    """Return the latest of moments; None where one of them is not known, for then nothing is."""
    known = list(moments)
    return None if None in known else max(moment for moment in known if moment is not None)


def after_coat_words(coats: Sequence[AfterCoat]) -> str:
    """Return what comes and when, for someone who reads it beside the wet coat; empty where no time is known.

    Parameters
    ----------
    coats
        What comes on coats that are spoken of as one, on all of them the same: the times hold for all, or it is said
        of the first and of the last, as each is taken in its turn
    """
    first = coats[0]
    opens = latest_known(coat.opens for coat in coats)
    closes = min((coat.closes for coat in coats if coat.closes is not None), default=None)
    if opens is None:
        return _UNKNOWN.get(first.comes, "")
    each = [show_moment(not_before(moment)) for moment in sorted({coat.opens for coat in coats if coat.opens})]
    earliest = each[-1] if len(set(each)) == 1 else f"{each[0]} the first, {each[-1]} the last"
    if first.comes == "other-side":
        return f"Turn it over when it is fit to handle, not before {earliest}; then the other side."
    if first.comes == "rub-out":
        return f"{capital(first.rubbing)} not before {earliest}, when it has cured."
    if first.comes == "nothing":
        return f"Last coat. Leave it alone until {each[-1]}."
    if closes is None:
        return f"Next coat not before {earliest}."
    latest = show_moment(not_after(closes))
    with_grit = f" with {first.abrade_with}" if first.abrade_with else ""
    if closes < opens:
        return f"Next coat not before {earliest}; by then it is too hard, so abrade{with_grit} first."
    if all(coat.abraded for coat in coats):
        too_hard = f"planned after {latest}, when this is too hard, so abrade{with_grit} first"
        return f"Next coat not before {earliest}; {too_hard}."
    return f"Next coat not before {earliest}, not after {latest}; after that abrade{with_grit} first."


@dataclass(frozen=True, slots=True)
class Then:
    """What is done next to a coat, or to the first of several."""

    first: datetime
    moment: str
    """The same in words."""
    what: str

    def after(self, moment: str) -> str:
        """Return it behind a moment, which is not told twice."""
        return f", then {self.what}" if moment == self.moment else f"; next: {self.moment} {self.what}"


def dried_words(
    coats: Sequence[AfterCoat],
    then: Then | None,
    working: Callable[[datetime], datetime],
    free: Callable[[datetime], datetime],
) -> str:
    """Return when a coat is dry and what is done then, for who works by the clock of the shop.

    Nobody is sent to a coat at night: what is dry then is told as dry, and what is done next by when somebody works.

    Parameters
    ----------
    coats
        As of ``after_coat_words``
    then
        What is done next; None where nothing is planned
    working
        From a moment to the first one from it on at which somebody works
    free
        The same to the first one at which somebody works and nobody has put him to anything
    """
    first = coats[0]
    opens = latest_known(coat.opens for coat in coats)
    if opens is None:
        return _UNKNOWN.get(first.comes, "")
    each = {coat.opens for coat in coats if coat.opens is not None}
    if then is not None and min(each) <= then.first < opens:
        last = "Last coat. " if first.comes == "nothing" else ""
        return f"{last}{_in_turn(each, first.comes, then)}{_closing(coats, opens)}"
    dry, alone = show_moment(not_before(opens)), show_moment(working(not_before(opens)))
    leave = f"leave it alone until {alone}"
    if first.comes == "nothing":
        told = capital(leave) if alone == dry else f"Dry {dry}; {leave}"
        return f"Last coat. {told}{'' if then is None else then.after(alone)}."
    goes_on = f"; {leave}" if then is None else then.after(dry)
    if first.comes == "other-side":
        return f"{capital(_STATES[first.comes])} {dry}{_turned(not_before(opens), free(not_before(opens)), then)}."
    if first.comes == "rub-out":
        return f"{capital(_STATES[first.comes])} {dry}{goes_on}."
    return f"Dry {dry}{goes_on}.{_closing(coats, opens)}"


def _turned(fit: datetime, free: datetime, then: Then | None) -> str:
    """Return when a coat that is fit to be handled is turned over: when somebody is there with nothing else to do."""
    if free <= fit:
        return f": turn it over then{'' if then is None else then.after(show_moment(fit))}"
    if then is not None and then.first <= free:
        return f"; next: turn it over {then.moment}, for {then.what}"
    told = show_moment(free)
    return f"; turn it over {told}, when somebody is free{'' if then is None else then.after(told)}"


def _in_turn(opens: Iterable[datetime], comes: Comes, then: Then) -> str:
    """Return of coats of which the first goes on before the last may be touched that each is taken in its turn."""
    in_order = [show_moment(not_before(moment)) for moment in sorted(opens)]
    state = _STATES.get(comes, "dry")
    told = f"{capital(state)} one after the other, {in_order[0]} to {in_order[-1]}"
    if comes == "other-side":
        return f"{told}; turn each then, from {then.moment}, for {then.what}."
    return f"{told}; next, each when it is {state}, from {then.moment}: {then.what}."


def _closing(coats: Sequence[AfterCoat], opens: datetime) -> str:
    """Return until when the next coat goes on as it is, in a sentence with a space before it; empty of no end."""
    closes = min((coat.closes for coat in coats if coat.closes is not None), default=None)
    if closes is None:
        return ""
    abrade = f"abrade with {coats[0].abrade_with} first" if coats[0].abrade_with else "abrade first"
    if closes < opens:
        return f" But by then it is too hard: {abrade}."
    latest = show_moment(not_after(closes))
    if all(coat.abraded for coat in coats):
        return f" The next coat is planned after {latest}, when this is too hard: {abrade}."
    return f" The next coat goes on not after {latest}; after that {abrade}."


def still_takes_words(below: Sequence[AfterCoat], *, why: bool = True) -> str:
    """Return until when a coat may go on those below it, and *why* where there is no limit.

    Empty where nothing is known of it, or of a first coat.
    """
    if not below or below[0].comes not in ("coat", "abrading"):
        return ""
    closes = min((after.closes for after in below if after.closes is not None and not after.abraded), default=None)
    if closes is not None:
        abrade = f"abrade with {below[0].abrade_with} first" if below[0].abrade_with else "abrade first"
        return f"It may go on until {show_moment(not_after(closes))}; after that {abrade}."
    if why and all(after.abraded for after in below):
        return "The coat below sets no limit: it is abraded first."
    return "The coat below sets no limit."


def next_by_words(coats: Sequence[AfterCoat]) -> str:
    """Return by when the next coat goes on without abrading, in a word or two; empty where no coat comes next.

    Parameters
    ----------
    coats
        As of ``after_coat_words``
    """
    if coats[0].comes not in ("coat", "abrading"):
        return ""
    if all(coat.abraded for coat in coats):
        return "abraded first"
    if latest_known(coat.opens for coat in coats) is None:
        return ""
    closes = min((coat.closes for coat in coats if coat.closes is not None and not coat.abraded), default=None)
    return "no limit" if closes is None else show_moment(not_after(closes))

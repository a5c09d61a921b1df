"""What comes on a coat that was put on, and in which time: in clock times, and in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import takewhile
from typing import Literal

from finplan.moments import not_after, not_before, show_moment
from finplan.showing import capital
from finplan.system import Treatment, TreatmentStep
from finplan.timetable.sides import FIRST_SIDE, SECOND_SIDE
from finplan.timetable.timetable import TimetableStep

Comes = Literal["other-side", "rub-out", "nothing", "abrading", "coat"]
"""What comes on a coat; before a coat it is abraded, or it is not."""


@dataclass(frozen=True, slots=True)
class AfterCoat:
    """What comes on a coat, or on one side of it."""

    comes: Comes
    begins: datetime | None
    """When it is turned over or rubbed out, as planned; None where neither is in the plan."""
    opens: datetime | None
    """From when the next coat may go on, on both sides; None where the coat does not dry in the time planned."""
    closes: datetime | None
    """Until when it may without being abraded first; None where that is always so, or it is abraded anyway."""
    rubbing: str = ""
    """How it is rubbed out, where that comes."""
    abrade_with: str = ""
    """The grade with which it is abraded where it has become too hard."""


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
    later = _later(treatment, step)
    other = begun.get(f"{step.id}{SECOND_SIDE if row.side == FIRST_SIDE else FIRST_SIDE}") if row.side else None
    if row.side == FIRST_SIDE and other is not None:
        return AfterCoat("other-side", other.start, row.next_from, None)
    sides = [row] if other is None else [other, row]
    opens = [side.next_from for side in sides if side.next_from is not None]
    closes = [side.next_until for side in sides if side.next_until is not None]
    rubbed = begun.get(later[0].id) if comes == "rub-out" else None
    return AfterCoat(
        comes=comes,
        begins=None if rubbed is None else rubbed.start,
        opens=max(opens, default=None),
        closes=min(closes, default=None) if comes == "coat" else None,
        rubbing=later[0].label if comes == "rub-out" else "",
        abrade_with=next((one.recipe.grit or "" for one in (*later, *treatment.steps) if one.do == "abrade"), ""),
    )


def following(treatment: Treatment, step: TreatmentStep) -> Comes:
    """Return what comes on a coat once it is on all its faces."""
    later = _later(treatment, step)
    if later and later[0].do == "rub-out":
        return "rub-out"
    if all(one.finish is None for one in later):
        return "nothing"
    before_next = takewhile(lambda one: one.finish is None, later)
    return "abrading" if any(one.do in ("sand", "abrade", "rub-out") for one in before_next) else "coat"


def after_coat_words(coats: Sequence[AfterCoat]) -> str:
    """Return what comes and when, for someone who reads it beside the wet coat; empty where no time is known.

    Parameters
    ----------
    coats
        What comes on coats that are spoken of as one, on all of them the same: the times hold for all
    """
    first = coats[0]
    begins = max((one.begins for one in coats if one.begins is not None), default=None)
    opens = max((one.opens for one in coats if one.opens is not None), default=None)
    closes = min((one.closes for one in coats if one.closes is not None), default=None)
    if first.comes == "other-side" and begins is not None:
        return f"Turn it over when it is fit to handle, not before {show_moment(begins)}; then the other side."
    if first.comes == "rub-out":
        return "Leave it alone until it has cured." if begins is None else _rubbed(first, begins)
    if opens is None:
        return ""
    earliest = show_moment(not_before(opens))
    if first.comes == "nothing":
        return f"Last coat. Leave it alone until {earliest}."
    if closes is None:
        return f"Next coat not before {earliest}."
    latest = show_moment(not_after(closes))
    with_grit = f" with {first.abrade_with}" if first.abrade_with else ""
    return f"Next coat not before {earliest}, not after {latest}; after that abrade{with_grit} first."


def _rubbed(coat: AfterCoat, begins: datetime) -> str:
    return f"{capital(coat.rubbing)} from {show_moment(begins)}, when it has cured."


def _later(treatment: Treatment, step: TreatmentStep) -> tuple[TreatmentStep, ...]:
    return treatment.steps[treatment.steps.index(step) + 1 :]

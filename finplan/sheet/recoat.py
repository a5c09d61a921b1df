"""When the next coat may go on, and until when it matters."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import takewhile
from typing import Literal

from finplan.sheet.words import capital, not_after, not_before, show_moment
from finplan.system import Treatment, TreatmentStep
from finplan.timetable import TimetableStep
from finplan.timetable.sides import FIRST_SIDE, SECOND_SIDE

Following = Literal["rub-out", "nothing", "abrading", "coat"]
"""What comes on a coat."""


def following(treatment: Treatment, step: TreatmentStep) -> Following:
    """Return what comes on a coat: nothing, rubbing out once it has cured, or a coat, with abrading before or not."""
    after = _after(treatment, step)
    if after and after[0].do == "rub-out":
        return "rub-out"
    if all(later.finish is None for later in after):
        return "nothing"
    before_next = takewhile(lambda later: later.finish is None, after)
    return "abrading" if any(one.do in ("sand", "abrade", "rub-out") for one in before_next) else "coat"


def recoat_window(
    coats: Sequence[tuple[TimetableStep, Treatment, TreatmentStep]], begun: Mapping[str, TimetableStep]
) -> str:
    """Return when the next step may come, in clock times.

    Parameters
    ----------
    coats
        Rows that put on the same coat, each with its treatment and step; the window holds for all of them
    begun
        The first row of everything, by its id
    """
    turning = _turning([row for row, _, _ in coats], begun)
    if turning:
        return turning
    rows = [side for row, _, _ in coats for side in _both_sides(row, begun)]
    opens = [row.next_from for row in rows if row.next_from is not None]
    if not opens:
        return ""
    earliest = show_moment(not_before(max(opens)))
    _, treatment, step = coats[0]
    comes = following(treatment, step)
    if comes == "rub-out":
        rubbing = [_after(one, coat)[0] for _, one, coat in coats]
        begins = [begun[one.id].start for one in rubbing if one.id in begun]
        if begins:
            return f"{capital(rubbing[0].label)} from {show_moment(max(begins))}, when it has cured."
    if comes == "nothing":
        return f"Last coat. Leave it alone until {earliest}."
    closes = [row.next_until for row in rows if row.next_until is not None]
    # Where it is abraded before the next coat anyway, no coat comes too late for it.
    if comes != "coat" or not closes:
        return f"Next coat not before {earliest}."
    grit = next((one.recipe.grit for one in (*_after(treatment, step), *treatment.steps) if one.do == "abrade"), None)
    with_grit = f" with {grit}" if grit else ""
    latest = show_moment(not_after(min(closes)))
    return f"Next coat not before {earliest}, not after {latest}; after that abrade{with_grit} first."


def _turning(rows: Sequence[TimetableStep], begun: Mapping[str, TimetableStep]) -> str:
    """Return when an item of which one side was coated is turned over; empty where nothing waits for that."""
    others = [begun.get(f"{row.id.removesuffix(FIRST_SIDE)}{SECOND_SIDE}") for row in rows]
    starts = [other.start for row, other in zip(rows, others, strict=True) if other and row.id.endswith(FIRST_SIDE)]
    if not starts:
        return ""
    return f"Turn it over when it is fit to handle, not before {show_moment(max(starts))}; then the other side."


def _both_sides(row: TimetableStep, begun: Mapping[str, TimetableStep]) -> list[TimetableStep]:
    """Return a row with that of the side that was coated before it, where there is one."""
    if not row.id.endswith(SECOND_SIDE):
        return [row]
    before = begun.get(f"{row.id.removesuffix(SECOND_SIDE)}{FIRST_SIDE}")
    return [row] if before is None else [before, row]


def _after(treatment: Treatment, step: TreatmentStep) -> tuple[TreatmentStep, ...]:
    return treatment.steps[treatment.steps.index(step) + 1 :]

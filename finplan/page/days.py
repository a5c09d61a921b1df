"""The days of a piece in the words of the sheet: dates, chance, what each day brings, what clashes, what would help."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from finplan.page.edits import Edit, SetValue
from finplan.planning import Plan, with_stages
from finplan.sheet import Sheet, sheet_of
from finplan.telling import chance_words, requirement_words, would_fit_words
from finplan.timetable import LaterDates, OtherSystem, Remedy, Timetable, WouldFit


@dataclass(frozen=True, slots=True)
class Help:
    """What would help, and the edit that does it; None where it is not the piece that has to change."""

    words: str
    edit: Edit | None


@dataclass(frozen=True, slots=True)
class DaysView:
    """All that a page says of a timetable."""

    sheet: Sheet | None
    """As it would be printed; None where nothing fits."""
    chance: tuple[str, ...] = ()
    clashes: tuple[str, ...] = ()
    fits: bool = True
    would_help: tuple[Help, ...] = field(default=())


def planned(plan: Plan, timetable: Timetable) -> Plan:
    """Return a plan with the timetable that was found for it."""
    return with_stages(plan, timetable=timetable)


def days_view(plan: Plan) -> DaysView:
    """Return what is said of the timetable of a plan, which knows it."""
    table = plan.timetable
    if not table.has_plan:
        fits = dict.fromkeys(one for clash in table.clashes for one in clash.would_fit)
        head = "This does not fit." if table.status == "impossible" else "No plan was found in which this fits."
        clashes = (head, *(f"{requirement_words(clash.requirement)}." for clash in table.clashes))
        return DaysView(None, (), clashes, fits=False, would_help=_helps(tuple(fits), table))
    return DaysView(sheet_of(plan), chance_words(table), would_help=_helps(table.would_be_sure, table))


def _helps(fits: tuple[WouldFit, ...], table: Timetable) -> tuple[Help, ...]:
    return tuple(Help(would_fit_words(one, table.working_day_h), _edit(one.change)) for one in fits)


def _edit(change: Remedy) -> Edit | None:
    match change:
        case LaterDates(dates=((_, moment),)):
            return SetValue(path=("deliver",), value=f"{moment:%Y-%m-%d %H:%M}")
        case OtherSystem():
            return SetValue(path=("system",), value=change.system)
        case _:
            return None


def days_data(view: DaysView) -> dict[str, Any]:
    """Return it for other programs."""
    facts = [] if view.sheet is None else [{"name": one.name, "value": one.value} for one in view.sheet.first.facts]
    return {"fits": view.fits, "facts": facts, "chance": list(view.chance), "clashes": list(view.clashes)}

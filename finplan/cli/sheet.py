"""Writing the sheet."""

from __future__ import annotations

from pathlib import Path

import typer

from finplan.cli.output import refuse_what_does_not_fit, write_page
from finplan.cli.wishes import as_option
from finplan.listing import listed
from finplan.moments import show_year_day
from finplan.planning import Plan, date_of
from finplan.press import Press
from finplan.problems import nearest, shown
from finplan.sheet import OnlyDays, appendix_html, sheet_html, unprintable
from finplan.telling import helps


def _only_of(plan: Plan, day: str | None, person: str | None) -> OnlyDays | None:
    """Return which days are wanted by what is typed; None for the whole sheet.

    Raises
    ------
    typer.BadParameter
        Nobody works on the day, or the person never does.
    """
    if day is None and person is None:
        return None
    attended = [row for row in plan.timetable.steps if row.kind == "attended"]
    helping = helps(plan)
    people = list(dict.fromkeys([*(row.person or "" for row in attended), *(hand.person for hand in helping)]))
    if person is not None and person not in people:
        hint = nearest(person, people)
        known = f"did you mean '{hint}'?" if hint else f"who works is {listed(people)}"
        msg = f"{shown(person)} does nothing in this plan; {known}"
        raise typer.BadParameter(msg, param_hint="--for")
    wanted = None
    if day is not None:
        with as_option():
            wanted = date_of("day", day).day
        there = {(row.start.date(), row.person) for row in attended}
        there |= {(hand.row.start.date(), hand.person) for hand in helping}
        days = sorted({of_day for of_day, who in there if person in (None, who)})
        if wanted not in days:
            who = "nobody works" if person is None else f"{person} does not work"
            msg = f"{who} on {show_year_day(wanted)}; days of work are {listed(of_day.isoformat() for of_day in days)}"
            raise typer.BadParameter(msg, param_hint="--day")
    return OnlyDays(wanted, person)


def write_sheet(
    plan: Plan,
    output: Path,
    press: Press | None = None,
    *,
    day: str | None = None,
    person: str | None = None,
    with_appendix: bool = False,
    with_faults: bool = False,
) -> str:
    """Write the sheet of a plan, or only a *day* or the days of a *person*, and return what was written.

    Raises
    ------
    DoesNotFitError
        No timetable meets the delivery.
    NotPossibleError
        It cannot be written.
    typer.BadParameter
        Nobody works on the day, or the person never does.
    """
    refuse_what_does_not_fit(plan, output)
    only = _only_of(plan, day, person)
    written = write_page(sheet_html(plan, only, with_appendix=with_appendix, with_faults=with_faults), output, press)
    lacking = unprintable(plan)
    return f"{written}\nThe sheet's own font lacks {lacking}, which may print as boxes." if lacking else written


def write_appendix(plan: Plan, output: Path, press: Press | None = None) -> str:
    """Write the appendix of a plan by itself and return what was written.

    Raises
    ------
    NotPossibleError
        It cannot be written.
    """
    return write_page(appendix_html(plan), output, press)

"""What is printed of a piece: the sheet, part tags and the calendar, of the plan that the record holds."""

from __future__ import annotations

from finplan.calendar import plan_calendar
from finplan.page.by_record import held_plan
from finplan.page.workbench import View, Workbench
from finplan.planning import Plan
from finplan.press import Press
from finplan.problems import NotPossibleError
from finplan.sheet import sheet_html
from finplan.tags import sheets_html, tag_sheets
from finplan.telling import clashes_words


def plan_to_print(bench: Workbench, view: View) -> Plan:
    """Return the plan of a piece as it is printed, held where the folder is a workshop.

    Raises
    ------
    NotPossibleError
        Something is wrong with the piece, or nothing fits.
    """
    if view.reckoned.plan is None:
        msg = "what is wrong with the piece has to be put right before it can be printed"
        raise NotPossibleError(msg)
    plan = held_plan(view.reckoned.plan.pieces, bench.folder.file(view.text.name), bench.now())
    if not plan.timetable.has_plan:
        msg = f"this does not fit, so there is nothing to print: {clashes_words(plan.timetable.clashes)}"
        raise NotPossibleError(msg)
    return plan


def sheet_pdf(plan: Plan) -> bytes:
    """Return the printed sheet; raises ``NotPossibleError`` where there is no page renderer."""
    with Press() as press:
        return press.pdf(sheet_html(plan))


def tags_pdf(plan: Plan) -> bytes:
    """Return the part tags, on the shop's sheets of labels.

    Raises
    ------
    NotPossibleError
        Nothing is left to be coated, or there is no page renderer.
    """
    sheets = tag_sheets(plan, plan.shop.labels)
    if not sheets.tags:
        msg = "nothing is left to be coated, so there are no tags"
        raise NotPossibleError(msg)
    with Press() as press:
        return press.pdf(sheets_html(sheets))


def calendar_file(plan: Plan) -> bytes:
    """Return the calendar file."""
    return plan_calendar(plan, plan.now, plan.number or 1)

"""The printed finishing schedule: a Plan as HTML."""

from finplan.sheet.days import OnlyDays, WorkingDay, working_days
from finplan.sheet.html import appendix_html, sheet_html
from finplan.sheet.letters import unprintable
from finplan.sheet.offer import offer_html
from finplan.sheet.picture_svg import picture_svg
from finplan.sheet.sessions import WorkSession
from finplan.sheet.step_row import StepRow
from finplan.sheet.view import Sheet, sheet_of

__all__ = [
    "OnlyDays",
    "Sheet",
    "StepRow",
    "WorkSession",
    "WorkingDay",
    "appendix_html",
    "offer_html",
    "picture_svg",
    "sheet_html",
    "sheet_of",
    "unprintable",
    "working_days",
]

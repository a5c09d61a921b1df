"""From a Plan to one page of HTML that needs nothing beside itself."""

from __future__ import annotations

from finplan.planning import Plan
from finplan.sheet.days import OnlyDays
from finplan.sheet.view import Sheet, sheet_of
from finplan.typesetting import filled

SECTIONS = ("first_page", "picture", "days", "sanding", "buying", "safety", "care", "appendix", "screen")
"""Each with a style sheet of its own, in the order in which they are printed."""


def sheet_html(plan: Plan, only: OnlyDays | None = None) -> str:
    """Return the printed sheet of a plan, or *only* some of its days, styles and fonts inside it."""
    return render(sheet_of(plan, only))


def render(sheet: Sheet) -> str:
    """Return a sheet as HTML. What the maker wrote is text in it and nothing else."""
    return filled("sheet", *SECTIONS, sheet=sheet)

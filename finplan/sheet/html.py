"""From a Plan to one page of HTML that needs nothing beside itself."""

from __future__ import annotations

from finplan.planning import Plan
from finplan.sheet.days import OnlyDays
from finplan.sheet.view import Sheet, appendix_file, sheet_of
from finplan.typesetting import filled

SECTIONS = ("first_page", "picture", "days", "sanding", "buying", "safety", "care", "faults", "appendix", "screen")
"""Each with a style sheet of its own, in the order in which they are printed."""


def sheet_html(
    plan: Plan, only: OnlyDays | None = None, *, with_appendix: bool = False, with_faults: bool = False
) -> str:
    """Return the printed sheet of a plan, or *only* some of its days.

    At its end, where they are asked for, a page of what to do if a coat goes wrong, and its appendix.
    """
    return render(sheet_of(plan, only, with_appendix=with_appendix, with_faults=with_faults))


def appendix_html(plan: Plan) -> str:
    """Return the appendix of a plan by itself: what its numbers rest on."""
    return filled("appendix_file", "sheet", "safety", "appendix", "screen", sheet=appendix_file(plan))


def render(sheet: Sheet) -> str:
    """Return a sheet as HTML. What the maker wrote is text in it and nothing else."""
    return filled("sheet", *SECTIONS, sheet=sheet)

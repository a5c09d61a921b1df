"""Writing the sheet."""

from __future__ import annotations

from pathlib import Path

from finplan.cli.output import refuse_what_does_not_fit, write_page
from finplan.planning import Plan
from finplan.press import Press
from finplan.sheet import sheet_html, unprintable


def write_sheet(plan: Plan, output: Path, press: Press | None = None) -> str:
    """Write the sheet of a plan and return what was written.

    Raises
    ------
    DoesNotFitError
        No timetable meets the delivery.
    NotPossibleError
        It cannot be written.
    """
    refuse_what_does_not_fit(plan, output)
    written = write_page(sheet_html(plan), output, press)
    lacking = unprintable(plan)
    return f"{written}\nThe sheet's own font lacks {lacking}, which may print as boxes." if lacking else written

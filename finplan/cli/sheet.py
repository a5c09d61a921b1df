"""Writing the sheet."""

from __future__ import annotations

from pathlib import Path

from finplan.cli.common import busy
from finplan.cli.output import refuse_what_does_not_fit, write_bytes
from finplan.plan import Plan
from finplan.press import Press
from finplan.sheet import sheet_html, unprintable, write_pdf


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


def write_page(html: str, output: Path, press: Press | None) -> str:
    """Write a page as a PDF, or as it is where the file ends with .html, and return what was written."""
    if output.suffix.lower() == ".html":
        return write_bytes(html.encode("utf-8"), output)
    with busy("laying out the pages"):
        write_pdf(html, output, press)
    return f"{output}: written"

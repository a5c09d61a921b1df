"""Writing the sheet."""

from __future__ import annotations

from pathlib import Path

from finplan.cli.timetable import timetable_lines
from finplan.plan import Plan
from finplan.problems import NotPossibleError
from finplan.sheet import sheet_html, unprintable, write_pdf
from finplan.whole_file import write_whole


class DoesNotFitError(NotPossibleError):
    """There is no timetable, so there is no sheet."""

    exit_code = 3


def write_sheet(plan: Plan, output: Path) -> str:
    """Write the sheet of a plan and return what was written.

    Raises
    ------
    DoesNotFitError
        No timetable meets the delivery.
    NotPossibleError
        The file's ending is no kind of sheet, or it cannot be written.
    """
    suffix = output.suffix.lower()
    if suffix not in (".pdf", ".html"):
        msg = f"{output}: the sheet is written as .pdf or .html, not '{output.suffix}'"
        raise NotPossibleError(msg)
    if not output.parent.is_dir():
        msg = f"{output}: there is no folder {output.parent}"
        raise NotPossibleError(msg)
    if plan.timetable.status == "impossible":
        raise DoesNotFitError(
            "\n".join([*timetable_lines(plan.timetable, plan.units), "", f"{output} was not written."])
        )
    try:
        if suffix == ".html":
            write_whole(sheet_html(plan).encode("utf-8"), output)
        else:
            write_pdf(sheet_html(plan), output)
    except OSError as error:
        msg = f"{output}: cannot be written: {(error.strerror or str(error)).lower()}"
        raise NotPossibleError(msg) from None
    lacking = unprintable(plan)
    note = f"\nThe sheet's own font lacks {lacking}, which may print as boxes." if lacking else ""
    return f"{output}: written{note}"

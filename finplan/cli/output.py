"""What is written to a file: whether it can be, and whether there is anything to write."""

from __future__ import annotations

from contextlib import AbstractContextManager, nullcontext
from pathlib import Path
from typing import TYPE_CHECKING

from finplan.press import Press
from finplan.problems import NotPossibleError
from finplan.whole_file import write_whole

if TYPE_CHECKING:
    from finplan.plan import Plan


class DoesNotFitError(NotPossibleError):
    """There is no timetable, so there is nothing to print."""

    exit_code = 3


PAGES = (".pdf", ".html")
"""How a page can be written."""


def check_output(output: Path, endings: tuple[str, ...], what: str) -> None:
    """Refuse a file that could not be written, before anything is planned for it.

    Raises
    ------
    NotPossibleError
        It is none of those that are meant, or there is no such folder.
    """
    if output.suffix.lower() not in endings:
        msg = f"{output}: {what} is written as {' or '.join(endings)}, not '{output.suffix}'"
        raise NotPossibleError(msg)
    if not output.parent.is_dir():
        msg = f"{output}: there is no folder {output.parent}"
        raise NotPossibleError(msg)


def press_for(output: Path) -> AbstractContextManager[Press | None]:
    """Start the page renderer for a file, so that it is loaded when the page is there.

    It is none where none is needed, or no process can be started: then the page is rendered in this one.
    """
    if output.suffix.lower() != ".pdf":
        return nullcontext()
    try:
        return Press()
    except OSError:
        return nullcontext()


def refuse_what_does_not_fit(plan: Plan, output: Path) -> None:
    """Refuse to write what has no timetable.

    Raises
    ------
    DoesNotFitError
        No timetable meets the delivery; says what clashes.
    """
    from finplan.cli.timetable import timetable_lines

    if plan.timetable.status == "impossible":
        clashes = timetable_lines(plan.timetable, plan.units)
        raise DoesNotFitError("\n".join([*clashes, "", f"{output} was not written."]))


def write_bytes(data: bytes, output: Path) -> str:
    """Write a file whole and return that it was written."""
    write_whole(data, output)
    return f"{output}: written"


def write_page(html: str, output: Path, press: Press | None) -> str:
    """Write a page as a PDF, or as it is where the file ends with .html, and return what was written.

    Raises
    ------
    NotPossibleError
        It cannot be written, or there is no page renderer.
    """
    from finplan.cli.common import busy
    from finplan.sheet import write_pdf

    if output.suffix.lower() == ".html":
        return write_bytes(html.encode("utf-8"), output)
    with busy("laying out the pages"):
        write_pdf(html, output, press)
    return f"{output}: written"

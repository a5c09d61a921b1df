"""What is written to a file: whether it can be, and whether there is anything to write."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import AbstractContextManager, nullcontext, suppress
from pathlib import Path
from typing import TYPE_CHECKING

from finplan.press import Press
from finplan.problems import NotPossibleError
from finplan.whole_file import write_whole

if TYPE_CHECKING:
    from finplan.planning import Plan


class DoesNotFitError(NotPossibleError):
    """There is no timetable, so there is nothing to print."""

    exit_code = 3


PAGES = (".pdf", ".html")
"""How a page can be written."""


def check_output(output: Path, endings: tuple[str, ...], what: str, inputs: Iterable[Path | None]) -> None:
    """Refuse a file that could not be written, before anything is planned for it.

    Parameters
    ----------
    output
        The file to be written
    endings
        How it may end
    what
        It is, in words
    inputs
        What the command reads

    Raises
    ------
    NotPossibleError
        It is none of those that are meant, there is no such folder, or it is what the command reads.
    """
    if output.suffix.lower() not in endings:
        msg = f"{output}: {what} is written as {' or '.join(endings)}, not '{output.suffix}'"
        raise NotPossibleError(msg)
    if not output.parent.is_dir():
        msg = f"{output}: there is no folder {output.parent}"
        raise NotPossibleError(msg)
    refuse_input(output, inputs)


def refuse_input(output: Path, inputs: Iterable[Path | None]) -> None:
    """Refuse to write over what a command reads, under whatever name it is given.

    Raises
    ------
    NotPossibleError
        They are the same file.
    """
    for one in inputs:
        with suppress(OSError):
            if one is not None and output.samefile(one):
                msg = f"{output}: is what is read, and would be written over; choose another name for the output"
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

    if not plan.timetable.has_plan:
        clashes = timetable_lines(plan)
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
    from finplan.typesetting import write_pdf

    if output.suffix.lower() == ".html":
        return write_bytes(html.encode("utf-8"), output)
    with busy("laying out the pages"):
        write_pdf(html, output, press)
    return f"{output}: written"

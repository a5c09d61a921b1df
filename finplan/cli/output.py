"""What is written to a file: how, and whether there is anything to write."""

from __future__ import annotations

from contextlib import AbstractContextManager, nullcontext
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from finplan.cli.common import show_json
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


def show_or_write(text: str, output: Path | None) -> None:
    """Print JSON, or write it to a file and say so."""
    if output is None:
        show_json(text)
    else:
        typer.echo(write_bytes(f"{text}\n".encode(), output))


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

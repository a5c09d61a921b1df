"""The demo: files to try, the first piece's schedule, and what to try next."""

from __future__ import annotations

import shutil
import sys
from datetime import datetime
from pathlib import Path

from finplan.cli.common import pieces_of
from finplan.cli.held import Keeping, asked_of, planned
from finplan.cli.output import press_for
from finplan.cli.sheet import write_sheet
from finplan.demo import FIRST, write_demo
from finplan.press import NoPageRendererError
from finplan.problems import NotPossibleError


def make_demo(folder: Path, now: datetime) -> list[str]:
    """Write the demo into *folder* and return what was written and what to try next.

    Raises
    ------
    NotPossibleError
        The folder or the sheet cannot be written.
    """
    try:
        files = write_demo(folder, now.date())
    except OSError as error:
        msg = f"{folder}: cannot be written: {(error.strerror or str(error)).lower()}"
        raise NotPossibleError(msg) from None
    lines = [f"{file.path}: {file.done}" for file in files]
    piece = folder / FIRST
    sheet, said = _sheet(piece)
    program = program_name()
    return [
        *lines,
        *said,
        "",
        f"Open {sheet}: it is the finishing schedule of the bench. Then try:",
        "",
        f"  {program} areas {piece}",
        f"  {program} materials {piece}",
        f"  {program} systems {piece}",
        f"  {program} sanding {piece}",
        f"  {program} timetable {piece}",
        f"  {program} sheet {folder / 'round-table.yaml'} -o {folder / 'round-table.pdf'}",
        f"  {program} tags {piece} -o {folder / 'tags.pdf'}",
        f"  {program} calendar {piece} -o {folder / 'hall-bench.ics'}",
        f"  {program} draw {piece} -o {folder / 'drawings'}",
        f"  {program} catalogue waterborne-polyurethane",
        "",
        f"Change a size, the timber or the system in {piece} and run them again.",
    ]


def _sheet(piece: Path) -> tuple[Path, list[str]]:
    """Write the first piece's schedule, as HTML where there is no page renderer; one that is there is left alone."""
    sheet = piece.with_suffix(".pdf")
    if sheet.exists():
        renew = f"{program_name()} sheet {piece} -o {sheet}"
        return sheet, [f"{sheet}: there already; '{renew}' writes it anew"]
    files = [piece]
    with press_for(sheet) as press:
        plan = planned(files, pieces_of(files, None, None), asked_of(), Keeping())
        try:
            return sheet, [write_sheet(plan, sheet, press)]
        except NoPageRendererError as error:
            page = piece.with_suffix(".html")
            return page, [str(error), "", write_sheet(plan, page)]


def program_name() -> str:
    """Return what to type to run this program again: ``finplan`` where that is found, else as it was run."""
    called = Path(sys.argv[0])
    if called.name == "__main__.py":
        return "python -m finplan"
    found = shutil.which(called.name)
    return called.name if found and Path(found).resolve() == called.resolve() else str(called)

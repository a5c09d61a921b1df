"""The demo: files to try, the first piece's schedule, and what to try next."""

from __future__ import annotations

import shutil
import sys
from datetime import datetime
from pathlib import Path

from finplan.cli.sheet import write_sheet
from finplan.demo import FIRST, SHOP, write_demo
from finplan.planning import make_plan, read_source
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
    piece, shop = folder / FIRST, folder / SHOP
    sheet, said = _sheet(piece, shop, now)
    program = program_name()
    return [
        *lines,
        *said,
        "",
        f"Open {sheet}: it is the finishing schedule of the round table. Then try:",
        "",
        f"  {program} areas {piece}",
        f"  {program} materials {piece} --shop {shop}",
        f"  {program} systems {piece} --shop {shop}",
        f"  {program} sanding {piece} --shop {shop}",
        f"  {program} timetable {piece} --shop {shop}",
        f"  {program} sheet {folder / 'hall-bench.yaml'} --shop {shop} -o {folder / 'hall-bench.pdf'}",
        f"  {program} tags {piece} --shop {shop} -o {folder / 'tags.pdf'}",
        f"  {program} calendar {piece} --shop {shop} -o {folder / 'round-table.ics'}",
        f"  {program} draw {piece} -o {folder / 'drawings'}",
        f"  {program} catalogue hardwax-oil",
        "",
        f"Change a size, the timber or the system in {piece} and run them again.",
    ]


def _sheet(piece: Path, shop: Path, now: datetime) -> tuple[Path, list[str]]:
    """Write the first piece's schedule, as HTML where there is no page renderer; one that is there is left alone."""
    sheet = piece.with_suffix(".pdf")
    if sheet.exists():
        renew = f"{program_name()} sheet {piece} --shop {shop} -o {sheet}"
        return sheet, [f"{sheet}: there already; '{renew}' writes it anew"]
    plan = make_plan([read_source(piece, shop)], now=now)
    try:
        return sheet, [write_sheet(plan, sheet)]
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

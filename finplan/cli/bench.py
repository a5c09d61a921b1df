"""The commands of the bench: ticking what was done, planning the rest again, and the record itself."""

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Annotated

import typer

from finplan.cli.common import busy, heads, in_words, pieces_of, show_lines, tell, told_first, warn
from finplan.cli.manners import Commands
from finplan.cli.options import (
    CatalogueOnlyOption,
    JsonOption,
    LedgerOption,
    LimitOption,
    PieceFiles,
    ShopOption,
    UnitsOption,
)
from finplan.cli.wishes import as_option, now
from finplan.place import LEDGER, shop_beside


def done(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The piece file.")],
    steps: Annotated[list[str], typer.Argument(metavar="STEP…", help="Numbers as on the sheet: 7 8-10.")],
    at: Annotated[str | None, typer.Option("--at", metavar="TIME", help="When it was done: 08:40; else now.")] = None,
    used: Annotated[str | None, typer.Option("--used", metavar="AMOUNT", help="What was used: 85 ml, 78 g.")] = None,
    can: Annotated[
        str | None, typer.Option("--can", metavar="WEIGHTS", help="The can before and after: '812 g -> 731 g'.")
    ] = None,
    took: Annotated[str | None, typer.Option("--took", metavar="TIME", help="How long it took: 45 min.")] = None,
    air: Annotated[str | None, typer.Option("--air", metavar="AIR", help="The air then: '17 degC 55 %'.")] = None,
    by: Annotated[str | None, typer.Option("--by", metavar="NAME", help="Who did it.")] = None,
    note: Annotated[str | None, typer.Option("--note", metavar="TEXT", help="What else there is to say.")] = None,
    result: Annotated[
        str | None,
        typer.Option("--result", metavar="RESULT", help="What a test of an old coating came to: lead or clear."),
    ] = None,
    dry: Annotated[bool, typer.Option("--dry", help="The coats were found dry then, instead of done.")] = False,
    undo: Annotated[bool, typer.Option("--undo", help="Take back what was ticked.")] = False,
    yes: Annotated[bool, typer.Option("--yes", help="Believe that what comes before was done too.")] = False,
    shop: ShopOption = None,
    ledger: LedgerOption = None,
    units: UnitsOption = None,
    as_json: JsonOption = False,
) -> None:
    """Tick what has been done, with what it really took."""
    from finplan.bench import Noted, opened, tick_lines, tick_off, undone
    from finplan.data import done_data

    with opened([file], ledger) as (record, last, files), as_option():
        if undo:
            told = undone(record, last, steps, now())
        else:
            pieces = pieces_of(files, shop, units)
            noted = Noted(at=at, used=used, can=can, took=took, air=air, by=by, note=note, result=result)
            told = tick_off(
                record, last, pieces, steps, now(), noted, dry=dry, believe=_believing(yes, ask=not as_json)
            )
    tell(as_json, lambda: done_data(told), lambda: tick_lines(told))


def _believing(sure: bool, *, ask: bool) -> Callable[[str], bool]:
    """Return what says whether what comes before was done too: whoever is *sure*, else whom one may *ask*."""

    def believe(words: str) -> bool:
        from finplan.problems import NotPossibleError

        if sure:
            return True
        if not ask or not sys.stdin.isatty():
            msg = (
                f"{words}; nothing was written down. With --yes it is believed that they were done too, or tick them "
                "first"
            )
            raise NotPossibleError(msg)
        return typer.confirm(f"{words}. Were they done too?", err=True)

    return believe


def replan(
    files: PieceFiles,
    air: Annotated[
        list[str] | None,
        typer.Option(
            "--air",
            metavar="AIR",
            help="The air since the coats were on that are still to dry: '9 degC 60 %'; again and again with times, "
            "'22:00 9 degC 60 %'; or the file of a logger.",
        ),
    ] = None,
    shop: ShopOption = None,
    limit: LimitOption = None,
    ledger: LedgerOption = None,
    catalogue_only: CatalogueOnlyOption = False,
    units: UnitsOption = None,
    as_json: JsonOption = False,
) -> None:
    """Plan again what is left to do, after what was ticked, from now on."""
    from finplan.bench import opened, rest_planned, standing_words
    from finplan.cli.air import log_text
    from finplan.cli.timetable import timetable_lines
    from finplan.data import timetable_data

    with opened(files, ledger) as (record, last, all_files), as_option():
        pieces = pieces_of(all_files, shop, units)
        with busy("planning") as say:
            plan = rest_planned(
                record,
                last,
                pieces,
                now(),
                air=air or (),
                read_log=log_text,
                limit=limit,
                learn=not catalogue_only,
                progress=in_words(say),
            )
        stands = standing_words(record, last, plan, pieces, now())
    warn(plan.pieces, plan.risks)
    first = told_first(stands, as_data=as_json)
    tell(as_json, lambda: timetable_data(plan.timetable), lambda: [*heads(pieces), *first, *timetable_lines(plan)])
    if plan.timetable.status == "impossible":
        raise typer.Exit(3)


def fault(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The piece file.")],
    step: Annotated[str, typer.Argument(metavar="STEP", help="The number of the coat as on the sheet: 12.")],
    name: Annotated[
        str | None, typer.Argument(metavar="[FAULT]", help="What is wrong: runs, tacky; else what can be is listed.")
    ] = None,
    repair: Annotated[
        bool, typer.Option("--repair", help="Plan the repair: its steps come into the plan, the rest moves.")
    ] = False,
    undo: Annotated[bool, typer.Option("--undo", help="Take its repair back, and plan the rest without it.")] = False,
    area: Annotated[
        str | None, typer.Option("--area", metavar="AREA", help="How much is affected: '0.1 m2'; else what is usual.")
    ] = None,
    share: Annotated[
        str | None, typer.Option("--share", metavar="PERCENT", help="How much of the faces, instead: '20 %'.")
    ] = None,
    items: Annotated[
        list[str] | None, typer.Option("--items", metavar="PART", help="Only this part of what was coated; repeatable.")
    ] = None,
    shop: ShopOption = None,
    limit: LimitOption = None,
    ledger: LedgerOption = None,
    units: UnitsOption = None,
    as_json: JsonOption = False,
) -> None:
    """Say what is wrong with a coat: likely causes in this plan, what to do, and from when; and plan its repair."""
    from finplan.bench import Affected, faults_at, looked_at, opened, repaired, scene_of, unrepaired
    from finplan.cli.fault import fault_lines, faults_lines, repair_lines
    from finplan.data import faults_data, repair_data

    planned = repair or undo
    if name is None and planned:
        raise typer.BadParameter("say what is wrong too: finplan fault FILE STEP runs --repair", param_hint="FAULT")
    if repair and undo:
        raise typer.BadParameter("either --repair or --undo", param_hint="--undo")
    with opened([file], ledger, to_read=not planned) as (record, last, files), as_option():
        pieces = pieces_of(files, shop, units)
        scene, called = scene_of(record, last, pieces, step, now())
        told = faults_at(scene) if name is None else (looked_at(scene, name, called),)
        if planned:
            with busy("planning") as say:
                affected = Affected(area=area, share=share, parts=tuple(items or ()))
                heard = in_words(say)
                if undo:
                    mended = unrepaired(record, last, pieces, told[0], now(), limit=limit, progress=heard)
                else:
                    mended = repaired(record, last, pieces, told[0], affected, now(), limit=limit, progress=heard)
            tell(as_json, lambda: repair_data(mended), lambda: repair_lines(mended, told[0], called))
            return
    lines = faults_lines(told, scene, called) if name is None else fault_lines(told[0], called)
    tell(as_json, lambda: faults_data(told, called), lambda: lines)


def review(
    files: PieceFiles,
    pdf: Annotated[
        Path | None, typer.Option("--pdf", metavar="OUT.pdf", help="Write it as a page too: .pdf or .html.")
    ] = None,
    shop: ShopOption = None,
    ledger: LedgerOption = None,
    units: UnitsOption = None,
    as_json: JsonOption = False,
) -> None:
    """Look back on a job: litres, hours, days and cost, as planned and as ticked."""
    from finplan.bench import opened
    from finplan.cli.output import PAGES, press_for
    from finplan.cli.review import review_lines, reviewed, write_review
    from finplan.data import review_data
    from finplan.whole_file import check_output

    if pdf is not None:
        check_output(pdf, PAGES, "the review", [*files, shop])
    with opened(files, ledger, to_read=True) as (record, last, all_files), as_option():
        told = reviewed(record, last, pieces_of(all_files, shop, units), now())
    tell(as_json, lambda: review_data(told), lambda: review_lines(told))
    if pdf is not None:
        with press_for(pdf) as press:
            typer.echo(write_review(told, pdf, press), err=as_json)


def learnt(
    ledger: Annotated[
        Path, typer.Option("--ledger", metavar="FILE", help="The record; else finplan.ledger in this folder.")
    ] = Path(LEDGER),
    shop: ShopOption = None,
    as_json: JsonOption = False,
) -> None:
    """Show what the shop has learnt: what was known beforehand, what was noted down, and what is known now."""
    from finplan.cli.learnt import learnt_lines
    from finplan.data import learnt_data
    from finplan.ledger import read_ledger
    from finplan.planning import read_workshop
    from finplan.record import ShopLearnt, shop_learnt

    workshop = read_workshop(shop_beside([ledger], shop))
    with read_ledger(ledger) as record:
        known = ShopLearnt() if record is None else shop_learnt(record, workshop.catalogue, workshop.shop)
    tell(as_json, lambda: learnt_data(known, workshop.catalogue), lambda: learnt_lines(known, workshop.catalogue))


ledger = typer.Typer(
    cls=Commands,
    help="The job's record as a whole.",
    no_args_is_help=True,
    rich_markup_mode=None,
    add_completion=False,  # that is the program's
)


@ledger.command("export")
def export_ledger(
    file: Annotated[Path, typer.Argument(metavar="LEDGER", help="The record: finplan.ledger.")],
    output: Annotated[Path | None, typer.Option("--output", "-o", metavar="OUT.json", help="Else printed.")] = None,
) -> None:
    """Give everything in a record as JSON."""
    from finplan.cli.output import show_or_write
    from finplan.data import as_json, ledger_rows
    from finplan.ledger import ledger_data, read_ledger
    from finplan.problems import NotPossibleError
    from finplan.whole_file import check_output

    if output is not None:
        check_output(output, (".json",), "the record", [file])
    with read_ledger(file) as record:
        if record is None:
            msg = f"{file}: there is no such record"
            raise NotPossibleError(msg)
        text = as_json(ledger_rows(ledger_data(record)))
    show_or_write(text, output)


@ledger.command("import")
def import_ledger(
    file: Annotated[Path, typer.Argument(metavar="IN.json", help="What was exported.")],
    to: Annotated[Path, typer.Option("--ledger", metavar="FILE", help="What to make.")] = Path("finplan.ledger"),
) -> None:
    """Make a record of what was exported; never in the place of one that is there."""
    from finplan.ledger import bring_in
    from finplan.problems import NotPossibleError
    from finplan.reading import UnreadableError, read_bytes
    from finplan.record import check_readable

    try:
        text = read_bytes(file, _LARGEST).decode("utf-8")
    except (UnreadableError, UnicodeDecodeError) as error:
        msg = f"{file}: {error}"
        raise NotPossibleError(msg) from None
    bring_in(text, to, check_readable)
    show_lines([f"{to}: written"])


_LARGEST = 1 << 28
"""Bytes of what is brought in: more than a workshop writes in a lifetime."""

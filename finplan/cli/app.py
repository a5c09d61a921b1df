"""The commands. Each is thin: read, call, print."""

import gc
import os
import sys
from functools import cache
from typing import Annotated, Any

import typer

from finplan.cli.bench import done, fault, learnt, ledger, replan, review
from finplan.cli.common import (
    busy,
    heads,
    piece_of,
    pieces_of,
    refuse_both,
    show_csv,
    show_lines,
    tell,
    told_first,
    warn,
    whole_plan,
    with_bar,
    with_progress_of,
)
from finplan.cli.examples import FIRST_EXAMPLE
from finplan.cli.files import buy, calendar, demo, draw, new, plan, quote, sheet, tags
from finplan.cli.held import Keeping, asked_of, planned, with_record
from finplan.cli.look_up import catalogue, fields, guide, help_, schema
from finplan.cli.manners import Commands
from finplan.cli.on_demand import group_on_demand
from finplan.cli.open_page import open_page
from finplan.cli.options import (
    AnewOption,
    CatalogueOnlyOption,
    CsvOption,
    DeliverOption,
    FromOption,
    JsonOption,
    LedgerOption,
    NoLedgerOption,
    PieceArgument,
    PieceFiles,
    ShopOption,
    SureOption,
    UnitsOption,
)
from finplan.cli.plan_options import PlanOptions, with_plan_options
from finplan.cli.run import run
from finplan.cli.stock import stock
from finplan.cli.wishes import confidence_typed, delivery_of, now, start_typed
from finplan.place import shop_beside
from finplan.version import __version__

app = typer.Typer(
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    cls=Commands,
    no_args_is_help=True,
    help="Plan the finish of a piece of furniture: surfaces, materials, sanding, timetable and the printed sheet.",
    epilog=f"\b\nExample: {FIRST_EXAMPLE}",
)


def _version(asked: bool) -> None:
    if asked:
        typer.echo(f"finplan {__version__}")
        raise typer.Exit


def _warnings(asked: bool) -> None:
    if asked:
        from finplan.cli.check import warning_lines

        show_lines(warning_lines(None))
        raise typer.Exit


@app.callback()
def finplan(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version and stop.")
    ] = False,
) -> None:
    """Plan the finish of a piece of furniture: surfaces, materials, sanding, timetable and the printed sheet."""


@app.command()
def check(
    file: PieceArgument,
    shop: ShopOption = None,
    as_json: JsonOption = False,
    warnings: Annotated[
        bool,
        typer.Option("--warnings", callback=_warnings, is_eager=True, help="List all warnings by name, and stop."),
    ] = False,
) -> None:
    """Say whether a piece file is in order, and everything that is not."""
    from finplan.cli.check import check_lines
    from finplan.data import problems_data
    from finplan.planning import found_in

    checked = found_in(file, shop_beside([file], shop), now())
    tell(as_json, lambda: problems_data(file, checked.problems, checked.accepted), lambda: check_lines(file, checked))
    if any(problem.severity == "error" for problem in checked.problems):
        raise typer.Exit(2)


@app.command()
def areas(
    file: PieceArgument,
    shop: ShopOption = None,
    units: UnitsOption = None,
    as_json: JsonOption = False,
    as_csv: CsvOption = False,
) -> None:
    """Show the area, exposure and end grain of every face."""
    from finplan.cli.areas import areas_lines
    from finplan.data import areas_csv, areas_data

    refuse_both(as_json, as_csv)
    piece = piece_of(file, shop, units)
    if as_csv:
        return show_csv(areas_csv(piece.surface))
    tell(as_json, lambda: areas_data(piece.surface), lambda: areas_lines(piece.surface, piece.source.units))


@app.command()
def materials(
    files: PieceFiles,
    shop: ShopOption = None,
    sure: SureOption = "90 %",
    ledger: LedgerOption = None,
    no_ledger: NoLedgerOption = False,
    catalogue_only: CatalogueOnlyOption = False,
    units: UnitsOption = None,
    as_json: JsonOption = False,
    as_csv: CsvOption = False,
) -> None:
    """Show how much of each material every coat takes, and which packs to buy: one order for all pieces."""
    from finplan.cli.materials import materials_lines
    from finplan.data import materials_csv, materials_data
    from finplan.planning import Plan

    refuse_both(as_json, as_csv)
    confidence = confidence_typed(sure)
    keeping = Keeping(ledger, no_ledger, catalogue_only=catalogue_only)
    plan = with_record(Plan(pieces_of(files, shop, units), now(), confidence=confidence), files, keeping)
    known = plan.knows_timetable
    order, safety = (plan.ordered, plan.precautions.gear.buy) if known else (plan.materials, None)
    warn(plan.pieces, plan.risks)
    if as_csv:
        return show_csv(materials_csv(order, safety))
    tell(
        as_json,
        lambda: materials_data(order, safety),
        lambda: [*heads(plan.pieces), *materials_lines(order, plan.catalogue, plan.units, safety)],
    )


@app.command()
def sanding(
    file: PieceArgument, shop: ShopOption = None, units: UnitsOption = None, as_json: JsonOption = False
) -> None:
    """Show the grits of every part, how long they take and what they use up."""
    from finplan.cli.sanding import sanding_lines
    from finplan.data import sanding_data
    from finplan.planning import dust_of

    piece = piece_of(file, shop, units)
    plan, dust = piece.sanding, dust_of(piece)
    warn([piece], piece.risks)
    tell(as_json, lambda: sanding_data(plan, dust), lambda: [*heads([piece]), *sanding_lines(plan, piece.source, dust)])


@app.command()
@with_plan_options
def timetable(
    files: PieceFiles,
    *,
    asked: PlanOptions,
    units: UnitsOption = None,
    as_json: JsonOption = False,
    as_csv: CsvOption = False,
) -> None:
    """Show who does what when, back from the delivery, for one piece or several together."""
    from finplan.cli.timetable import timetable_lines
    from finplan.data import steps_csv, timetable_data
    from finplan.planning import air_risks

    refuse_both(as_json, as_csv)
    pieces = pieces_of(files, asked.shop, units)
    plan = asked.planned(files, pieces)
    warn(plan.pieces, plan.risks)
    with busy("planning") as say:
        plan = with_progress_of(plan, say)
        made = plan.timetable
    warn(pieces, air_risks(pieces, made))
    first = told_first(asked.stands_of(files, plan, pieces), as_data=as_json or as_csv)
    if as_csv:
        show_csv(steps_csv(made))
        if made.has_plan:
            return
        typer.echo("\n".join(timetable_lines(plan)), err=True)
        raise typer.Exit(3)
    tell(as_json, lambda: timetable_data(made), lambda: [*heads(pieces), *first, *timetable_lines(plan)])
    if not made.has_plan:
        raise typer.Exit(3)


@app.command()
def systems(
    file: PieceArgument,
    shop: ShopOption = None,
    from_: FromOption = None,
    deliver: DeliverOption = None,
    ledger: LedgerOption = None,
    no_ledger: NoLedgerOption = False,
    catalogue_only: CatalogueOnlyOption = False,
    units: UnitsOption = None,
    as_json: JsonOption = False,
) -> None:
    """Show which coating systems suit this piece and date, side by side."""
    from finplan.cli.systems import systems_lines
    from finplan.data import systems_data
    from finplan.planning import Plan, compare_systems

    read = piece_of(file, shop, units)
    keeping = Keeping(ledger, no_ledger, catalogue_only=catalogue_only)
    plan = with_record(Plan((read,), start_typed(read, from_)), [file], keeping)
    (piece,) = plan.pieces
    due = delivery_of(deliver)
    tried = compare_systems(piece, now=plan.now, deliver=due, lessons=plan.lessons, shelf=plan.shelf)
    candidates = with_bar("trying systems", tried, len(piece.source.catalogue.systems))
    tell(
        as_json,
        lambda: systems_data(piece.name, candidates),
        lambda: [*heads([piece]), *systems_lines(candidates, piece.source.units)],
    )


@app.command()
def safety(
    files: PieceFiles,
    shop: ShopOption = None,
    from_: FromOption = None,
    deliver: DeliverOption = None,
    ledger: LedgerOption = None,
    no_ledger: NoLedgerOption = False,
    anew: AnewOption = False,
    catalogue_only: CatalogueOnlyOption = False,
    units: UnitsOption = None,
    as_json: JsonOption = False,
) -> None:
    """Show what is dangerous in this plan: vapour and the air it takes, oily cloths, dust, and every caution.

    Several pieces are planned together: what is coated in one room at one time is in one air.
    """
    from finplan.cli.safety import safety_lines
    from finplan.data import safety_data

    pieces = pieces_of(files, shop, units)
    keeping = Keeping(ledger, no_ledger, anew, catalogue_only)
    plan = whole_plan(planned(files, pieces, asked_of(from_, deliver), keeping))
    tell(
        as_json,
        lambda: safety_data(plan),
        lambda: [*heads(pieces), *safety_lines(plan)],
    )


app.command()(catalogue)
app.command("help")(help_)
for command in (
    fields,
    guide,
    schema,
    new,
    sheet,
    plan,
    quote,
    buy,
    tags,
    calendar,
    draw,
    demo,
    done,
    replan,
    fault,
    learnt,
    review,
):
    app.command()(command)
app.command("open")(open_page)
app.add_typer(ledger, name="ledger")
app.add_typer(stock, name="stock")


@cache
def program() -> Any:
    """Return the program: a group of commands, each made when it is asked for."""
    return group_on_demand(app)


def run_program() -> None:
    """Run the command line; a problem ends it with status 2, never with a traceback."""
    # A file is read alike whatever else is installed, and no command goes through all of that to look for plugins.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    # Nothing is so large that it is reckoned sooner by several threads, which wait for work in a loop.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    status = run(program())
    gc.freeze()  # all of it goes with the process: nothing has to be looked through once more at its end
    sys.exit(status)

"""The commands. Each is thin: read, call, print."""

from __future__ import annotations

import gc
import sys
from typing import TYPE_CHECKING, Annotated

import typer

from finplan.cli.common import (
    checked_pieces,
    checked_treatments,
    confidence_of,
    date_of,
    head,
    heads,
    now,
    plan_of,
    refuse_both,
    show_csv,
    show_lines,
    source_of,
    sources_of,
    start_of,
    tell,
    timetable_together,
    with_progress,
)
from finplan.cli.files import calendar, demo, draw, plan, sheet, tags
from finplan.cli.options import (
    AsapOption,
    BufferChoice,
    BufferOption,
    CsvOption,
    DeliverOption,
    DoneOption,
    FromOption,
    JsonOption,
    LimitOption,
    LoseOption,
    PieceFile,
    PieceFiles,
    ReadyChoice,
    ReadyOption,
    ShopOption,
    SureOption,
    UnitsChoice,
    UnitsOption,
)
from finplan.cli.run import run
from finplan.version import __version__

if TYPE_CHECKING:
    from finplan.quantity import Units

app = typer.Typer(
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    add_completion=False,
    no_args_is_help=True,
    help="Plan the finish of a piece of furniture: surfaces, materials, sanding, timetable and the printed sheet.",
)


def _version(asked: bool) -> None:
    if asked:
        typer.echo(f"finplan {__version__}")
        raise typer.Exit


@app.callback()
def finplan(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version and stop.")
    ] = False,
) -> None:
    """Plan the finish of a piece of furniture: surfaces, materials, sanding, timetable and the printed sheet."""


@app.command()
def check(file: PieceFile, shop: ShopOption = None, as_json: JsonOption = False) -> None:
    """Say whether a piece file is in order, and everything that is not."""
    from finplan.cli.check import check_lines, found_in
    from finplan.export import problems_data

    problems, piece = found_in(file, shop)
    tell(as_json, lambda: problems_data(file, problems), lambda: check_lines(file, problems, piece))
    if any(problem.severity == "error" for problem in problems):
        raise typer.Exit(2)


@app.command()
def areas(
    file: PieceFile,
    shop: ShopOption = None,
    units: UnitsOption = None,
    as_json: JsonOption = False,
    as_csv: CsvOption = False,
) -> None:
    """Show the area, exposure and end grain of every face."""
    from finplan.cli.areas import areas_lines
    from finplan.export import areas_csv, areas_data
    from finplan.planning import surface_of

    refuse_both(as_json, as_csv)
    source = source_of(file, shop, units)
    surface = surface_of(source)
    if as_csv:
        return show_csv(areas_csv(surface))
    tell(as_json, lambda: areas_data(surface), lambda: areas_lines(surface, source.units))


@app.command()
def materials(
    files: PieceFiles,
    shop: ShopOption = None,
    sure: SureOption = "90 %",
    units: UnitsOption = None,
    as_json: JsonOption = False,
    as_csv: CsvOption = False,
) -> None:
    """Show how much of each material every coat takes, and which packs to buy: one order for all pieces."""
    from finplan.cli.materials import materials_lines
    from finplan.export import materials_csv, materials_data
    from finplan.planning import order_of

    refuse_both(as_json, as_csv)
    confidence = confidence_of(sure)
    sources = sources_of(files, shop, units)
    plan = order_of(checked_pieces(sources), now=now(), confidence=confidence)
    if as_csv:
        return show_csv(materials_csv(plan))
    tell(
        as_json,
        lambda: materials_data(plan),
        lambda: [*heads(sources), *materials_lines(plan, sources[0].catalogue, sources[0].units)],
    )


@app.command()
def sanding(file: PieceFile, shop: ShopOption = None, units: UnitsOption = None, as_json: JsonOption = False) -> None:
    """Show the grits of every part, how long they take and what they use up."""
    from finplan.cli.sanding import dust_of, sanding_lines
    from finplan.export import sanding_data
    from finplan.planning import surface_of
    from finplan.sanding import sanding_plan

    source = source_of(file, shop, units)
    found = checked_treatments(source)
    plan = sanding_plan(found, surface_of(source), source.catalogue, source.shop)
    dust = dust_of(source, found, plan)
    tell(as_json, lambda: sanding_data(plan, dust), lambda: [*head(source), *sanding_lines(plan, source, dust)])


@app.command()
def timetable(
    files: PieceFiles,
    shop: ShopOption = None,
    from_: FromOption = None,
    deliver: DeliverOption = None,
    asap: AsapOption = False,
    buffer: BufferOption = BufferChoice.wanted,
    ready_for: ReadyOption = ReadyChoice.light_use,
    lose: LoseOption = None,
    done: DoneOption = None,
    limit: LimitOption = None,
    units: UnitsOption = None,
    as_json: JsonOption = False,
    as_csv: CsvOption = False,
) -> None:
    """Show who does what when, back from the delivery, for one piece or several together."""
    from finplan.cli.timetable import timetable_lines
    from finplan.cli.wishes import wishes_of
    from finplan.export import steps_csv, timetable_data

    refuse_both(as_json, as_csv)
    sources = sources_of(files, shop, units)
    start = start_of(sources[0], from_)
    wishes = wishes_of(
        sources, start, asap=asap, buffer=buffer, ready_for=ready_for, lose=lose, done=done or (), limit=limit
    )
    found = timetable_together(sources, start, date_of("--deliver", deliver), wishes)
    if as_csv:
        show_csv(steps_csv(found))
        if found.status != "impossible":
            return
        typer.echo("\n".join(timetable_lines(found, sources[0].units)), err=True)
        raise typer.Exit(3)
    tell(as_json, lambda: timetable_data(found), lambda: [*heads(sources), *timetable_lines(found, sources[0].units)])
    if found.status == "impossible":
        raise typer.Exit(3)


@app.command()
def systems(
    file: PieceFile,
    shop: ShopOption = None,
    from_: FromOption = None,
    deliver: DeliverOption = None,
    units: UnitsOption = None,
    as_json: JsonOption = False,
) -> None:
    """Show which coating systems suit this piece and date, side by side."""
    from finplan.cli.systems import systems_lines
    from finplan.export import systems_data
    from finplan.planning import compare_systems

    source = source_of(file, shop, units)
    due = date_of("--deliver", deliver)
    tried = compare_systems(source, now=start_of(source, from_), deliver=due)
    found = with_progress("trying systems", tried, len(source.catalogue.systems))
    tell(
        as_json,
        lambda: systems_data(source.piece.name, found),
        lambda: [*head(source), *systems_lines(found, source.units)],
    )


@app.command()
def safety(
    file: PieceFile,
    shop: ShopOption = None,
    from_: FromOption = None,
    deliver: DeliverOption = None,
    units: UnitsOption = None,
    as_json: JsonOption = False,
) -> None:
    """Show what is dangerous in this plan: vapour and the air it takes, oily cloths, dust, and every caution."""
    from finplan.cli.safety import safety_lines
    from finplan.export import safety_data

    source = source_of(file, shop, units)
    plan = plan_of([source], from_, deliver)
    tell(
        as_json,
        lambda: safety_data(plan.safety, plan.precautions),
        lambda: [*head(source), *safety_lines(plan.safety, plan.precautions, source.catalogue, source.units)],
    )


@app.command()
def catalogue(
    name: Annotated[str | None, typer.Argument(metavar="[NAME]", help="A finish, system, timber, …")] = None,
    kind: Annotated[str | None, typer.Option("--kind", metavar="KIND", help="List one kind, such as finishes.")] = None,
    where: Annotated[
        list[str] | None,
        typer.Option("--where", metavar="PROPERTY", help="List what is so, such as food-contact; may be repeated."),
    ] = None,
    dry_by: Annotated[
        str | None,
        typer.Option("--dry-by", metavar="TIME", help="List what is ready for light use in 3d, at 23 °C and 50 %."),
    ] = None,
    fields: Annotated[
        str | None, typer.Option("--fields", metavar="KIND", help="Explain the fields of a kind of record.")
    ] = None,
    shop: ShopOption = None,
    units: UnitsOption = None,
    as_json: JsonOption = False,
) -> None:
    """List what the catalogue holds, or show one record with the source of every value."""
    from finplan.cli.catalogue import catalogue_data, catalogue_lines, catalogue_of, fields_lines, wanted

    if fields is not None:
        return show_lines(fields_lines(fields))
    asked = wanted(kind, where or [], dry_by)
    records = catalogue_of(shop)
    shown: Units = "us" if units is UnitsChoice.us else "metric"
    tell(as_json, lambda: catalogue_data(records, name, asked), lambda: catalogue_lines(records, name, asked, shown))


for command in (sheet, plan, tags, calendar, draw, demo):
    app.command()(command)

_OBJECTS_BETWEEN_COLLECTIONS = 100_000
"""A command lives for seconds and keeps nearly all that it makes: looking for garbage often only takes time."""


def main() -> None:
    """Run the command line; a problem ends it with status 2, never with a traceback."""
    gc.set_threshold(_OBJECTS_BETWEEN_COLLECTIONS)
    status = run(app)
    gc.freeze()  # all of it goes with the process: nothing has to be looked through once more at its end
    sys.exit(status)

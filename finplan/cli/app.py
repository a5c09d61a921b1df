"""The commands. Each is thin: read, call, print."""

from __future__ import annotations

import sys
from contextlib import contextmanager
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, TypeVar

import typer

from finplan import __version__
from finplan.cli.run import run

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator
    from datetime import datetime

    from finplan.plan import Plan, Source
    from finplan.problems import Problem
    from finplan.quantity import Units
    from finplan.reading import Calendar
    from finplan.system import Treatment

T = TypeVar("T")

app = typer.Typer(
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    add_completion=False,
    no_args_is_help=True,
    help="Plan the finish of a piece of furniture: surfaces, materials, sanding, timetable and the printed sheet.",
)


class UnitsChoice(StrEnum):
    """How results are shown."""

    metric = "metric"
    us = "us"


class PaperChoice(StrEnum):
    """The paper of the sheet."""

    a4 = "a4"
    letter = "letter"


PieceFile = Annotated[Path, typer.Argument(metavar="FILE", help="The piece file.")]
ShopOption = Annotated[
    Path | None,
    typer.Option("--shop", metavar="SHOP.yaml", help="The shop file; without it the default shop is taken."),
]
JsonOption = Annotated[bool, typer.Option("--json", help="Print JSON for other programs.")]
UnitsOption = Annotated[UnitsChoice | None, typer.Option("--units", help="How to show results.")]
PaperOption = Annotated[PaperChoice | None, typer.Option("--paper", help="The paper of the sheet.")]
FromOption = Annotated[
    str | None, typer.Option("--from", metavar="DATE", help="The first day on which work may start; else now.")
]
DeliverOption = Annotated[
    str | None, typer.Option("--deliver", metavar="DATE", help="The delivery, instead of the piece file's.")
]
SureOption = Annotated[
    str, typer.Option("--sure", metavar="PERCENT", help="How sure to be that what is bought is enough.")
]


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
    _tell(as_json, lambda: problems_data(file, problems), lambda: check_lines(file, problems, piece))
    if any(problem.severity == "error" for problem in problems):
        raise typer.Exit(2)


@app.command()
def areas(file: PieceFile, shop: ShopOption = None, units: UnitsOption = None, as_json: JsonOption = False) -> None:
    """Show the area, exposure and end grain of every face."""
    from finplan.cli.areas import areas_lines
    from finplan.export import areas_data
    from finplan.plan import surface_of

    source = _source(file, shop, units)
    surface = surface_of(source)
    _tell(as_json, lambda: areas_data(surface), lambda: areas_lines(surface, source.units))


@app.command()
def materials(
    file: PieceFile,
    shop: ShopOption = None,
    sure: SureOption = "90 %",
    units: UnitsOption = None,
    as_json: JsonOption = False,
) -> None:
    """Show how much of each material every coat takes, and which packs to buy."""
    from finplan.cli.materials import materials_lines
    from finplan.export import materials_data
    from finplan.material import material_plan

    source = _source(file, shop, units)
    plan = material_plan(_treatments(source), source.catalogue, units=source.units, confidence=_confidence(sure))
    _tell(
        as_json,
        lambda: materials_data(plan),
        lambda: [*_head(source), *materials_lines(plan, source.catalogue, source.units)],
    )


@app.command()
def sanding(file: PieceFile, shop: ShopOption = None, units: UnitsOption = None, as_json: JsonOption = False) -> None:
    """Show the grits of every part, how long they take and what they use up."""
    from finplan.cli.sanding import sanding_lines
    from finplan.export import sanding_data
    from finplan.sanding import sanding_plan

    source = _source(file, shop, units)
    plan = sanding_plan(_treatments(source), source.catalogue, source.shop)
    _tell(
        as_json,
        lambda: sanding_data(plan),
        lambda: [*_head(source), *sanding_lines(plan, source.catalogue, source.units)],
    )


@app.command()
def timetable(
    file: PieceFile,
    shop: ShopOption = None,
    from_: FromOption = None,
    deliver: DeliverOption = None,
    units: UnitsOption = None,
    as_json: JsonOption = False,
) -> None:
    """Show who does what when, back from the delivery."""
    from finplan.cli.timetable import timetable_lines
    from finplan.export import timetable_data

    source = _source(file, shop, units)
    found = _plan(source, from_, deliver).timetable
    _tell(as_json, lambda: timetable_data(found), lambda: [*_head(source), *timetable_lines(found, source.units)])
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
    from finplan.choice import compare_systems
    from finplan.cli.systems import systems_lines
    from finplan.export import systems_data

    source = _source(file, shop, units)
    due = _date("--deliver", deliver)
    tried = compare_systems(source, now=_start(source, from_), deliver=due)
    found = _with_progress("trying systems", tried, len(source.catalogue.systems))
    _tell(
        as_json,
        lambda: systems_data(source.piece.name, found),
        lambda: [*_head(source), *systems_lines(found, source.units)],
    )


@app.command()
def sheet(
    file: PieceFile,
    output: Annotated[Path, typer.Option("--output", "-o", metavar="OUT.pdf", help="What to write: .pdf or .html.")],
    shop: ShopOption = None,
    from_: FromOption = None,
    deliver: DeliverOption = None,
    sure: SureOption = "90 %",
    units: UnitsOption = None,
    paper: PaperOption = None,
) -> None:
    """Write the printed finishing schedule."""
    source = _source(file, shop, units, paper)
    from finplan.cli.sheet import write_sheet

    typer.echo(write_sheet(_plan(source, from_, deliver, sure), output))


@app.command()
def draw(
    file: PieceFile,
    output: Annotated[Path, typer.Option("--output", "-o", metavar="DIR", help="The folder to write the drawings to.")],
    shop: ShopOption = None,
    units: UnitsOption = None,
) -> None:
    """Write a dimensioned drawing of every part, as SVG."""
    from finplan.cli.draw import write_drawings

    source = _source(file, shop, units)
    _print(write_drawings(source.piece, output, source.units))


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
        return _print(fields_lines(fields))
    asked = wanted(kind, where or [], dry_by)
    records = catalogue_of(shop)
    shown: Units = "us" if units is UnitsChoice.us else "metric"
    _tell(as_json, lambda: catalogue_data(records, name, asked), lambda: catalogue_lines(records, name, asked, shown))


@app.command()
def demo(
    folder: Annotated[Path, typer.Argument(metavar="[FOLDER]", help="Where to write.")] = Path("finplan-demo"),
) -> None:
    """Write three invented pieces and a workshop to try, and the first one's schedule."""
    from finplan.cli.demo import make_demo

    _print(make_demo(folder, _now()))


# --- what the commands share ---------------------------------------------------------------------------------------


def _print(lines: list[str]) -> None:
    typer.echo("\n".join(lines))


def _with_progress(label: str, work: Iterable[T], length: int) -> list[T]:
    """Do the work, with a bar on a terminal and without a word in a pipe."""
    if not sys.stderr.isatty():
        return list(work)
    with typer.progressbar(work, length=length, label=label, file=sys.stderr) as bar:
        return list(bar)


@contextmanager
def _busy(label: str) -> Iterator[None]:
    """Say on a terminal, and only there, what is being done until it is done."""
    shown = sys.stderr.isatty()
    if shown:
        typer.echo(f"{label} …", nl=False, err=True)
    try:
        yield
    finally:
        if shown:
            typer.echo("\r\033[K", nl=False, err=True)


def _tell(as_json: bool, data: Callable[[], Any], lines: Callable[[], list[str]]) -> None:
    """Print the data for other programs, or the lines for people."""
    if as_json:
        from finplan.export import as_json as to_json

        typer.echo(to_json(data()))
    else:
        _print(lines())


def _now() -> datetime:
    from datetime import UTC, datetime

    return datetime.now(UTC)


def _source(file: Path, shop: Path | None, units: UnitsChoice | None, paper: PaperChoice | None = None) -> Source:
    from finplan.plan import read_source

    source = read_source(
        file,
        shop,
        units=None if units is None else units.value,
        paper=None if paper is None else paper.value,
    )
    _warn(source.warnings)
    return source


def _warn(warnings: Iterable[Problem]) -> None:
    for warning in warnings:
        typer.echo(str(warning), err=True)


def _treatments(source: Source) -> tuple[Treatment, ...]:
    """Return what every item gets, with a word about what risks to fail."""
    from finplan.plan import risks_of, surface_of, treatments_of

    found = treatments_of(source, surface_of(source))
    _warn(risks_of(source, found))
    return found


def _head(source: Source) -> list[str]:
    """Return the piece and the shop that was assumed."""
    return [source.piece.name, _shop_line(source), ""]


def _shop_line(source: Source) -> str:
    from finplan.cli.shop import default_shop_words

    if source.shop_file.document is None:
        return f"No shop file: {default_shop_words()}."
    defaults = source.shop_file.defaults
    taken = f"; from the default shop: {', '.join(defaults)}" if defaults else ""
    return f"Shop: {source.shop.shop}{taken}."


def _plan(source: Source, from_: str | None, deliver: str | None, sure: str = "90 %") -> Plan:
    from finplan.plan import make_plan

    start, due, confidence = _start(source, from_), _date("--deliver", deliver), _confidence(sure)
    with _busy("planning"):
        plan = make_plan(source, now=start, deliver=due, confidence=confidence)
    _warn(plan.findings)
    return plan


def _start(source: Source, from_: str | None) -> datetime:
    """Return the earliest moment of work: that of --from on the shop's clock, else now."""
    from datetime import UTC, datetime, time

    start = _date("--from", from_)
    if start is None:
        return _now()
    return datetime.combine(start.day, start.clock or time(0), tzinfo=source.shop.time_zone).astimezone(UTC)


def _date(option: str, text: str | None) -> Calendar | None:
    from finplan.reading import Calendar

    if text is None:
        return None
    try:
        return Calendar.parse(text)
    except ValueError as error:
        raise typer.BadParameter(f"{error}; expected 2027-03-12, or '2027-03-12 15:00'", param_hint=option) from None


def _confidence(text: str) -> float:
    from finplan.quantity import PERCENTAGE, QuantityError, read

    try:
        value = read(text if "%" in text else f"{text} %", PERCENTAGE)
    except QuantityError as error:
        raise typer.BadParameter(str(error), param_hint="--sure") from None
    if not 50 <= value <= 99.9:
        raise typer.BadParameter(f"{text} is not between 50 % and 99.9 %", param_hint="--sure")
    return value / 100


def main() -> None:
    """Run the command line; a problem ends it with status 2, never with a traceback."""
    sys.exit(run(app))

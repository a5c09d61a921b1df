"""The commands that write files: the sheet, tags, a calendar, drawings, everything for other programs, and the demo."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from finplan.cli.common import heads, pieces_of, show_lines, tell, whole_plan
from finplan.cli.options import JsonOption, PaperOption, PieceFiles, ShopOption, SureOption, UnitsOption
from finplan.cli.plan_options import PlanOptions, with_plan_options
from finplan.cli.wishes import now

if TYPE_CHECKING:
    from finplan.quantity import Units


@with_plan_options
def sheet(
    files: PieceFiles,
    output: Annotated[Path, typer.Option("--output", "-o", metavar="OUT.pdf", help="What to write: .pdf or .html.")],
    *,
    asked: PlanOptions,
    sure: SureOption = "90 %",
    units: UnitsOption = None,
    paper: PaperOption = None,
    day: Annotated[
        str | None, typer.Option("--day", metavar="DATE", help="Print this day alone, to be pinned up.")
    ] = None,
    person: Annotated[
        str | None, typer.Option("--for", metavar="NAME", help="Print the days of this person alone.")
    ] = None,
    with_appendix: Annotated[
        bool, typer.Option("--with-appendix", help="Print at the end what the numbers rest on, too.")
    ] = False,
    faults: Annotated[
        bool, typer.Option("--faults", help="Print a page of what to do if a coat of this job goes wrong.")
    ] = False,
    appendix: Annotated[
        Path | None,
        typer.Option("--appendix", metavar="OUT.pdf", help="Write what the numbers rest on to a file of its own."),
    ] = None,
) -> None:
    """Write the printed finishing schedule of one piece, or of several together."""
    from finplan.cli.output import PAGES, press_for
    from finplan.whole_file import check_output

    check_output(output, PAGES, "the sheet", [*files, asked.shop])
    if appendix is not None:
        check_output(appendix, PAGES, "the appendix", [*files, asked.shop])
        if appendix.resolve() == output.resolve():
            raise typer.BadParameter("the appendix needs a file of its own", param_hint="--appendix")
    with press_for(output) as press:
        from finplan.cli.sheet import write_sheet

        pieces = pieces_of(files, asked.shop, units, paper)
        plan = asked.planned(files, pieces, sure=sure, earliest=False)
        plan = whole_plan(plan)
        asked_for = {"with_appendix": with_appendix, "with_faults": faults}
        typer.echo(write_sheet(plan, output, press, day=day, person=person, **asked_for))
    if appendix is not None:
        from finplan.cli.sheet import write_appendix

        with press_for(appendix) as press:
            typer.echo(write_appendix(plan, appendix, press))


@with_plan_options
def plan(
    files: PieceFiles,
    output: Annotated[
        Path | None, typer.Option("--output", "-o", metavar="OUT.json", help="What to write; else it is printed.")
    ] = None,
    *,
    asked: PlanOptions,
    sure: SureOption = "90 %",
    units: UnitsOption = None,
) -> None:
    """Give everything that is planned to other programs, as JSON."""
    from finplan.cli.output import show_or_write
    from finplan.data import as_json, plan_data
    from finplan.whole_file import check_output

    if output is not None:
        check_output(output, (".json",), "the plan", [*files, asked.shop])
    pieces = pieces_of(files, asked.shop, units)
    planned = whole_plan(asked.planned(files, pieces, sure=sure))
    text = as_json(plan_data(planned))
    show_or_write(text, output)
    if not planned.timetable.has_plan:
        raise typer.Exit(3)


@with_plan_options
def tags(
    files: PieceFiles,
    output: Annotated[Path, typer.Option("--output", "-o", metavar="OUT.pdf", help="What to write: .pdf or .html.")],
    *,
    asked: PlanOptions,
    paper: PaperOption = None,
    rows: Annotated[int | None, typer.Option("--rows", help="How many labels stand one below the other.")] = None,
    columns: Annotated[int | None, typer.Option("--columns", help="How many labels stand side by side.")] = None,
    margins: Annotated[
        str | None,
        typer.Option("--margins", metavar="LENGTHS", help="Around them: '15.15 mm 7.2 mm', one length, or four."),
    ] = None,
    gaps: Annotated[
        str | None, typer.Option("--gaps", metavar="LENGTHS", help="Between rows, between columns: '0 mm 2.5 mm'.")
    ] = None,
    cut_lines: Annotated[
        bool | None,
        typer.Option("--cut-lines/--no-cut-lines", help="Print lines to cut along; on plain paper they are."),
    ] = None,
    first: Annotated[int, typer.Option("--first", min=1, help="The first free label of a begun sheet.")] = 1,
) -> None:
    """Write a tag for every coat of every part, on sheets of labels."""
    from finplan.cli.output import PAGES, press_for
    from finplan.whole_file import check_output

    check_output(output, PAGES, "the tags", [*files, asked.shop])
    with press_for(output) as press:
        from finplan.cli.tags import labels_of, write_tags

        pieces = pieces_of(files, asked.shop, None, paper)
        given = {"rows": rows, "columns": columns, "margins": margins, "gaps": gaps, "cut-lines": cut_lines}
        labels = labels_of(pieces[0].source.shop.labels, pieces[0].source.paper, given, first)
        plan = asked.planned(files, pieces, earliest=False)
        typer.echo(write_tags(whole_plan(plan), labels, first, output, press))


@with_plan_options
def quote(
    files: PieceFiles,
    *,
    asked: PlanOptions,
    customer: Annotated[
        Path | None,
        typer.Option("--customer", metavar="OUT.pdf", help="Write the page for the customer: .pdf or .html."),
    ] = None,
    price: Annotated[
        str | None,
        typer.Option(
            "--price", metavar="MONEY", help="What to ask on it before tax: '1450 EUR'; else what is typical."
        ),
    ] = None,
    units: UnitsOption = None,
    paper: PaperOption = None,
    as_json: JsonOption = False,
) -> None:
    """Show what a job costs: hours by kind, materials used and bought, and the total as a range."""
    from finplan.cli.output import PAGES, press_for
    from finplan.cli.quote import price_asked, quote_lines, refuse_price, write_offer
    from finplan.data import quote_data
    from finplan.whole_file import check_output

    asks = price_asked(price)
    if customer is not None:
        check_output(customer, PAGES, "the page for the customer", [*files, asked.shop])
    plan = whole_plan(asked.planned(files, pieces_of(files, asked.shop, units, paper), earliest=False))
    refuse_price(plan, asks)
    if customer is not None:
        with press_for(customer) as press:
            return typer.echo(write_offer(plan, customer, press, asks))
    tell(as_json, lambda: quote_data(plan), lambda: [*heads(plan.pieces), *quote_lines(plan)])


@with_plan_options
def buy(
    files: Annotated[list[Path], typer.Argument(metavar="FOLDER|FILE…", help="A folder of piece files, or some.")],
    *,
    asked: PlanOptions,
    weeks: Annotated[int, typer.Option("--weeks", min=1, max=52, help="How far to look ahead.")] = 4,
    sure: SureOption = "90 %",
    units: UnitsOption = None,
    as_json: JsonOption = False,
) -> None:
    """List what to buy for all jobs together over the next weeks, in as few trips as there can be."""
    from finplan.buying import trips_of
    from finplan.cli.buy import buy_lines, piece_files, trips_within
    from finplan.cli.output import refuse_what_does_not_fit
    from finplan.data import buy_data

    named = piece_files(files)
    plan = whole_plan(asked.planned(named, pieces_of(named, asked.shop, units), sure=sure, earliest=False))
    refuse_what_does_not_fit(plan, Path("the list"))
    soon, later = trips_within(trips_of(plan), weeks, plan)
    tell(
        as_json,
        lambda: buy_data(plan, soon, weeks, later),
        lambda: [*heads(plan.pieces), *buy_lines(plan, soon, weeks, later)],
    )


@with_plan_options
def calendar(
    files: PieceFiles,
    output: Annotated[Path, typer.Option("--output", "-o", metavar="OUT.ics", help="What to write: .ics.")],
    *,
    asked: PlanOptions,
    issue: Annotated[
        int | None,
        typer.Option("--issue", min=1, max=9999, help="Which calendar it is: 2 replaces 1; else the plan's number."),
    ] = None,
    units: UnitsOption = None,
) -> None:
    """Write the timetable as a calendar file, which other calendars read."""
    from finplan.cli.calendar import write_calendar
    from finplan.whole_file import check_output

    check_output(output, (".ics",), "the calendar", [*files, asked.shop])
    pieces = pieces_of(files, asked.shop, units)
    plan = whole_plan(asked.planned(files, pieces, earliest=False))
    typer.echo(write_calendar(plan, output, plan.now, issue or plan.number or 1))


def draw(
    files: PieceFiles,
    output: Annotated[Path, typer.Option("--output", "-o", metavar="DIR", help="The folder to write the drawings to.")],
    shop: ShopOption = None,
    units: UnitsOption = None,
) -> None:
    """Write a dimensioned drawing of every part of one piece, or of several, as SVG."""
    from finplan.cli.draw import write_drawings

    sources = [piece.source for piece in pieces_of(files, shop, units) if not piece.sample]
    drawn = [(file.stem, source.piece) for file, source in zip(files, sources, strict=True)]
    show_lines(write_drawings(drawn, output, sources[0].units, [*files, shop]))


def demo(
    folder: Annotated[Path, typer.Argument(metavar="[FOLDER]", help="Where to write.")] = Path("finplan-demo"),
) -> None:
    """Write three invented pieces and a workshop to try, and the first one's schedule."""
    from finplan.cli.demo import make_demo

    show_lines(make_demo(folder, now()))


def new(
    file: Annotated[Path | None, typer.Argument(metavar="[FILE]", help="The piece file to write.")] = None,
    form: Annotated[
        str | None, typer.Option("--form", metavar="FORM", help="What to begin from, such as round-table.")
    ] = None,
    size: Annotated[
        list[str] | None,
        typer.Option("--size", metavar="NAME=VALUE", help="A main size: diameter=1100; may be repeated."),
    ] = None,
    timber: Annotated[str | None, typer.Option("--timber", metavar="TIMBER", help="Such as ash.")] = None,
    system: Annotated[
        str | None, typer.Option("--system", metavar="SYSTEM", help="The coating system, such as hardwax-oil.")
    ] = None,
    deliver: Annotated[str | None, typer.Option("--deliver", metavar="DATE", help="When it has to be there.")] = None,
    title: Annotated[
        str | None, typer.Option("--title", metavar="WORDS", help="What it is called, as printed on the sheet.")
    ] = None,
    customer: Annotated[str | None, typer.Option("--customer", metavar="WORDS", help="Who it is for.")] = None,
    units: UnitsOption = None,
    shop: Annotated[
        Path | None, typer.Option("--shop", metavar="SHOP.yaml", help="Write a shop file, not a piece.")
    ] = None,
    person: Annotated[str | None, typer.Option("--person", metavar="NAME", help="Shop: who works there.")] = None,
    hours: Annotated[
        str | None, typer.Option("--hours", metavar="HOURS", help="Shop: 'mon-thu 8:00-17:00; fri 8:00-13:00'.")
    ] = None,
    time_zone: Annotated[
        str | None, typer.Option("--time-zone", metavar="ZONE", help="Shop: such as Europe/London.")
    ] = None,
    holidays: Annotated[
        str | None, typer.Option("--holidays", metavar="COUNTRY", help="Shop: whose public holidays: GB-SCT, or none.")
    ] = None,
    day: Annotated[str | None, typer.Option("--day", metavar="DEGREES", help="Shop: how warm by day.")] = None,
    night: Annotated[str | None, typer.Option("--night", metavar="DEGREES", help="Shop: how warm by night.")] = None,
    room: Annotated[
        str | None, typer.Option("--room", metavar="VOLUME", help="Shop: how large: 100 m3, or '7 x 5 x 2.6 m'.")
    ] = None,
    list_forms: Annotated[bool, typer.Option("--forms", help="List what can be begun from, with its sizes.")] = False,
    as_json: JsonOption = False,
) -> None:
    """Begin a piece file, or a shop file, by a few plain questions; with options it asks nothing."""
    from finplan.cli.asking import somebody_sits_there
    from finplan.cli.new import Given, begin_piece, begin_shop, form_lines
    from finplan.cli.shop_asking import ShopGiven
    from finplan.data import begun_data, forms_data

    if list_forms:
        return tell(as_json, forms_data, form_lines)
    wanted: Units | None = None if units is None else units.value
    of_shop = ShopGiven(title, wanted, time_zone, holidays, person, hours, day, night, room)
    if shop is not None:
        begun = begin_shop(shop, of_shop, somebody_sits_there())
    else:
        given = Given(form, size or (), title, customer, timber, system, deliver)
        begun = begin_piece(file, given, of_shop, somebody_sits_there(), now())
    tell(as_json, lambda: begun_data(begun.written), lambda: list(begun.lines))

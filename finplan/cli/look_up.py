"""The commands that look something up: the catalogue, what a file may say, the guide, and the commands themselves."""

from typing import TYPE_CHECKING, Annotated

import typer

from finplan.cli.common import show_json, show_lines, tell
from finplan.cli.manners import help_text, names_of_records
from finplan.cli.options import JsonOption, SchemaChoice, ShopOption, UnitsChoice, UnitsOption

if TYPE_CHECKING:
    from finplan.quantity import Units


def catalogue(
    name: Annotated[
        str | None,
        typer.Argument(metavar="[NAME]", help="A finish, system, timber, …", autocompletion=names_of_records),
    ] = None,
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
    from finplan.cli.catalogue import catalogue_data, catalogue_lines, catalogue_of, lines_of_kind, wanted

    if fields is not None:
        return show_lines(lines_of_kind(fields))
    asked = wanted(kind, where or [], dry_by)
    records = catalogue_of(shop)
    shown: Units = "us" if units is UnitsChoice.us else "metric"
    tell(as_json, lambda: catalogue_data(records, name, asked), lambda: catalogue_lines(records, name, asked, shown))


def help_(
    ctx: typer.Context,
    command: Annotated[list[str] | None, typer.Argument(metavar="[COMMAND]", help="Such as timetable.")] = None,
) -> None:
    """Show what a command is for, its options and an example."""
    typer.echo(help_text(ctx, command or []))


def fields(
    name: Annotated[
        str | None, typer.Argument(metavar="[NAME]", help="piece, shop, a shape, shapes, or the name of a field.")
    ] = None,
    as_json: JsonOption = False,
) -> None:
    """Explain the fields of a piece file and a shop file, with a picture of every shape."""
    from finplan.cli.fields import fields_lines, looked_up
    from finplan.data import fields_data

    tell(as_json, lambda: fields_data(looked_up(name)), lambda: fields_lines(name))


def guide(
    topic: Annotated[str | None, typer.Argument(metavar="[TOPIC]", help="A page, such as tutorial.")] = None,
) -> None:
    """Read the guide: a tutorial, how to do this and that, every command and field, and how it is reckoned."""
    from finplan.cli.demo import program_name
    from finplan.cli.guide import guide_lines

    show_lines(guide_lines(topic, program_name()))


def schema(
    file: Annotated[SchemaChoice, typer.Argument(metavar="[piece|shop]", help="Of which file.")] = SchemaChoice.piece,
) -> None:
    """Print the JSON Schema of a piece file or a shop file, from which editors complete."""
    from finplan.data import as_json
    from finplan.fields import piece_schema, shop_schema

    show_json(as_json(piece_schema() if file is SchemaChoice.piece else shop_schema()))

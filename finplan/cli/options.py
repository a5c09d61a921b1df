"""The arguments and options that commands share."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer


class UnitsChoice(StrEnum):
    """How results are shown."""

    metric = "metric"
    us = "us"


class PaperChoice(StrEnum):
    """The paper of the sheet."""

    a4 = "a4"
    letter = "letter"


class SchemaChoice(StrEnum):
    """Of which file a schema is."""

    piece = "piece"
    shop = "shop"


class BufferChoice(StrEnum):
    """How much is left between ready and delivery."""

    wanted = "wanted"
    max = "max"


class ReadyChoice(StrEnum):
    """What the customer may do with the piece when it is delivered."""

    handle = "handle"
    light_use = "light-use"
    cure = "cure"


PieceArgument = Annotated[Path, typer.Argument(metavar="FILE", help="The piece file.")]
PieceFiles = Annotated[list[Path], typer.Argument(metavar="FILE…", help="One or several piece files.")]
ShopOption = Annotated[
    Path | None,
    typer.Option(
        "--shop", metavar="SHOP.yaml", help="The shop file; else shop.yaml beside the piece, else the default."
    ),
]
LedgerOption = Annotated[
    Path | None,
    typer.Option("--ledger", metavar="FILE", help="The job's record; else finplan.ledger beside shop.yaml."),
]
NoLedgerOption = Annotated[
    bool, typer.Option("--no-ledger", help="Plan as if nothing were recorded, and record nothing.")
]
AnewOption = Annotated[bool, typer.Option("--anew", help="Plan again, even if a plan is held.")]
CatalogueOnlyOption = Annotated[
    bool, typer.Option("--catalogue-only", help="Reckon with the catalogue alone, not with what the shop has learnt.")
]
CsvOption = Annotated[bool, typer.Option("--csv", help="Print comma-separated values for a spreadsheet.")]
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
AsapOption = Annotated[bool, typer.Option("--asap", help="Be ready as early as can be, not begin as late as is safe.")]
BufferOption = Annotated[
    BufferChoice,
    typer.Option("--buffer", help="What to leave before the delivery."),
]
ReadyOption = Annotated[
    ReadyChoice,
    typer.Option("--ready-for", help="When a piece counts as ready."),
]
LoseOption = Annotated[
    str | None,
    typer.Option("--lose", metavar="DATE", help="What becomes of the plan if nobody works on this day."),
]
DoneOption = Annotated[
    list[str] | None,
    typer.Option("--done", metavar="ID[=TIME]", help="A step that has been done, and when it ended; may be repeated."),
]
LimitOption = Annotated[
    str | None,
    typer.Option("--limit", metavar="SECONDS", help="Then the best found is shown: 1 to 3600."),
]

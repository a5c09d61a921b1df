"""The command that opens the page in the browser."""

from pathlib import Path
from typing import Annotated

import typer

from finplan.cli.wishes import now


def open_page(
    folder: Annotated[Path, typer.Argument(metavar="[FOLDER]", help="The folder of the pieces.")] = Path(),
    no_browser: Annotated[bool, typer.Option("--no-browser", help="Print the address and open no browser.")] = False,
    port: Annotated[int, typer.Option("--port", min=0, max=65535, help="Of this machine; 0 for any that is free.")] = 0,
    share: Annotated[
        bool,
        typer.Option("--share", help="Let phones of the shop's network in by a code: they tick at the bench and read."),
    ] = False,
    share_edit: Annotated[bool, typer.Option("--share-edit", help="Likewise, and they may edit pieces.")] = False,
    share_at: Annotated[
        str | None,
        typer.Option("--share-at", metavar="ADDRESS", help="Likewise, at this address of this machine: 192.168.1.20."),
    ] = None,
) -> None:
    """Open the pieces of a folder as a page in the browser; Ctrl-C stops it. The address is printed first."""
    from finplan.cli.machine import machine_zone
    from finplan.page import Sharing, serve

    sharing = Sharing(share_at, share_edit) if share or share_edit or share_at is not None else None
    serve(folder, now, port=port, browser=not no_browser, sharing=sharing, zone=machine_zone())

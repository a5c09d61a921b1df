"""The command that opens the page in the browser."""

from pathlib import Path
from typing import Annotated

import typer

from finplan.cli.wishes import now


def open_page(
    folder: Annotated[Path, typer.Argument(metavar="[FOLDER]", help="The folder of the pieces.")] = Path(),
    no_browser: Annotated[bool, typer.Option("--no-browser", help="Print the address and open no browser.")] = False,
    port: Annotated[int, typer.Option("--port", min=0, max=65535, help="Of this machine; 0 for any that is free.")] = 0,
) -> None:
    """Open the pieces of a folder as a page in the browser; Ctrl-C stops it. The address is printed first."""
    from finplan.page import serve

    serve(folder, now, port=port, browser=not no_browser)

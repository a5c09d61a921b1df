"""The server on this machine: it prints its address first, and stops at once."""

from __future__ import annotations

import asyncio
import socket
import sys
import webbrowser
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from types import FrameType

import uvicorn

from finplan.page.app import make_app
from finplan.page.guard import Guard, Keys
from finplan.page.opened import Opened
from finplan.problems import NotPossibleError

HERE = "127.0.0.1"
_WAITING = 128
"""Connections that wait to be taken."""


class _Server(uvicorn.Server):
    """Stops at once: pages that listen for news would keep it waiting."""

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        self.force_exit = True
        super().handle_exit(sig, frame)


def serve(folder: Path, now: Callable[[], datetime], *, port: int = 0, browser: bool = True) -> None:
    """Serve the pages of a folder until somebody stops it.

    Parameters
    ----------
    folder
        With the pieces
    now
        Gives this moment
    port
        Of this machine; 0 for any that is free
    browser
        Whether the page is opened in the browser

    Raises
    ------
    NotPossibleError
        There is no such folder, or the port is taken.
    """
    if not folder.is_dir():
        msg = f"{folder}: there is no such folder"
        raise NotPossibleError(msg)
    listening = _listen(port)
    taken = listening.getsockname()[1]
    keys = Keys()
    opened = Opened(folder, now)
    guarded = Guard(make_app(opened), keys, [f"{HERE}:{taken}", f"localhost:{taken}"])
    address = f"http://{HERE}:{taken}/?word={keys.word}"
    sys.stdout.write(f"{address}\n")
    sys.stdout.flush()
    if browser:
        webbrowser.open(address)
    config = uvicorn.Config(
        guarded,
        log_level="error",
        access_log=False,
        server_header=False,
        date_header=False,
        lifespan="on",
        ws="none",
        timeout_keep_alive=30,
    )
    try:
        asyncio.run(_Server(config).serve(sockets=[listening]))
    finally:
        opened.end()
        listening.close()


def _listen(port: int) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind((HERE, port))
        listening.listen(_WAITING)
    except (OSError, OverflowError) as error:
        listening.close()
        msg = f"port {port} cannot be had: {getattr(error, 'strerror', None) or error}; --port 0 takes any that is free"
        raise NotPossibleError(msg) from None
    return listening

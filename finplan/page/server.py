"""The server on this machine: it prints its address first, and stops at once."""

from __future__ import annotations

import asyncio
import signal
import socket
import sys
import webbrowser
from collections.abc import Callable, Iterator
from contextlib import contextmanager, nullcontext
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from pathlib import Path
from types import FrameType

import uvicorn

from finplan.page.app import make_app
from finplan.page.guard import Guard, Keys
from finplan.page.opened import Opened
from finplan.page.sharing import Phones, shared_address
from finplan.page.terminal import show_code, shown_in_terminal
from finplan.problems import NotPossibleError

if sys.platform != "win32":
    import resource

HERE = "127.0.0.1"
_WAITING = 128
"""Connections that wait to be taken."""
_MOST_OPEN = 16_384
"""Files and connections that may be open at once, where the system lets a program have so many."""


class _Server(uvicorn.Server):
    """Stops at once, without waiting for pages that listen for news; being stopped is how it ends."""

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Hear what asks the program to end, as long as it serves."""
        before = {number: signal.signal(number, self._stop) for number in (signal.SIGINT, signal.SIGTERM)}
        try:
            yield
        finally:
            for number, handler in before.items():
                signal.signal(number, handler)

    def _stop(self, number: int, frame: FrameType | None) -> None:
        self.should_exit = self.force_exit = True


@dataclass(frozen=True, slots=True)
class Sharing:
    """That phones of the shop's network are let in."""

    at: str | None = None
    """The address of this machine there; None to look for it."""
    edit: bool = False
    """Whether they may edit pieces, too."""


def serve(
    folder: Path,
    now: Callable[[], datetime],
    *,
    port: int = 0,
    browser: bool = True,
    sharing: Sharing | None = None,
    zone: str = "UTC",
) -> None:
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
    sharing
        Whether phones are let in, and what they may; None for this machine alone
    zone
        The time zone of this machine, for a shop file that is begun

    Raises
    ------
    NotPossibleError
        There is no such folder, the port is taken, or this machine is in no local network.
    """
    if not folder.is_dir():
        msg = f"{folder}: there is no such folder"
        raise NotPossibleError(msg)
    _have_room()
    there = None if sharing is None else shared_address(sharing.at)
    sockets = [_listen(HERE, port)]
    taken = sockets[0].getsockname()[1]
    phones = None
    if sharing is not None and there is not None:
        sockets.append(_listen(there, taken))
        phones = Phones(f"http://{there}:{taken}", now, sharing.edit)
        phones.changed = partial(show_code, phones)
    keys = Keys()
    opened = Opened(folder, now, zone)
    guarded = Guard(make_app(opened, phones), keys, [f"{HERE}:{taken}", f"localhost:{taken}"], phones)
    address = f"http://{HERE}:{taken}/?word={keys.word}"
    sys.stdout.write(f"{address}\n")
    sys.stdout.flush()
    if browser:
        webbrowser.open(address)
    config = uvicorn.Config(
        guarded,
        log_level="critical",
        access_log=False,
        server_header=False,
        date_header=False,
        lifespan="off",
        ws="none",
        timeout_keep_alive=30,
        proxy_headers=False,
    )
    try:
        with nullcontext() if phones is None else shown_in_terminal(phones):
            asyncio.run(_Server(config).serve(sockets=sockets))
    finally:
        opened.end()
        for listening in sockets:
            listening.close()


def _have_room() -> None:
    """Let this program hold more connections than the thousand that many systems begin with.

    Above that limit none is answered any more, and each that waits is complained of again and again.
    """
    if sys.platform == "win32":  # which knows no such limit
        return
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    wanted = _MOST_OPEN if hard == resource.RLIM_INFINITY else min(_MOST_OPEN, hard)
    if soft != resource.RLIM_INFINITY and soft < wanted:
        resource.setrlimit(resource.RLIMIT_NOFILE, (wanted, hard))


def _listen(host: str, port: int) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind((host, port))
        listening.listen(_WAITING)
    except (OSError, OverflowError) as error:
        listening.close()
        why = getattr(error, "strerror", None) or error
        msg = f"port {port} of {host} cannot be had: {why}; --port 0 takes any that is free"
        raise NotPossibleError(msg) from None
    return listening

"""What pages are told while they are open: server-sent events, to every window. HTML Standard, section 9.2."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator
from contextlib import suppress
from typing import Any

_PING_S = 15.0
_MOST = 64
"""Windows of one piece that are told."""


class Hub:
    """The windows that are open, by piece; what is told comes from any thread."""

    def __init__(self) -> None:
        self._loop: asyncio.AbstractEventLoop | None = None
        self._windows: dict[str, set[asyncio.Queue[tuple[str, Any]]]] = {}

    def names(self) -> list[str]:
        """Return the pieces that a window is open on."""
        return [name for name, windows in list(self._windows.items()) if windows]

    def tell(self, name: str, event: str, data: Any) -> None:
        """Tell every window of a piece."""
        if self._loop is None or self._loop.is_closed():
            return
        with suppress(RuntimeError):  # the loop ends just now
            self._loop.call_soon_threadsafe(self._put, name, (event, data))

    def _put(self, name: str, told: tuple[str, Any]) -> None:
        for window in self._windows.get(name, ()):
            with suppress(asyncio.QueueFull):
                window.put_nowait(told)

    async def events(self, name: str) -> AsyncIterator[str]:
        """Give what a window of a piece is told, as the lines of its stream."""
        self._loop = asyncio.get_running_loop()
        window: asyncio.Queue[tuple[str, Any]] = asyncio.Queue(100)
        windows = self._windows.setdefault(name, set())
        if len(windows) >= _MOST:
            return
        windows.add(window)
        try:
            yield "retry: 1000\n\n"
            while True:
                try:
                    event, data = await asyncio.wait_for(window.get(), _PING_S)
                except TimeoutError:
                    yield ": still here\n\n"
                    continue
                yield f"event: {event}\ndata: {json.dumps(data)}\n\n"
        finally:
            windows.discard(window)

"""Every page is laid out once in a session of tests, in the process that asks first, whichever asks again.

The same page is the same file to the byte (``tests/test_press.py`` and ``tests/sheet/test_pdf.py`` lay it out anew). A
renderer in a process of its own loads anew for every page; a test that looks at that asks for ``own_press``.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from finplan.press import Press, pdf_bytes

_OWN = {name: vars(Press)[name] for name in ("__init__", "__exit__", "pdf")}


class Printer(Press):
    """Keeps what was laid out in a folder."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def pdf(self, html: str) -> bytes:
        """Return a page as ``pdf_bytes`` does."""
        file = self._folder / f"{hashlib.sha256(html.encode()).hexdigest()}.pdf"
        if file.exists():
            return file.read_bytes()
        whole = file.with_suffix(f".{os.getpid()}")
        whole.write_bytes(pdf_bytes(html))
        whole.replace(file)
        return file.read_bytes()


@contextmanager
def printed_once(folder: Path) -> Iterator[Printer]:
    """Keep what is laid out in a folder, for whatever starts a renderer too."""
    printer = Printer(folder)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Press, "__init__", lambda _: None)
        patch.setattr(Press, "__exit__", lambda *_: None)
        patch.setattr(Press, "pdf", lambda _, html: printer.pdf(html))
        yield printer


def in_its_own_process(patch: pytest.MonkeyPatch) -> None:
    """Let the renderer be a process of its own again, as it is for a maker."""
    for name, own in _OWN.items():
        patch.setattr(Press, name, own)

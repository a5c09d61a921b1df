"""The page renderer, here or in a process of its own; nothing outside a page is read.

The renderer takes a while to load. Started first, in a process of its own, it is ready when the page is.
"""

from __future__ import annotations

import gc
import io
import logging
import os
import re
import subprocess
import sys
import warnings
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stdout
from types import TracebackType
from typing import Any, Self

from finplan.problems import NotPossibleError

_HARMLESS = (".notdef glyph rendered", "Please install HarfBuzz", "Unable to save emoji", "Unable to instantiate")
"""A character of the maker's that no bundled font has, and the machine neither, or only one that cannot be embedded: it
prints as a box or not at all, and the command line warns of it by itself."""
_COMPLAINED, _LACKING = 2, 3
"""How the process of its own ends where it does not print."""

_MISSING = """\
the page renderer finds no Pango on this machine{named}, so there is no PDF; '-o FILE.html' writes
the same sheet without it, to be printed from a browser. To get Pango:
  Debian, Ubuntu   apt install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0
  Fedora           dnf install pango
  macOS            brew install pango
  Windows          in MSYS2: pacman -S mingw-w64-x86_64-pango, then set WEASYPRINT_DLL_DIRECTORIES to its bin folder,
                   such as C:\\msys64\\mingw64\\bin"""


class NoPageRendererError(NotPossibleError):
    """The system libraries that the page renderer needs are not there."""


class Press:
    """The renderer in a process of its own, which loads while something else is done; for one page."""

    def __init__(self) -> None:
        # The process finds modules where this one does, and not in the folder that it is started in.
        paths = os.pathsep.join(path for path in sys.path if path)
        self._process = subprocess.Popen(
            [sys.executable, "-P", "-m", "finplan.press"],
            env={**os.environ, "PYTHONPATH": paths},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
        )

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._process.kill()
        self._process.communicate()

    def pdf(self, html: str) -> bytes:
        """Return a page as ``rendered`` does.

        Raises
        ------
        NoPageRendererError
            The machine lacks the libraries that set text.
        NotPossibleError
            The renderer complains, or ends without a word.
        """
        printed, told = self._process.communicate(html.encode("utf-8"))
        if self._process.returncode == 0:
            return printed
        words = told.decode("utf-8", errors="replace").strip() or "the page renderer ended without a word"
        raise (NoPageRendererError if self._process.returncode == _LACKING else NotPossibleError)(words)


def rendered(html: str) -> bytes:
    """Return *html* as a tagged PDF.

    Parameters
    ----------
    html
        A page that carries its styles and fonts; nothing else is read

    Raises
    ------
    NoPageRendererError
        The machine lacks the libraries that set text; says which, and how to get them.
    NotPossibleError
        The renderer complains.
    """
    weasyprint = _renderer()
    with _complaints() as found, warnings.catch_warnings():
        warnings.simplefilter("ignore")
        # The page carries its fonts as data, so no address of any other kind is ever followed, whoever wrote it.
        fetcher = weasyprint.urls.URLFetcher(allowed_protocols={"data"})
        # Whole fonts: cutting them again stamps the time into the file, and differs from machine to machine.
        page = weasyprint.HTML(string=html, url_fetcher=fetcher)
        pdf: bytes = page.write_pdf(full_fonts=True, pdf_variant="pdf/ua-1", finisher=_heads_by_scope)
    if found:
        msg = f"the page renderer complains: {'; '.join(found[:3])}; '-o FILE.html' writes the same sheet without it"
        raise NotPossibleError(msg)
    return pdf


def _heads_by_scope(_: Any, pdf: Any) -> None:
    """Say of every head of a table whether it heads a column or a row. ISO 32000-1, table 349.

    The renderer names the heads of each cell instead: wrong ones beside a head that spans rows, and by names that come
    again where a table goes on on the next page.
    """
    objects: list[Any] = [one for one in pdf.objects if isinstance(one, dict)]
    elements = {one.reference: one for one in objects if "S" in one}
    for element in elements.values():
        if element["S"] in ("/TH", "/TD"):
            element.pop("ID", None)
            element["A"].pop("Headers", None)
        if element["S"] == "/TH":
            group = elements[elements[element["P"]]["P"]]
            element["A"]["Scope"] = "/Column" if group["S"] == "/THead" else "/Row"


def _renderer() -> Any:
    """Return the page renderer, which prints a block of its own where a library is missing."""
    with redirect_stdout(io.StringIO()), warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            import weasyprint
        except OSError as error:
            library = re.search(r"'([^']+)'", str(error))
            named = f" ({library.group(1)} is missing)" if library else ""
            raise NoPageRendererError(_MISSING.format(named=named)) from error
    return weasyprint


class _Collector(logging.Handler):
    """Keeps what the renderer complains of; it has no other way to say so."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.found: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        """Keep one record."""
        message = record.getMessage()
        if not message.startswith(_HARMLESS):
            self.found.append(message)


@contextmanager
def _complaints() -> Iterator[list[str]]:
    logger = logging.getLogger("weasyprint")
    collector = _Collector()
    before = logger.level, logger.propagate, list(logger.handlers)
    logger.handlers, logger.propagate = [collector], False
    logger.setLevel(logging.WARNING)
    try:
        yield collector.found
    finally:
        logger.level, logger.propagate, logger.handlers = before


def _serve() -> int:
    """Load the renderer, then wait for a page on the standard input and print it to the standard output."""
    # It lives for one page and keeps nearly all that it makes: looking for garbage only takes time.
    gc.disable()
    try:
        _renderer()
        html = sys.stdin.buffer.read().decode("utf-8")
        sys.stdout.buffer.write(rendered(html))
    except NotPossibleError as error:
        sys.stderr.buffer.write(str(error).encode("utf-8"))
        return _LACKING if isinstance(error, NoPageRendererError) else _COMPLAINED
    return 0


if __name__ == "__main__":
    sys.exit(_serve())

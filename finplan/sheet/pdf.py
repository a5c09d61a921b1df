"""From HTML to PDF: nothing outside the page is read, and the same page gives the same bytes."""

from __future__ import annotations

import io
import logging
import re
import warnings
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stdout
from pathlib import Path
from typing import Any

from finplan.problems import NotPossibleError
from finplan.whole_file import write_whole

_HARMLESS = ".notdef glyph rendered"
"""A character of the maker's that no font here has, printed as a box: the command line warns of it by itself."""

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


def write_pdf(html: str, target: Path) -> None:
    """Write *html* as a tagged PDF to *target*, whole or not at all.

    Parameters
    ----------
    html
        A page that carries its styles and fonts; nothing else is read
    target
        The file; one that is there is replaced

    Raises
    ------
    NoPageRendererError
        The machine lacks the libraries that set text; says which, and how to get them.
    NotPossibleError
        The renderer complains, or *target* cannot be written.
    """
    write_whole(_rendered(html), target)


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


def _rendered(html: str) -> bytes:
    weasyprint = _renderer()
    with _complaints() as found, warnings.catch_warnings():
        warnings.simplefilter("ignore")
        # The page carries its fonts as data, so no address of any other kind is ever followed, whoever wrote it.
        fetcher = weasyprint.urls.URLFetcher(allowed_protocols={"data"})
        # Whole fonts: cutting them again stamps the time into the file, and differs from machine to machine.
        page = weasyprint.HTML(string=html, url_fetcher=fetcher)
        pdf: bytes = page.write_pdf(full_fonts=True, pdf_variant="pdf/ua-1")
    if found:
        msg = f"the page renderer complains: {'; '.join(found[:3])}; '-o FILE.html' writes the same sheet without it"
        raise NotPossibleError(msg)
    return pdf


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

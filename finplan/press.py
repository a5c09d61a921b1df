"""The page renderer, here or in a process of its own; nothing outside a page is read.

The renderer takes a while to load. Started first, in a process of its own, it is ready when the page is.
"""

from __future__ import annotations

import _thread
import errno
import gc
import io
import logging
import os
import re
import signal
import subprocess
import sys
import tempfile
import threading
import traceback
import warnings
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, redirect_stdout, suppress
from types import TracebackType
from typing import Any, BinaryIO, Self

from finplan.page_tree import page_tree
from finplan.problems import NotPossibleError

_HARMLESS = (".notdef glyph rendered", "Please install HarfBuzz", "Unable to save emoji", "Unable to instantiate")
"""A character of the maker's that no bundled font has, and the machine neither, or only one that cannot be embedded: it
prints as a box or not at all, and the command line warns of it by itself."""
_COMPLAINED, _LACKING, _FAILED = 2, 3, 4
"""How the process of its own ends where it does not print."""
LIMIT_S = 180.0
"""How long one page may take: more than a hundred times what a sheet does."""
_OF_PAPER = """\
.agenda a::after { content: "p. " target-counter(attr(href url), page); font-weight: 600; }
section.days { bookmark-level: 2; bookmark-label: "Days"; }
section.days h2 { bookmark-level: 3; }
section.days h3 { bookmark-level: 4; }
"""
"""What only a printed page has, numbers of pages and an outline: no browser and no checker knows these properties."""
_NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EROFS)
_PATIENCE_S = 3.0
"""So long the other process may take to clear up."""

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


class RendererFaultError(RuntimeError):
    """The renderer fails where it should complain; carries its traceback."""


class Press:
    """The renderer in a process of its own, which loads while something else is done; for one page.

    It lives no longer than this process, however that ends: it holds the other end of a pipe, and when nobody holds
    this one any more it clears up and ends.
    """

    def __init__(self) -> None:
        self._page_sent = False
        # The process finds modules where this one does, and not in the folder that it is started in.
        paths = os.pathsep.join(path for path in sys.path if path)
        self._process = subprocess.Popen(
            [sys.executable, "-P", "-m", "finplan.press"],
            env={**os.environ, "PYTHONPATH": paths},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
        )

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        process = self._process
        for pipe in (process.stdin, process.stdout):
            if pipe is not None:
                with suppress(OSError):
                    pipe.close()
        if self._page_sent:  # then it has something to clear up
            with suppress(subprocess.TimeoutExpired):
                process.wait(_PATIENCE_S)
        process.kill()
        process.wait()

    def pdf(self, html: str) -> bytes:
        """Return a page as ``pdf_bytes`` does.

        Raises
        ------
        NoPageRendererError
            The machine lacks the libraries that set text.
        NotPossibleError
            The renderer complains, ends without a word, or takes too long.
        RendererFaultError
            It fails as it should not; says where.
        """
        stdin, stdout = self._process.stdin, self._process.stdout
        assert stdin is not None and stdout is not None  # noqa: S101, PT018 - they are pipes
        page = html.encode("utf-8")
        self._page_sent = True
        late = threading.Timer(LIMIT_S, self._process.kill)
        late.start()
        try:
            with suppress(OSError):  # it has ended by itself, and says why
                stdin.write(b"%d\n" % len(page))
                stdin.write(page)
                stdin.flush()
            printed = stdout.read()
            status = self._process.wait()
        finally:
            in_time = late.is_alive()
            late.cancel()
        if status == 0:
            return printed
        if not in_time:
            msg = f"the page renderer took longer than {LIMIT_S:.0f} s; plan fewer pieces at a time"
            raise NotPossibleError(msg)
        words = printed.decode("utf-8", errors="replace").strip() or "the page renderer ended without a word"
        if status == _FAILED:
            raise RendererFaultError(words)
        raise (NoPageRendererError if status == _LACKING else NotPossibleError)(words)


def pdf_bytes(html: str) -> bytes:
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
        The renderer complains, or has no room for its temporary files.
    """
    weasyprint = _renderer()
    with _complaints() as complaints, warnings.catch_warnings(), _scratch(), _all_kept():
        warnings.simplefilter("ignore")
        # The page carries its fonts as data, so no address of any other kind is ever followed, whoever wrote it.
        fetcher = weasyprint.urls.URLFetcher(allowed_protocols={"data"})
        # Whole fonts: cutting them again stamps the time into the file, and differs from machine to machine.
        page = _page(weasyprint, html, fetcher)
        of_paper = weasyprint.CSS(string=_OF_PAPER, url_fetcher=fetcher)
        pdf: bytes = page.write_pdf(
            stylesheets=[of_paper], full_fonts=True, pdf_variant="pdf/ua-1", finisher=_heads_by_scope
        )
    if complaints:
        msg = (
            f"the page renderer complains: {'; '.join(complaints[:3])}; '-o FILE.html' writes the same sheet without it"
        )
        raise NotPossibleError(msg)
    return pdf


def _page(weasyprint: Any, html: str, fetcher: Any) -> Any:
    """Return a page as the renderer takes it, read by its own parser only where that is needed."""
    tree = page_tree(html)
    page = weasyprint.HTML(string=html if tree is None else "", url_fetcher=fetcher)
    if tree is not None:
        page.wrapper_element = type(page.wrapper_element).from_html_root(tree, content_language=None)
        page.etree_element = tree
    return page


def _heads_by_scope(_: Any, pdf: Any) -> None:
    """Say of every head of a table whether it heads a column or a row. ISO 32000-1, table 349.

    The renderer names the heads of each cell instead: wrong ones beside a head that spans rows, and by names that come
    again where a table goes on on the next page.
    """
    objects: list[Any] = [entry for entry in pdf.objects if isinstance(entry, dict)]
    elements = {entry.reference: entry for entry in objects if "S" in entry}
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
            with suppress(OSError), _libraries_by_name():
                import weasyprint
            import weasyprint  # once more, and with every look-up, where that was not enough
        except OSError as error:
            library = re.search(r"'([^']+)'", str(error))
            named = f" ({library.group(1)} is missing)" if library else ""
            raise NoPageRendererError(_MISSING.format(named=named)) from error
    return weasyprint


@contextmanager
def _libraries_by_name() -> Iterator[None]:
    """Let libraries be found by their names alone while the renderer loads, as Linux finds them.

    It asks for each by six names in turn. For one that the system's loader does not know, the standard library starts
    a compiler and two linkers, 215 look-ups in all, and leaves a temporary file where it is ended among them; nothing
    that is there is found so and not by its own name.
    """
    if sys.platform != "linux":
        yield
        return
    import ctypes.util

    usual = ctypes.util.find_library
    ctypes.util.find_library = lambda name: None
    try:
        yield
    finally:
        ctypes.util.find_library = usual


@contextmanager
def _all_kept() -> Iterator[None]:
    """Look for no garbage while a page is laid out: nearly all that is made is kept, and looking takes long."""
    looked = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if looked:
            gc.enable()


@contextmanager
def _scratch() -> Iterator[None]:
    """Give the renderer a folder for its fonts that goes when the page is there; it would leave that to chance."""
    before = tempfile.tempdir
    with ExitStack() as stack:
        with _signals_wait():  # or one that comes in between would leave a folder that nobody knows of
            try:
                folder = stack.enter_context(tempfile.TemporaryDirectory(prefix="finplan-", ignore_cleanup_errors=True))
            except OSError as error:
                raise _no_scratch(error) from error
        tempfile.tempdir = folder
        try:
            yield
        except OSError as error:
            if error.errno not in _NO_ROOM:
                raise
            raise _no_scratch(error) from error
        finally:
            tempfile.tempdir = before


def _no_scratch(error: OSError) -> NotPossibleError:
    reason = (error.strerror or str(error)).lower()
    return NotPossibleError(
        f"the page renderer cannot write its temporary files: {reason}; make room for them, or name another folder for "
        "them by TMPDIR; '-o FILE.html' writes the same sheet without them"
    )


@contextmanager
def _signals_wait() -> Iterator[None]:
    """Let what asks the program to end be heard only afterwards, where the machine can."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT, signal.SIGTERM, signal.SIGHUP})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


class _Collector(logging.Handler):
    """Keeps what the renderer complains of; it has no other way to say so."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.messages: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        """Keep one record."""
        message = record.getMessage()
        if not message.startswith(_HARMLESS):
            self.messages.append(message)


@contextmanager
def _complaints() -> Iterator[list[str]]:
    logger = logging.getLogger("weasyprint")
    collector = _Collector()
    before = logger.level, logger.propagate, list(logger.handlers)
    logger.handlers, logger.propagate = [collector], False
    logger.setLevel(logging.WARNING)
    try:
        yield collector.messages
    finally:
        logger.level, logger.propagate, logger.handlers = before


def _serve() -> int:
    """Load the renderer, then wait for a page on the standard input and print it to the standard output."""
    # It lives for one page and keeps nearly all that it makes: looking for garbage only takes time.
    gc.disable()
    # A break from the keyboard reaches both processes: this one ends when the other has.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(_COMPLAINED))
    out = sys.stdout.buffer
    try:
        _renderer()
        stdin = sys.stdin.buffer
        length = int(stdin.readline() or -1)
        page = stdin.read(max(length, 0))
        if len(page) != length:
            return _COMPLAINED  # nobody wants it any more
        threading.Thread(target=_watch, args=(stdin,), daemon=True).start()
        out.write(pdf_bytes(page.decode("utf-8")))
        out.flush()
    except NotPossibleError as error:
        out.write(str(error).encode("utf-8"))
        return _LACKING if isinstance(error, NoPageRendererError) else _COMPLAINED
    except BrokenPipeError:
        return _COMPLAINED
    except Exception:
        out.write(traceback.format_exc().encode("utf-8"))
        return _FAILED
    return 0


def _watch(stdin: BinaryIO) -> None:
    """End this process, cleared up, when the one that wants the page is gone."""
    stdin.read(1)
    _thread.interrupt_main(signal.SIGTERM)


if __name__ == "__main__":
    status = _serve()
    sys.stdout.flush()
    os._exit(status)  # a thread may still be waiting for the standard input

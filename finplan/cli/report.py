"""The report of a mistake of the program's own: all that it takes to find it, in a file that can be sent."""

from __future__ import annotations

import platform
import sys
import tempfile
import traceback
from collections.abc import Iterator, Sequence
from contextlib import suppress
from datetime import UTC, datetime
from importlib import metadata
from pathlib import Path

from finplan.version import __version__

_RESTS_ON = ("ortools", "pydantic", "pint", "pyyaml", "weasyprint", "typer", "icalendar", "holidays")


def write_report(error: BaseException, arguments: Sequence[str]) -> Path | None:
    """Write a report beside the work, or else among temporary files, and return it; None where neither can be.

    A file that is there is never written over.
    """
    text = report_text(error, arguments)
    name = f"finplan-report-{datetime.now(UTC):%Y%m%d-%H%M%S}"
    for folder in _folders():
        for number in range(1, 10):
            file = folder / f"{name}-{number}.txt"
            try:
                with file.open("x", encoding="utf-8", errors="backslashreplace") as stream:
                    stream.write(text)
            except FileExistsError:
                continue
            except OSError:
                with suppress(OSError):
                    file.unlink()  # a disk that is full leaves an empty one
                break
            return file
    return None


def _folders() -> Iterator[Path]:
    yield Path()
    with suppress(OSError):  # a machine on which nothing can be written has none
        yield Path(tempfile.gettempdir())


def report_text(error: BaseException, arguments: Sequence[str]) -> str:
    """Return what the report says: versions, the command, and where in the program it happened."""
    return "\n".join(
        [
            f"finplan {__version__}, Python {platform.python_version()}, {platform.platform()}",
            *_versions(),
            f"command: {' '.join(map(repr, arguments))}",
            f"standard output: {getattr(sys.stdout, 'encoding', None)}",
            "",
            *(line.rstrip("\n") for line in traceback.format_exception(error)),
            "",
        ]
    )


def _versions() -> Iterator[str]:
    for name in _RESTS_ON:
        try:
            yield f"{name} {metadata.version(name)}"
        except metadata.PackageNotFoundError:
            yield f"{name} is not there"

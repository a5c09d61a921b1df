"""The command line: read, call, print. Everything heavy is imported inside the command that needs it."""

import gc
import os
import signal
import sys
from types import FrameType

__all__ = ["main"]

_STOPPED = 130
_OBJECTS_BETWEEN_COLLECTIONS = 1_000_000
"""A command lives for seconds and keeps nearly all that it loads and makes: to look for garbage only takes time."""


def main() -> None:
    """Run the command line; a break from the keyboard is heard while it still loads, and while it ends."""
    gc.set_threshold(_OBJECTS_BETWEEN_COLLECTIONS)
    heard_by_python = signal.getsignal(signal.SIGINT) is signal.default_int_handler
    if heard_by_python:  # else it is another's, or not to be heard
        signal.signal(signal.SIGINT, _stopped)
    try:
        from finplan.cli.app import run_program

        if heard_by_python:
            signal.signal(signal.SIGINT, signal.default_int_handler)
        run_program()
    except KeyboardInterrupt:
        _stopped(signal.SIGINT, None)
    except SystemExit as end:
        if end.code == _STOPPED:
            _end()
        raise


def _stopped(number: int, frame: FrameType | None) -> None:
    """End where nothing has been begun yet that would have to be cleared up, or all of it has been."""
    sys.stderr.write("stopped\n")
    _end()


def _end() -> None:
    """End at once with the status of a break.

    Where one is heard while text is made into code, the interpreter ends by the signal itself, whatever is made of the
    error later.
    """
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except (OSError, ValueError):
            continue
    os._exit(_STOPPED)

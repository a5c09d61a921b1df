"""The one place where what is raised becomes an exit status."""

from __future__ import annotations

import os
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from types import FrameType

from finplan.problems import FinplanError, printable

CANNOT_WRITE, WRONG_INPUT, OWN_FAULT = 1, 2, 70
"""Exit statuses beside those of errors, which know theirs. 70 is what BSD's sysexits(3) gives a program's own fault."""
MEMORY_BYTES = 4 << 30
"""What a command may take: many times what any plan does, and what the largest mesh that is read takes."""
_AGAIN_S = 0.02
"""After so long a signal is sent once more that nothing could hear. [s]"""
_ENDING = ("SIGTERM", "SIGHUP")
"""Signals that ask the program to end, where the machine has them; of SIGINT Python makes an exception."""


def run(app: Callable[[], object]) -> int:
    """Run *app* and return the exit status: 0, 2 where something is wrong with the input, 3 where nothing fits."""
    _three_streams()
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="backslashreplace")  # a terminal that lacks a character still shows the line
    heard: list[int] = []
    try:
        with _ended_by_signals(heard), _memory_up_to(MEMORY_BYTES):
            app()
    except FinplanError as error:
        sys.stdout.flush()
        _say(error)
        return error.exit_code
    except BrokenPipeError:
        # The reader went away, as with | head: not an error of ours. Nothing more may be written on exit.
        _write_no_more()
        return 0
    except KeyboardInterrupt:
        return _stopped()
    except SystemExit as end:
        if heard and heard[-1] == signal.SIGINT:  # the library of commands turns a break into an end
            return _stopped()
        return end.code if isinstance(end.code, int) else int(end.code is not None)
    except OSError as error:
        # What a command reads or writes of files is worded where that is done, but for a name that no file can have;
        # without a name this is the terminal or a full disk behind it.
        if error.filename is not None:
            _say(printable(f"{error.filename}: cannot be used: {(error.strerror or str(error)).lower()}"))
            return WRONG_INPUT
        _write_no_more()
        _say(f"the output cannot be written: {(error.strerror or str(error)).lower()}")
        return CANNOT_WRITE
    except MemoryError:
        _say("this takes more memory than there is; plan fewer pieces at a time, or a piece of fewer parts")
        return OWN_FAULT
    except Exception as error:
        # A library that is loading makes an error of its own of what a signal raises.
        if heard and heard[-1] == signal.SIGINT:
            return _stopped()
        return 128 + heard[-1] if heard else _own_fault(error)
    return 0


def _stopped() -> int:
    """Say that a break from the keyboard was heard, and return its status."""
    _say("stopped: nothing was written that is not whole")
    return 128 + signal.SIGINT


def _own_fault(error: Exception) -> int:
    """Say in one sentence that the program is at fault, keep what it takes to put that right, and return the status."""
    from finplan.cli.report import write_report

    report = write_report(error, sys.argv)
    kept = f"what happened is written in {report}" if report else f"it is a {type(error).__name__}"
    _say(
        f"finplan has made a mistake of its own and stops here: {kept}; please send that to whoever looks after the "
        "program, with the files of the command"
    )
    return OWN_FAULT


def _say(words: object) -> None:
    with suppress(OSError):
        print(words, file=sys.stderr)  # noqa: T201 - the command line speaks


def _write_no_more() -> None:
    """Let nothing of what is still to be printed fail once more."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _three_streams() -> None:
    """Open what was closed when the program was started, so that no file that is written takes its place."""
    with suppress(OSError):
        while (number := os.open(os.devnull, os.O_RDWR)) <= 2:
            pass
        os.close(number)
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - as long as the program runs
    if sys.stdout is None:
        # Written to and refused, as a full disk is: who closed it does not get what was asked for.
        sys.stdout = open(os.open(os.devnull, os.O_RDONLY), "w", encoding="utf-8")  # noqa: SIM115


@contextmanager
def _memory_up_to(most_bytes: int) -> Iterator[None]:
    """Let what takes more memory fail with a word, where the machine would slow down to a crawl or end it without."""
    try:
        import resource
    except ImportError:  # a machine without such limits
        yield
        return
    soft, hard = resource.getrlimit(resource.RLIMIT_DATA)
    within = [limit for limit in (soft, hard) if limit != resource.RLIM_INFINITY]
    with suppress(OSError, ValueError):
        resource.setrlimit(resource.RLIMIT_DATA, (min([most_bytes, *within]), hard))
    try:
        yield
    finally:
        with suppress(OSError, ValueError):
            resource.setrlimit(resource.RLIMIT_DATA, (soft, hard))


@contextmanager
def _ended_by_signals(heard: list[int]) -> Iterator[None]:
    """End as after an error where a signal asks for it, so that nothing half done stays; keep what is heard."""

    def end(number: int, _: FrameType | None) -> None:
        heard.append(number)
        sys.exit(128 + number)

    def broken(number: int, frame: FrameType | None) -> None:
        heard.append(number)
        signal.default_int_handler(number, frame)

    main = threading.get_ident()

    def unheard(told: sys.UnraisableHookArgs) -> None:
        """Send once more, a moment later, what was raised where nothing can hear it, as while modules are loading."""
        if heard and hasattr(signal, "pthread_kill") and isinstance(told.exc_value, (KeyboardInterrupt, SystemExit)):
            again = threading.Timer(_AGAIN_S, signal.pthread_kill, [main, heard[-1]])
            again.daemon = True
            again.start()
        else:
            told_before(told)

    before = {}
    told_before, sys.unraisablehook = sys.unraisablehook, unheard
    with suppress(ValueError):
        if signal.getsignal(signal.SIGINT) is signal.default_int_handler:  # else it is another's, or not to be heard
            before[signal.SIGINT] = signal.signal(signal.SIGINT, broken)
    for name in _ENDING:
        with suppress(AttributeError, ValueError):  # another machine, or not the main thread
            number = getattr(signal, name)
            before[number] = signal.signal(number, end)
    try:
        yield
    finally:
        sys.unraisablehook = told_before
        for number, handler in before.items():
            signal.signal(number, handler)

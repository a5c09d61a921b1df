"""The one place where what is raised becomes an exit status."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable

from finplan.problems import FinplanError


def run(app: Callable[[], object]) -> int:
    """Run *app* and return the exit status: 0, 2 where something is wrong with the input, 3 where nothing fits."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="backslashreplace")  # a terminal that lacks a character still shows the line
    try:
        app()
    except FinplanError as error:
        sys.stdout.flush()
        print(error, file=sys.stderr)  # noqa: T201 - the command line speaks
        return error.exit_code
    except BrokenPipeError:
        # The reader went away, as with | head: not an error of ours. Nothing more may be written on exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        return 130
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else int(end.code is not None)
    except OSError as error:
        # What a command writes to a file is worded where it is written; this is the terminal or a full disk behind it.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        print(f"the output cannot be written: {(error.strerror or str(error)).lower()}", file=sys.stderr)  # noqa: T201
        return 1
    return 0

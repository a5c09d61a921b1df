"""What the terminal shows of sharing, and the one key that turns all phones out."""

from __future__ import annotations

import os
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager

from finplan.listing import number_of
from finplan.page.sharing import Phones, code_lines

TURN_OUT = "x"
_ON_BLACK, _AS_BEFORE = "\x1b[97;40m", "\x1b[0m"


def show_code(phones: Phones) -> None:
    """Show the code for the next phone, white on black whatever the terminal is: cameras read it best so."""
    there = len(phones.let_in)
    lines = [f"{number_of(there, 'phone')} let in; the code for the next one:" if there else "The code for a phone:"]
    colours = sys.stdout.isatty()
    for line in code_lines(phones.link).splitlines():
        lines.append(f"{_ON_BLACK}{line}{_AS_BEFORE}" if colours else line)
    lines.append(phones.link)
    if sys.stdin is not None and sys.stdin.isatty():
        lines.append(f"{TURN_OUT} turns all phones out; Ctrl-C stops.")
    sys.stdout.write("\n".join(lines) + "\n")
    sys.stdout.flush()


@contextmanager
def shown_in_terminal(phones: Phones) -> Iterator[None]:
    """Show the code, and turn all phones out at a key; where nobody sits at a terminal, nothing is heard."""
    if sys.stdin is None or not sys.stdin.isatty() or os.name != "posix":
        show_code(phones)
        yield
        return
    import termios  # noqa: PLC0415 - where there is such a terminal
    import tty  # noqa: PLC0415

    descriptor = sys.stdin.fileno()
    before = termios.tcgetattr(descriptor)
    threading.Thread(target=_hear, args=(descriptor, phones), daemon=True).start()
    try:
        tty.setcbreak(descriptor)
        show_code(phones)
        yield
    finally:
        termios.tcsetattr(descriptor, termios.TCSADRAIN, before)


def _hear(descriptor: int, phones: Phones) -> None:
    while key := os.read(descriptor, 1):
        if key.decode("latin-1").lower() == TURN_OUT:
            phones.turn_out()

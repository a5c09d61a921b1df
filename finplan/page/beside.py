"""Processes that work beside the page, each at the other end of a pipe."""

from __future__ import annotations

import multiprocessing
from collections.abc import Callable
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from multiprocessing.context import ForkServerContext, SpawnContext

_LOADED = ["finplan.page.worker", "finplan.page.hand", "ortools.sat.python.cp_model"]
"""What they load, which takes most of a second: as often as an edit ends what an older one still computes."""


def begun(work: Callable[[Connection], None]) -> tuple[Connection, BaseProcess]:
    """Begin a process, and return this end of its pipe, and the process.

    Where the system knows how, one process has loaded all that they need, works for nobody and has no threads of its
    own: the others are split off it.

    Parameters
    ----------
    work
        What it does with the other end of the pipe, a function of a module
    """
    context: ForkServerContext | SpawnContext
    if "forkserver" in multiprocessing.get_all_start_methods():
        context = multiprocessing.get_context("forkserver")
        context.set_forkserver_preload(_LOADED)
    else:
        context = multiprocessing.get_context("spawn")
    pipe, far_end = context.Pipe()
    process = context.Process(target=work, args=(far_end,), daemon=True)
    process.start()
    far_end.close()
    return pipe, process

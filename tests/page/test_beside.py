"""Processes beside the page are split off one that has loaded what they need, and end with it."""

from __future__ import annotations

import multiprocessing
import os
import sys
from multiprocessing.connection import Connection

import pytest

from finplan.page.beside import begun

SPLITS = "forkserver" in multiprocessing.get_all_start_methods()


def tell(pipe: Connection) -> None:
    """Tell who began this process, and whether what plans was loaded before it was begun."""
    pipe.send((os.getppid(), "finplan.timetable.solve" in sys.modules))


@pytest.mark.skipif(not SPLITS, reason="this system splits no process off another")
def test_all_are_split_off_one_that_has_loaded_what_plans() -> None:
    told = []
    for _ in range(2):
        pipe, process = begun(tell)
        told.append(pipe.recv())
        process.join()
    (first, loaded), (second, loaded_too) = told
    assert first == second != os.getpid()
    assert loaded
    assert loaded_too


def test_nobody_hears_of_one_that_was_ended() -> None:
    pipe, process = begun(wait)
    process.kill()
    process.join()
    with pytest.raises(EOFError):
        pipe.recv()


def wait(pipe: Connection) -> None:
    """Wait for what nobody sends."""
    pipe.recv()

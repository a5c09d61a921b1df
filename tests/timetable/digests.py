"""Compares the plans that several runs make of the same job: on a machine with nothing else to do, and on a busy one.

Run: python -m tests.timetable.digests --pieces 1,2,6,20 [--runs 5] [--busy 3] [--seeds 0,1]

Every run is a process of its own; beside the second half of them ``--busy`` others keep the machine busy all the time.
A line for each job: its digests, each with how many runs came to it, and whether any plan was cut short by the clock.
``--one SEED PIECES`` prints the digest of one run.
"""

from __future__ import annotations

import argparse
import hashlib
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from finplan.planning import Wishes
from tests.timetable.generated import case, planned_case, treated_case, with_dates_that_can_be_kept

_BUSY = "while True: sum(range(100000))"


def digest(seed: int, pieces: int) -> str:
    """Return the digest of all that a timetable says of a job, as a maker asks for it; its status, and its CPU time."""
    made = case(seed, pieces)
    with TemporaryDirectory() as folder:
        treated = treated_case(made, Path(folder))
    made = with_dates_that_can_be_kept(made, treated)
    begun = time.process_time()
    found = planned_case(made, treated, Wishes(asap=made.asap)).timetable
    short = ", cut short" if found.cut_short else ""
    told = hashlib.sha256(repr(found).encode()).hexdigest()[:12]
    return f"{told} {found.status}{short}\t{time.process_time() - begun:.1f}"


@contextmanager
def _busy(processes: int) -> Iterator[None]:
    beside = [subprocess.Popen([sys.executable, "-c", _BUSY]) for _ in range(processes)]
    try:
        yield
    finally:
        for one in beside:
            one.kill()
            one.wait()


def _runs(seed: int, pieces: int, runs: int, busy: int) -> tuple[Counter[str], list[float], list[float]]:
    """Return how many runs came to each digest, and the seconds that each took by CPU and by the clock."""
    command = [sys.executable, "-m", "tests.timetable.digests", "--one", str(seed), str(pieces)]
    digests: Counter[str] = Counter()
    cpu_s, wall_s = [], []
    with _busy(busy):
        for _ in range(runs):
            begun = time.monotonic()
            done = subprocess.run(command, capture_output=True, text=True, check=True)
            wall_s.append(time.monotonic() - begun)
            told, _, seconds = done.stdout.strip().partition("\t")
            digests[told] += 1
            cpu_s.append(float(seconds))
    return digests, cpu_s, wall_s


def main() -> None:
    """Print a line for each job, alone and beside others."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--pieces", default="1,2,6,20")
    parser.add_argument("--seeds", default="0")
    parser.add_argument("--runs", type=int, default=5)
    parser.add_argument("--busy", type=int, default=3)
    parser.add_argument("--one", type=int, nargs=2)
    wanted = parser.parse_args()
    if wanted.one:
        print(digest(*wanted.one))  # noqa: T201
        return
    for pieces in map(int, wanted.pieces.split(",")):
        for seed in map(int, wanted.seeds.split(",")):
            both: Counter[str] = Counter()
            for busy in (0, wanted.busy):
                digests, cpu_s, wall_s = _runs(seed, pieces, wanted.runs, busy)
                both += digests
                told = "; ".join(f"{one}: {count} runs" for one, count in sorted(digests.items()))
                print(  # noqa: T201
                    f"{pieces:>3} pieces, seed {seed}, {busy} busy beside: {told}; CPU s {min(cpu_s):.1f} to "
                    f"{max(cpu_s):.1f}, clock s {min(wall_s):.1f} to {max(wall_s):.1f}",
                    flush=True,
                )
            print("    one plan" if len(both) == 1 else f"    {len(both)} PLANS", flush=True)  # noqa: T201


if __name__ == "__main__":
    main()

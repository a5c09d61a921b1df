"""Plans many made-up jobs, each in a process of its own, and prints by size how it went.

Run: python -m tests.timetable.suite --cases 50 --pieces 1,2-3,6 [--seed 0] [--seconds 120] [--consistent] [--all]

``--cases`` of every size: a number of pieces, or a range from which each case takes its own. A line for every case that
went wrong: a rule broken (``verifier``), a traceback, no plan found, too long or too much memory; with ``--consistent``
what does not hold between plans of it under other wishes (``consistency``) instead. ``--one SEED PIECES`` plans one
case in this process and prints what came of it.
"""

from __future__ import annotations

import argparse
import json
import os
import resource
import subprocess
import sys
import time
import traceback
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from typing import Any

from finplan.timetable import NotFoundYetError
from tests.timetable.consistency import inconsistencies
from tests.timetable.generated import case, planned_case, treated_case
from tests.timetable.verifier import broken_rules

_MB = 1024 * 1024
_WALL = 3
"""So many times as long as its CPU time a case may take on a busy machine."""


@dataclass(frozen=True)
class Outcome:
    """What came of a case."""

    seed: int
    pieces: int
    status: str
    """As a timetable's, or: not found, traceback, too long, killed."""
    operations: int = 0
    cpu_s: float = 0.0
    """For the plan alone: neither starting, reading, nor checking."""
    gap_h: float | None = None
    peak_mb: float = 0.0
    cut_short: bool = False
    faults: tuple[str, ...] = ()
    words: str = ""


def one(seed: int, pieces: int, *, consistent: bool = False) -> Outcome:
    """Plan one case in this process; again under other wishes where it is to be consistent."""
    made = case(seed, pieces)
    with TemporaryDirectory() as folder:
        treated = treated_case(made, Path(folder))
    count = sum(len(piece.operations) for piece in treated)
    begun = time.process_time()
    try:
        if consistent:
            faults = tuple(inconsistencies(made, treated))
            return Outcome(seed, pieces, "compared", count, time.process_time() - begun, peak_mb=_peak(), faults=faults)
        planned = planned_case(made, treated)
    except NotFoundYetError as error:
        return Outcome(seed, pieces, "not found", count, time.process_time() - begun, peak_mb=_peak(), words=str(error))
    except Exception:
        last = traceback.format_exc().strip().splitlines()
        return Outcome(
            seed, pieces, "traceback", count, time.process_time() - begun, peak_mb=_peak(), words=" ".join(last[-3:])
        )
    cpu_s, peak_mb, found = time.process_time() - begun, _peak(), planned.timetable
    faults = tuple(broken_rules(planned)) if found.has_plan else ()
    words = "; ".join(clash.requirement for clash in found.clashes)
    return Outcome(seed, pieces, found.status, count, cpu_s, found.gap_h, peak_mb, found.cut_short, faults, words)


def _peak() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def _apart(seed: int, pieces: int, wanted: argparse.Namespace) -> Outcome:
    """Plan one case in a process of its own."""

    seconds, memory_mb = wanted.seconds, wanted.memory

    def limited() -> None:
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 5))
        resource.setrlimit(resource.RLIMIT_AS, (memory_mb * _MB, memory_mb * _MB))

    command = [sys.executable, "-m", "tests.timetable.suite", "--one", str(seed), str(pieces)]
    command += ["--consistent"] if wanted.consistent else []
    try:
        done = subprocess.run(
            command, capture_output=True, text=True, timeout=_WALL * seconds, preexec_fn=limited, check=False
        )
    except subprocess.TimeoutExpired:
        return Outcome(seed, pieces, "too long", cpu_s=float(seconds))
    if done.returncode in (-24, -9):  # SIGXCPU, SIGKILL
        return Outcome(seed, pieces, "too long", cpu_s=float(seconds))
    if done.returncode != 0:
        return Outcome(seed, pieces, "killed", words=done.stderr.strip()[-300:])
    told: dict[str, Any] = json.loads(done.stdout.strip().splitlines()[-1])
    return Outcome(**{**told, "faults": tuple(told["faults"])})


def _sizes(text: str) -> list[tuple[int, int]]:
    """Return the sizes asked for, each as its least and its greatest number of pieces."""
    found = []
    for part in text.split(","):
        low, _, high = part.partition("-")
        found.append((int(low), int(high or low)))
    return found


def _told(size: str, outcomes: list[Outcome]) -> str:
    by_status = Counter(one.status for one in outcomes)
    seconds = sorted(one.cpu_s for one in outcomes)
    gaps = [one.gap_h for one in outcomes if one.gap_h is not None]
    faulty = sum(1 for one in outcomes if one.faults)
    operations = [one.operations for one in outcomes if one.operations]
    return (
        f"{size:>6} pieces, {min(operations, default=0)}-{max(operations, default=0)} operations, "
        f"{len(outcomes)} cases: "
        f"{', '.join(f'{count} {status}' for status, count in sorted(by_status.items()))}; "
        f"CPU s median {median(seconds):.1f}, most {seconds[-1]:.1f}; "
        f"gap h median {median(gaps) if gaps else 0:.1f}, most {max(gaps, default=0):.1f} in {len(gaps)}; "
        f"most {max(one.peak_mb for one in outcomes):.0f} MB; cut short {sum(one.cut_short for one in outcomes)}; "
        f"with faults {faulty}"
    )


def main() -> None:
    """Print a line for each size, and one for every case that went wrong."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--cases", type=int, default=10)
    parser.add_argument("--pieces", default="1-6")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--seconds", type=int, default=120)
    parser.add_argument("--memory", type=int, default=4000, help="of addresses, of which far from all is used [MB]")
    parser.add_argument("--consistent", action="store_true", help="compare plans under other wishes instead")
    parser.add_argument("--all", action="store_true", help="a line for every case")
    parser.add_argument("--one", type=int, nargs=2)
    wanted = parser.parse_args()
    if wanted.one:
        found = one(*wanted.one, consistent=wanted.consistent)
        print(json.dumps({name: getattr(found, name) for name in Outcome.__dataclass_fields__}))  # noqa: T201
        return
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    for low, high in _sizes(wanted.pieces):
        outcomes = []
        for number in range(wanted.cases):
            pieces = low + number % (high - low + 1)
            outcome = _apart(wanted.seed + number, pieces, wanted)
            outcomes.append(outcome)
            bad = outcome.faults or outcome.status not in ("optimal", "feasible", "impossible", "not-found", "compared")
            if bad or wanted.all:
                print(f"  {outcome}", flush=True)  # noqa: T201
        print(_told(f"{low}" if low == high else f"{low}-{high}", outcomes), flush=True)  # noqa: T201


if __name__ == "__main__":
    main()

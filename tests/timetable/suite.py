"""Plans many made-up jobs, each in a process of its own, and prints by size how it went.

Run: python -m tests.timetable.suite --pieces 1:100,2-3:70,4-6:60,7-12:40,20:20,40:10 [--out FILE] [--consistent]

A size is a number of pieces, or a range from which each case takes its own, and after a colon how many cases there are
of it. Every result is written to the file of ``--out`` as it ends, a line of JSON for each; what stands in it already
is not run again, so a run that broke off goes on where it was. A line is printed for every case that went wrong: a
rule broken (``verifier``), a traceback, no plan where one is known, too long or too much memory; with ``--consistent``
what does not hold between plans of it under other wishes (``consistency``) instead. With ``--stripped`` most
pieces have an old coating, and every rule holds too in what is planned once stripper is ticked as brushed on
(``lies``). ``--one SEED PIECES`` plans one case in this process and prints what came of it.
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
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from typing import Any

from finplan.telling import clashes_words
from finplan.timetable import NotFoundYetError, NotTaken
from tests.timetable.consistency import inconsistencies
from tests.timetable.generated import case, planned_case, treated_case, with_dates_that_can_be_kept
from tests.timetable.lies import faults_while_it_lies
from tests.timetable.verifier import broken_rules

_MB = 1024 * 1024
_WALL = 6
"""So many times as long as its CPU time a case may take on a busy machine."""
_MOST_MB = 600
_FINE = ("optimal", "feasible", "impossible", "not-found", "compared")


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
    slack: float | None = None
    """How far after a known plan its dates lie; None where they are as drawn."""
    known: bool = False
    """Whether a plan that keeps every date is known."""

    @property
    def wrong(self) -> bool:
        """Whether it is not as it should be."""
        return bool(self.faults) or self.missed or self.status not in _FINE or self.peak_mb > _MOST_MB

    @property
    def missed(self) -> bool:
        """Whether there is no plan though one is known."""
        return self.known and self.status not in ("optimal", "feasible", "compared")


def one(seed: int, pieces: int, *, consistent: bool = False, stripped: bool = False) -> Outcome:
    """Plan one case in this process; again under other wishes where it is to be consistent."""
    made = case(seed, pieces, stripped=stripped)
    with TemporaryDirectory() as folder:
        treated = treated_case(made, Path(folder))
    made = with_dates_that_can_be_kept(made, treated)
    about: dict[str, Any] = {"slack": made.slack, "known": made.known}
    about["operations"] = sum(len(piece.operations) for piece in treated)
    begun = time.process_time()

    def so_far() -> dict[str, Any]:
        return {**about, "cpu_s": time.process_time() - begun, "peak_mb": _peak()}

    try:
        if consistent:
            faults = tuple(inconsistencies(made, treated))
            return Outcome(seed, pieces, "compared", faults=faults, **so_far())
        planned = planned_case(made, treated)
    except NotFoundYetError as error:
        return Outcome(seed, pieces, "not found", words=str(error), **so_far())
    except Exception:
        last = traceback.format_exc().strip().splitlines()
        return Outcome(seed, pieces, "traceback", words=" ".join(last[-3:]), **so_far())
    cost, found = so_far(), planned.timetable
    faults = tuple(note.rule for note in found.notes if isinstance(note, NotTaken))
    faults += tuple(broken_rules(planned)) if found.has_plan else ()
    faults += tuple(faults_while_it_lies(planned)) if found.has_plan and stripped else ()
    words = clashes_words(found.clashes)
    return Outcome(
        seed, pieces, found.status, gap_h=found.gap_h, cut_short=found.cut_short, faults=faults, words=words, **cost
    )


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
    command += ["--stripped"] if wanted.stripped else []
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
    return _read(done.stdout.strip().splitlines()[-1])


def _read(line: str) -> Outcome:
    told: dict[str, Any] = json.loads(line)
    return Outcome(**{**told, "faults": tuple(told["faults"])})


# --- sizes ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Size:
    """So many cases of a number of pieces, or of numbers from the least to the greatest in turn."""

    least: int
    greatest: int
    cases: int

    @classmethod
    def all_of(cls, text: str) -> list[Size]:
        """Return the sizes that are asked for, as they are typed."""
        found = []
        for part in text.split(","):
            numbers, _, cases = part.partition(":")
            least, _, greatest = numbers.partition("-")
            found.append(cls(int(least), int(greatest or least), int(cases or 10)))
        return found

    def __str__(self) -> str:
        return f"{self.least}" if self.least == self.greatest else f"{self.least}-{self.greatest}"

    def seeds(self, first: int) -> Iterator[tuple[int, int]]:
        """Give seed and number of pieces of every case."""
        for number in range(self.cases):
            yield first + number, self.least + number % (self.greatest - self.least + 1)


def _told(size: Size, outcomes: Sequence[Outcome]) -> str:
    by_status = Counter(one.status for one in outcomes)
    seconds = sorted(one.cpu_s for one in outcomes)
    gaps = [one.gap_h for one in outcomes if one.gap_h is not None]
    operations = [one.operations for one in outcomes if one.operations]
    return (
        f"{size!s:>6} pieces, {min(operations, default=0)}-{max(operations, default=0)} operations, "
        f"{len(outcomes)} cases: "
        f"{', '.join(f'{count} {status}' for status, count in sorted(by_status.items()))}; "
        f"a plan known of {sum(one.known for one in outcomes)}, missed {sum(one.missed for one in outcomes)}; "
        f"CPU s median {median(seconds):.1f}, most {seconds[-1]:.1f}; "
        f"gap h median {median(gaps) if gaps else 0:.1f}, most {max(gaps, default=0):.1f} in {len(gaps)}; "
        f"most {max(one.peak_mb for one in outcomes):.0f} MB; cut short {sum(one.cut_short for one in outcomes)}; "
        f"with faults {sum(bool(one.faults) for one in outcomes)}"
    )


def main() -> None:
    """Print a line for each size, and one for every case that went wrong."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--pieces", default="1-6:10")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--seconds", type=int, default=120)
    parser.add_argument("--memory", type=int, default=4000, help="of addresses, of which far from all is used [MB]")
    parser.add_argument("--consistent", action="store_true", help="compare plans under other wishes instead")
    parser.add_argument("--stripped", action="store_true", help="an old coating is on most pieces, to be taken off")
    parser.add_argument("--all", action="store_true", help="a line for every case")
    parser.add_argument("--out", type=Path, help="where every result is written as it ends, and read again")
    parser.add_argument("--one", type=int, nargs=2)
    wanted = parser.parse_args()
    if wanted.one:
        print(json.dumps(asdict(one(*wanted.one, consistent=wanted.consistent, stripped=wanted.stripped))))  # noqa: T201
        return
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    known = {}
    if wanted.out is not None and wanted.out.exists():
        known = {(one.seed, one.pieces): one for one in map(_read, wanted.out.read_text().splitlines())}
    for size in Size.all_of(wanted.pieces):
        outcomes = []
        for seed, pieces in size.seeds(wanted.seed):
            outcome = known.get((seed, pieces))
            if outcome is None:
                outcome = _apart(seed, pieces, wanted)
                if wanted.out is not None:
                    with wanted.out.open("a") as file:
                        file.write(json.dumps(asdict(outcome)) + "\n")
            outcomes.append(outcome)
            if outcome.wrong or wanted.all:
                print(f"  {outcome}", flush=True)  # noqa: T201
        print(_told(size, outcomes), flush=True)  # noqa: T201


if __name__ == "__main__":
    main()

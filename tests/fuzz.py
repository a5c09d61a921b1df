"""Hostile and odd files through the whole program.

``python -m tests.fuzz --reads 50000 --plans 1000 --pages 500 --kills 500``. Every case is made from a seed and its
number, and can be made again alone: ``--seed 1 --only reads:4711``. Cases run in processes forked from one that has
everything loaded. Looked at are the exit status of each, what it printed, its time, its memory, and what it left.
"""

from __future__ import annotations

import argparse
import contextlib
import gc
import json
import os
import re
import resource
import select
import shutil
import signal
import subprocess
import sys
import tempfile
import traceback
from collections.abc import Mapping, Sequence
from pathlib import Path
from random import Random

from tests.fuzz_cases import PIECES, SHOP, SORTS, Case
from tests.fuzz_kills import run_kill
from tests.fuzz_tally import Tally, whole

LIMIT_S, LIMIT_MB = 10.0, 600
"""Beyond these a case is told. The time is the processor's, which does not depend on what else the machine does."""
LEDGER = "finplan.ledger"
"""A folder with a shop file in it is a workshop, and has one."""
_HANGING_S = 180.0
"""By the clock: after this a case is ended."""
_OWN_FAULT = 99
_NOT_A_NUMBER = re.compile(r"(?<![\w'\".\-=])(?:nan|inf|NaN|Infinity)(?![\w'\".])")
_CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")


def run_cases(sort: str, numbers: Sequence[int], seed: int, tally: Tally) -> None:
    """Run cases one after another in a process of their own and count what came of each."""
    with tempfile.TemporaryDirectory(prefix="fuzz-") as name:
        cases = {number: SORTS[sort](Random(f"{seed}:{sort}:{number}")) for number in numbers}
        for number, case in cases.items():
            folder = Path(name, str(number))
            (folder / "work").mkdir(parents=True)
            for file, text in case.files.items():
                (folder / "work" / file).write_bytes(text.encode("utf-8", errors="surrogatepass"))
        ended, megabytes = _forked(cases, Path(name))
        tally.largest_mb = max(tally.largest_mb, megabytes)
        if megabytes > LIMIT_MB:
            tally.fault(numbers[0], "too large", f"{megabytes:.0f} MB, or one of the {len(numbers) - 1} after it")
        for number, (status, seconds) in ended.items():
            _judge(cases[number], Path(name, str(number)), status, seconds, number, tally)
        left = [number for number in numbers if number not in ended]
    if left:
        run_cases(sort, left, seed, tally)


def _judge(case: Case, folder: Path, status: int, seconds: float, number: int, tally: Tally) -> None:
    tally.statuses[status] += 1
    tally.longest_s = max(tally.longest_s, seconds)
    out, err = ((folder / one).read_text(encoding="utf-8", errors="replace") for one in ("out", "err"))
    if "Traceback" in err or status not in (0, 2, 3, 4):
        last = (err.strip().splitlines() or [""])[-1]
        tally.fault(number, "traceback or odd end", f"status {status}: {last[:150]}")
    if seconds > LIMIT_S:
        tally.fault(number, "too long", f"{seconds:.1f} s")
    _look_at_words(out, err, case, status, number, tally)
    _look_at_files(folder / "work", case, number, tally)


def _look_at_words(out: str, err: str, case: Case, status: int, number: int, tally: Tally) -> None:
    if status in (0, 3) and (found := _NOT_A_NUMBER.search(out)):
        tally.fault(number, "not a number", out[max(0, found.start() - 40) : found.end()].replace("\n", " "))
    if status == 0 and "--json" in case.arguments:
        try:
            json.loads(out, parse_constant=_no_constant)
        except ValueError as error:
            tally.fault(number, "not JSON", str(error))
    if found := _CONTROL.search(out) or _CONTROL.search(err):
        tally.fault(number, "control character", repr(found.group()))


def _no_constant(name: str) -> None:
    msg = f"{name} is no number"
    raise ValueError(msg)


def _look_at_files(folder: Path, case: Case, number: int, tally: Tally) -> None:
    left = {path.name for path in folder.iterdir()} - set(case.files) - {case.output, LEDGER}
    if left:
        tally.fault(number, "left behind", str(sorted(left)))
    if case.output and (folder / case.output).exists() and not whole((folder / case.output).read_bytes()):
        tally.fault(number, "half a file")


def _forked(cases: Mapping[int, Case], folder: Path) -> tuple[dict[int, tuple[int, float]], float]:
    """Return the status and time of each case that a child came to, and the child's memory. [s, MB]"""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        for number, case in cases.items():
            began = _processor_s()
            status = _here(case.arguments, folder / str(number))
            os.write(writing, f"{status} {_processor_s() - began}\n".encode())
        os._exit(0)
    os.close(writing)
    ended: dict[int, tuple[int, float]] = {}
    numbers = iter(cases)
    while select.select([reading], [], [], _HANGING_S)[0] and (lines := os.read(reading, 65536)):
        for line in lines.decode().splitlines():
            how, seconds = line.split()
            ended[next(numbers)] = (int(how), float(seconds))
    os.close(reading)
    with contextlib.suppress(ProcessLookupError):
        os.kill(child, signal.SIGKILL)  # nothing, where it has ended by itself
    _, how_all, used = os.wait4(child, 0)
    if len(ended) < len(cases):
        ended[next(numbers)] = (os.waitstatus_to_exitcode(how_all), _HANGING_S)
    return ended, used.ru_maxrss / 1024


def _processor_s() -> float:
    """Return the time of the processor that this process and its children have had. [s]"""
    return sum(used.ru_utime + used.ru_stime for used in map(resource.getrusage, _WHOSE))


_WHOSE = (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)


def _here(arguments: list[str], folder: Path) -> int:
    """Run a command in this process, its output into files, and return its status."""
    from finplan.cli import main

    os.chdir(folder / "work")
    for name, number in (("out", 1), ("err", 2)):
        file = os.open(folder / name, os.O_WRONLY | os.O_CREAT)
        os.dup2(file, number)
        os.close(file)
    sys.stdout, sys.stderr = (open(number, "w", encoding="utf-8", closefd=False) for number in (1, 2))  # noqa: SIM115
    sys.argv = ["finplan", *arguments]
    try:
        main()
    except SystemExit as ended:
        return ended.code if isinstance(ended.code, int) else 1
    except BaseException:
        traceback.print_exc()
        return _OWN_FAULT
    finally:
        with contextlib.suppress(Exception):
            sys.stdout.flush()
            sys.stderr.flush()
    return 0


def _load_everything() -> None:
    """Load what every case needs, once, before the first is forked."""
    from finplan.catalogue import bundled_catalogue
    from finplan.inputs import plausible_sizes

    with contextlib.suppress(ImportError):
        import trimesh  # noqa: F401
    from finplan.planning import read_source

    bundled_catalogue()
    plausible_sizes(bundled_catalogue().files)
    with tempfile.TemporaryDirectory(prefix="fuzz-") as name:
        shop = Path(name, "shop.yaml")
        shop.write_text(SHOP, encoding="utf-8")
        for text in PIECES:
            file = Path(name, "piece.yaml")
            file.write_text(text, encoding="utf-8")
            read_source(file, shop)
    gc.collect()
    gc.freeze()  # what is shared by all cases is not looked through, and so not copied, in each


_TOGETHER = {"reads": 50}
"""How many of a sort are run in one process; else one."""


def run(sort: str, numbers: range, seed: int, tally: Tally) -> None:
    """Run the cases of a sort."""
    together = _TOGETHER.get(sort, 1)
    for begin in numbers[::together]:
        if sort == "kills":
            run_kill(Random(f"{seed}:{sort}:{begin}"), begin, tally)
        else:
            run_cases(sort, range(begin, min(begin + together, numbers.stop)), seed, tally)


def main() -> int:
    """Run what is asked for, print the counts, and return 1 where there was a fault."""
    parser = argparse.ArgumentParser(description=__doc__)
    for sort in (*SORTS, "kills"):
        parser.add_argument(f"--{sort}", type=int, default=0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--begin", type=int, default=0, help="the number of the first case")
    parser.add_argument("--only", help="one case, as SORT:NUMBER; its files are kept")
    asked = parser.parse_args()
    signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell lets what it begins beside itself ignore breaks
    _load_everything()
    if asked.only:
        sort, _, number = asked.only.partition(":")
        return _one(sort, int(number), asked.seed)
    tallies = [Tally(sort) for sort in (*SORTS, "kills")]
    for tally in tallies:
        try:
            run(tally.sort, range(asked.begin, asked.begin + getattr(asked, tally.sort)), asked.seed, tally)
        finally:  # also where somebody has seen enough
            if tally.statuses:
                print(tally, flush=True)  # noqa: T201
    return int(any(tally.faults for tally in tallies))


def _one(sort: str, number: int, seed: int) -> int:
    """Show a case: its files are kept, and what it prints is printed."""
    case = SORTS[sort](Random(f"{seed}:{sort}:{number}"))
    folder = Path(tempfile.gettempdir(), f"fuzz-{sort}-{number}")
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    for file, text in case.files.items():
        (folder / file).write_bytes(text.encode("utf-8", errors="surrogatepass"))
    print(f"in {folder}: finplan {' '.join(case.arguments)}", flush=True)  # noqa: T201
    return subprocess.run([sys.executable, "-m", "finplan", *case.arguments], cwd=folder, check=False).returncode


if __name__ == "__main__":
    sys.exit(main())

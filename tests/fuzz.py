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
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from finplan.demo import FILES
from tests.conftest import EXAMPLE
from tests.mutations import as_yaml, changed, log_text, mesh_text, overrides, spoiled

LIMIT_S, LIMIT_MB = 10.0, 600
"""Beyond these a case is told. The time is the processor's, which does not depend on what else the machine does."""
LEDGER = "finplan.ledger"
"""A folder with a shop file in it is a workshop, and has one."""
_HANGING_S = 180.0
"""By the clock: after this a case is ended."""
_OWN_FAULT = 99
_DEMO = Path(sys.modules["finplan.demo"].__file__ or "").with_name("files")
PIECES = [
    EXAMPLE,
    *((_DEMO / name).read_text(encoding="utf-8").replace("DELIVER", "2027-03-12") for name in FILES[:-1]),
]
SHOP = (_DEMO / FILES[-1]).read_text(encoding="utf-8")
_NOT_A_NUMBER = re.compile(r"(?<![\w'\".\-=])(?:nan|inf|NaN|Infinity)(?![\w'\".])")
_CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")


@dataclass(frozen=True)
class Case:
    """The files of a case, by name, and what is run on them."""

    files: dict[str, str]
    arguments: list[str]
    output: str = ""


@dataclass
class Tally:
    """What came of the cases of one sort."""

    sort: str
    statuses: Counter[int] = field(default_factory=Counter)
    faults: Counter[str] = field(default_factory=Counter)
    told: list[str] = field(default_factory=list)
    longest_s: float = 0.0
    largest_mb: float = 0.0

    def fault(self, number: int, what: str, words: str = "") -> None:
        """Count a fault and keep where it was."""
        self.faults[what] += 1
        if self.faults[what] <= 20:
            self.told.append(f"  {self.sort}:{number}: {what} {words}".rstrip())

    def __str__(self) -> str:
        statuses = ", ".join(f"{count} ended {status}" for status, count in sorted(self.statuses.items()))
        faults = ", ".join(f"{count} {what}" for what, count in sorted(self.faults.items())) or "no fault"
        most = f"longest {self.longest_s:.1f} s, largest {self.largest_mb:.0f} MB"
        return "\n".join([f"{self.sort}: {self.statuses.total()} cases ({statuses}); {most}; {faults}", *self.told])


# --- cases ----------------------------------------------------------------------------------------------------------


def reads(rng: Random) -> Case:
    """Return spoiled files to be read."""
    piece, shop, more = rng.choice(PIECES), SHOP, {}
    what = rng.random()
    if what < 0.6:
        piece = spoiled(piece, rng)
    elif what < 0.85:
        shop = spoiled(shop, rng)
    elif what < 0.92:
        shop = (
            shop.replace("climate:", "climate: {log: air.csv}\nmonths-of-old:").split("months-of-old:")[0]
            + "methods: [wipe, brush]\n"
        )
        more["air.csv"] = log_text(rng)
    else:
        piece = (
            "piece: Knob\ntimber: ash\nsystem: hardwax-oil\nparts: {knob: {shape: mesh, file: knob.obj, unit: mm}}\n"
        )
        more["knob.obj"] = mesh_text(rng)
    command = rng.choice((["check"], ["check", "--json"], ["areas", "--json"], ["areas"]))
    arguments = [command[0], "piece.yaml", *command[1:], "--shop", "shop.yaml"]
    return Case({"piece.yaml": piece, "shop.yaml": shop, **more}, arguments)


def plans(rng: Random) -> Case:
    """Return files that are mostly in order, to be planned."""
    case = _planned(rng)
    command = rng.choice(("timetable", "timetable", "plan", "safety", "materials", "sanding"))
    more = [] if command == "plan" else ["--json"] if rng.random() < 0.6 else []
    when = [] if command in ("materials", "sanding") else _dates(rng)
    wishes = _wishes(rng) if command in ("timetable", "plan") else []
    return Case(case.files, [command, "piece.yaml", "--shop", "shop.yaml", *more, *when, *wishes])


def pages(rng: Random) -> Case:
    """Return files that are mostly in order, to be printed."""
    case = _planned(rng)
    command, ending = rng.choice(("sheet", "sheet", "tags")), rng.choice(("html", "pdf"))
    output = f"out.{ending}"
    arguments = [command, "piece.yaml", "--shop", "shop.yaml", "-o", output, *_dates(rng), *_wishes(rng)]
    return Case(case.files, arguments, output)


def _planned(rng: Random) -> Case:
    piece, shop = changed(rng.choice(PIECES), rng), SHOP
    if rng.random() < 0.3:
        shop = changed(shop, rng)
    elif rng.random() < 0.4:
        shop += f"\noverrides: {as_yaml(overrides(rng))}\n"
    return Case({"piece.yaml": piece, "shop.yaml": shop}, [])


def _dates(rng: Random) -> list[str]:
    return rng.choice((["--from", "2027-02-01"], ["--from", "2027-03-01"], ["--from", "2027-04-01"], []))


def _wishes(rng: Random) -> list[str]:
    return [
        *rng.choice(([], [], ["--asap"], ["--buffer", "max"])),
        *rng.choice(([], [], ["--ready-for", "cure"], ["--lose", "2027-03-10"], ["--lose", "2027-03-02"])),
        "--limit",
        "4",
    ]


# --- running them ---------------------------------------------------------------------------------------------------


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


def whole(data: bytes) -> bool:
    """Return whether a page is all there."""
    return data.rstrip().endswith((b"%%EOF", b"</html>"))


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


# --- being killed ---------------------------------------------------------------------------------------------------

_SIGNALS = (signal.SIGKILL, signal.SIGTERM, signal.SIGINT)
_OLD = b"what was there before </html>"
_PATIENCE_S = 20.0
_ENDS = (0, 3, 130, 143, *(-one for one in _SIGNALS))
"""How a command ends that is let be, or that a signal ends: by itself, or before it minds signals."""


def run_kill(rng: Random, number: int, tally: Tally) -> None:
    """End a command at a random moment, and look at what it leaves: whole files, no process, no folder."""
    with tempfile.TemporaryDirectory(prefix="fuzz-") as name:
        folder, scratch = Path(name, "work"), Path(name, "scratch")
        folder.mkdir()
        scratch.mkdir()
        (folder / "piece.yaml").write_text(rng.choice(PIECES), encoding="utf-8")
        (folder / "shop.yaml").write_text(SHOP, encoding="utf-8")
        output = folder / rng.choice(("out.pdf", "out.pdf", "out.html", "out.ics", "out.json"))
        command = {".ics": "calendar", ".json": "plan"}.get(output.suffix, "sheet")
        old = rng.random() < 0.5
        if old:
            output.write_bytes(_OLD)
        mark = f"FUZZ_CASE={os.getpid()}-{number}"
        env = {**os.environ, "TMPDIR": str(scratch), **dict([mark.split("=")])}
        arguments = [command, "piece.yaml", "--shop", "shop.yaml", "-o", output.name, "--from", "2027-02-01"]
        process = subprocess.Popen(
            [sys.executable, "-m", "finplan", *arguments],
            cwd=folder, env=env, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, start_new_session=True,
        )  # fmt: skip
        time.sleep(rng.uniform(0.0, 4.0))
        chosen = rng.choice(_SIGNALS)
        process.send_signal(chosen)
        began = time.monotonic()
        try:
            _, err = process.communicate(timeout=_PATIENCE_S)
        except subprocess.TimeoutExpired:
            tally.fault(number, "did not end", chosen.name)
            process.kill()
            _, err = process.communicate()
        tally.longest_s = max(tally.longest_s, time.monotonic() - began)
        tally.statuses[process.returncode] += 1
        # Python's own words to a break that came before it had come to our code, where nobody hears it.
        too_soon = b"Traceback" in err and b"/finplan/" not in err
        if b"Traceback" in err and not too_soon:
            tally.fault(
                number, "traceback or odd end", f"{chosen.name}: {err.decode(errors='replace').splitlines()[-1][:150]}"
            )
        if process.returncode not in _ENDS and not too_soon:
            report = "".join(one.read_text(errors="replace")[-300:] for one in folder.glob("finplan-report-*"))
            tally.fault(number, "traceback or odd end", f"{chosen.name}: status {process.returncode}: {report}")
        if not _gone(mark):
            tally.fault(number, "still running", chosen.name)
        if left := [path.name for path in scratch.iterdir()]:
            tally.fault(number, "temporary folder left", f"{chosen.name}: {left}")
        parts = [path.name for path in folder.iterdir() if path.name.endswith(".part")]
        if parts and chosen is not signal.SIGKILL:
            tally.fault(number, "half a file beside", f"{chosen.name}: {parts}")
        if output.exists() and not _whole_or_old(output, old):
            tally.fault(number, "half a file", chosen.name)


def _whole_or_old(output: Path, old: bool) -> bool:
    data = output.read_bytes()
    if old and data == _OLD:
        return True
    if output.suffix == ".json":
        with contextlib.suppress(ValueError):
            return bool(json.loads(data))
        return False
    return data.endswith(b"END:VCALENDAR\r\n") if output.suffix == ".ics" else whole(data)


def _gone(mark: str) -> bool:
    """Return whether no process with a mark in its environment is left soon."""
    until = time.monotonic() + _PATIENCE_S
    while time.monotonic() < until:
        if not any(_marked(mark)):
            return True
        time.sleep(0.05)
    for one in _marked(mark):
        with contextlib.suppress(ProcessLookupError):
            os.kill(one, signal.SIGKILL)
    return False


def _marked(mark: str) -> Iterator[int]:
    for folder in Path("/proc").glob("[0-9]*"):
        with contextlib.suppress(OSError):
            if mark.encode() in (folder / "environ").read_bytes().split(b"\0"):
                yield int(folder.name)


# --- all of them ----------------------------------------------------------------------------------------------------

SORTS: dict[str, Callable[[Random], Case]] = {"reads": reads, "plans": plans, "pages": pages}


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

"""Kills a process that writes a ledger, again and again at random moments, and looks at what is left.

``python -m tests.ledger.kills --kills 300 --seed 7`` prints how many entries were confirmed, and raises where one of
them is missing, one is half there, or the ledger does not open.
"""

from __future__ import annotations

import argparse
import random
import subprocess
import sys
import tempfile
from dataclasses import replace
from pathlib import Path

from finplan.ledger import begin_job, open_ledger, ticks_of, write_tick
from tests.ledger.entries import FILES, MORNING, done

STEPS_OF_EACH = 3
"""Steps of an entry, besides what it teaches: an entry without all of them is half of one."""


def write_for_ever(file: Path, first: int) -> None:
    """Write entry after entry, and say each that is confirmed."""
    number = first
    while True:
        with open_ledger(file) as ledger:
            for _ in range(20):
                steps = tuple(f"{number}/{part}" for part in range(STEPS_OF_EACH))
                entry = replace(done(note="x" * 500, observed={"amount": {"of": number}}), steps=steps)
                with ledger.changing():
                    write_tick(ledger, begin_job(ledger, FILES, MORNING), entry)
                print(number, flush=True)  # noqa: T201 - confirmed to whoever killed it
                number += 1


def killed(kills: int, seed: int, folder: Path) -> tuple[int, int]:
    """Return how many entries were confirmed, and how many are there, after so many kills."""
    chance = random.Random(seed)
    file = folder / "finplan.ledger"
    confirmed: list[int] = []
    for number in range(kills):
        first = max(confirmed, default=-1) + 1000
        writer = subprocess.Popen(
            [sys.executable, "-m", "tests.ledger.kills", "--write", str(file), "--first", str(first)],
            stdout=subprocess.PIPE,
            text=True,
        )
        # Every other one in the middle of writing, however busy the machine is; the rest also before the file is there.
        said = writer.stdout.readline() if writer.stdout is not None and number % 2 else ""
        try:
            writer.wait(chance.uniform(0.0, 0.2) if said else chance.uniform(0.05, 0.6))
            raise AssertionError("the writer ended by itself")
        except subprocess.TimeoutExpired:
            writer.kill()
        said += writer.communicate()[0]
        lines = said.splitlines(keepends=True)
        confirmed += [int(line) for line in lines if line.endswith("\n")]
        look(file, confirmed)
    with open_ledger(file) as ledger:
        there = len(ticks_of(ledger))
    assert not list(folder.glob("finplan.ledger-*")), "the log stayed behind"
    return len(confirmed), there


def look(file: Path, confirmed: list[int]) -> None:
    """Look whether everything that was confirmed is there, and nothing half."""
    if not file.exists():
        assert not confirmed
        return
    with open_ledger(file) as ledger:
        found = ticks_of(ledger)
    numbers = {int(entry.steps[0].split("/")[0]) for entry in found}
    assert set(confirmed) <= numbers, f"{len(set(confirmed) - numbers)} entries are lost"
    for entry in found:
        assert len(entry.steps) == STEPS_OF_EACH, f"entry {entry.id} is half there"
        assert entry.observed == {"amount": {"of": int(entry.steps[0].split("/")[0])}}


def main() -> None:
    """Kill, or be killed."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=300)
    parser.add_argument("--seed", type=int, default=7)
    parser.add_argument("--write", type=Path)
    parser.add_argument("--first", type=int, default=0)
    asked = parser.parse_args()
    if asked.write:
        write_for_ever(asked.write, asked.first)
    with tempfile.TemporaryDirectory() as folder:
        confirmed, there = killed(asked.kills, asked.seed, Path(folder))
    print(f"{asked.kills} kills: {confirmed} entries confirmed, {there} there, none lost, none half")  # noqa: T201


if __name__ == "__main__":
    main()

"""How long commands take to start, beside the libraries alone that they cannot do without.

Run it: python tests/benchmarks/bench_startup.py [RUNS]. Each is run in turn, so that what else the machine does falls
on all alike; what is printed are medians of the processor's time, with the bytecode that an installed package has.
"""

from __future__ import annotations

import os
import resource
import statistics
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from finplan.demo import write_demo
from tests.readme import TODAY

BESIDE = {
    "--help": ("import typer", 1.2),
    "check": ("import typer, pydantic, yaml", 4.0),
}
"""Of each command: what it is measured beside, and how many times as long it may take."""


def seconds(arguments: list[str]) -> float:
    """Return how long a process takes of the processor."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, *arguments], check=True, capture_output=True, env={**kept, "PYTHONHASHSEED": "0"})
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main(runs: int) -> None:
    """Print the medians and their ratios."""
    with TemporaryDirectory() as name:
        folder = Path(name)
        write_demo(folder, TODAY)
        piece = str(folder / "round-table.yaml")
        commands = {
            "--help": ["-m", "finplan", "--help"],
            "check": ["-m", "finplan", "check", piece],
        }
        took: dict[str, list[float]] = {}
        for _ in range(runs + 1):
            for command, arguments in commands.items():
                took.setdefault(command, []).append(seconds(arguments))
                imports = BESIDE[command][0]
                took.setdefault(imports, []).append(seconds(["-c", imports]))
    median_ms = {name: 1000 * statistics.median(each[1:]) for name, each in took.items()}  # the first reads the disk
    for command, (imports, most) in BESIDE.items():
        ratio = median_ms[command] / median_ms[imports]
        print(  # noqa: T201
            f"{command:8} {median_ms[command]:6.0f} ms, {ratio:.2f} times {imports!r} ({median_ms[imports]:.0f} ms); "
            f"at most {most:g}"
        )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 15)

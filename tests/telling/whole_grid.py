"""The whole grid, 19 systems x 4 pieces x 3 shops, and the jobs that differ in kind: what is told in two ways.

Run as a program: ``python -m tests.telling.whole_grid``.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from tests.safety.grid import cells
from tests.telling.agreement import disagreements
from tests.telling.jobs import jobs


def main() -> None:
    """Print how many plans and rows were looked at, and whatever is told in two ways."""
    wrong: list[str] = []
    plans = rows = 0
    for name, make in jobs(len(list(cells()))).items():
        with tempfile.TemporaryDirectory() as folder:
            plan = make(Path(folder))
        plans += bool(plan.timetable.steps)
        rows += sum(row.kind == "attended" for row in plan.timetable.steps)
        wrong += [f"{name}: {found}" for found in disagreements(plan)]
    sys.stdout.write(f"{plans} plans that fit, {rows} rows of work, {len(wrong)} things told in two ways\n")
    sys.stdout.writelines(f"  {words}\n" for words in wrong)


if __name__ == "__main__":
    main()

"""The whole grid, 19 systems x 4 pieces x 3 shops: verdicts of the air, contradictions, and what is touched too early.

Run as a program: ``python -m tests.safety.whole_grid``.
"""

from __future__ import annotations

import sys
import tempfile
from collections import Counter
from pathlib import Path

from tests.safety.contradictions import contradictions
from tests.safety.grid import cells, plan_of
from tests.sheet.left_alone import touched_too_early


def _tell(words: str) -> None:
    sys.stdout.write(f"{words}\n")


def main() -> None:
    """Print the counts, and whatever is wrong."""
    verdicts: Counter[str] = Counter()
    wrong: list[str] = []
    plans = rows = impossible = 0
    for cell in cells():
        with tempfile.TemporaryDirectory() as folder:
            plan = plan_of(cell, Path(folder))
        plans += 1
        impossible += not plan.timetable.has_plan
        rows += sum(row.kind == "attended" for row in plan.timetable.steps)
        verdicts.update(report.session.verdict for report in plan.safety.sessions)
        wrong += [f"{cell}: {found}" for found in (*contradictions(plan), *touched_too_early(plan))]
    _tell(f"{plans} plans, {impossible} of them impossible, {rows} rows of work, {verdicts.total()} sessions")
    for verdict, count in verdicts.most_common():
        _tell(f"  {verdict}: {count}, {100 * count / verdicts.total():.0f} %")
    _tell(f"{len(wrong)} contradictions")
    for words in wrong:
        _tell(f"  {words}")


if __name__ == "__main__":
    main()

"""How long an edit of a piece's text takes, with the shop kept, until all but the timetable and safety is there again.

Run it: python tests/benchmarks/bench_edit.py [EDITS]. It prints the median of each stage, and the whole beside the time
in which the YAML library alone reads the same text.
"""

from __future__ import annotations

import statistics
import sys
import time

import yaml

import finplan
from finplan.demo import write_demo
from tests.readme import TODAY

STAGES = ("surface", "treatments", "sanding", "drawings")


def edit(text: str, shop: finplan.Workshop) -> dict[str, float]:
    """Return how long each stage of a piece that is read anew takes. [s of this process]"""
    took: dict[str, float] = {}
    at = time.process_time()

    def until(stage: str) -> None:
        nonlocal at
        now = time.process_time()
        took[stage], at = now - at, now

    piece = finplan.read(text, shop=shop)
    until("read")
    for stage in STAGES:
        getattr(piece, stage)
        until(stage)
    plan = finplan.plan(piece, start="2027-02-01")
    _ = plan.materials
    until("materials")
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    list(yaml.parse(text, Loader=loader))
    until("yaml alone")
    return took


def main(edits: int) -> None:
    """Print the medians."""
    from pathlib import Path
    from tempfile import TemporaryDirectory

    with TemporaryDirectory() as name:
        write_demo(Path(name), TODAY)
        shop = finplan.read_shop(Path(name) / "shop.yaml")
        text = (Path(name) / "round-table.yaml").read_text(encoding="utf-8")
    edit(text, shop)
    runs = [edit(text.replace("diameter: 1050", f"diameter: {1000 + n}"), shop) for n in range(edits)]
    median_ms = {stage: 1000 * statistics.median(run[stage] for run in runs) for stage in runs[0]}
    alone_ms = median_ms.pop("yaml alone")
    whole_ms = sum(median_ms.values())
    print(", ".join(f"{stage} {ms:.1f}" for stage, ms in median_ms.items()), "ms")  # noqa: T201
    print(f"an edit {whole_ms:.0f} ms, {whole_ms / alone_ms:.0f} times the YAML library alone")  # noqa: T201


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 50)

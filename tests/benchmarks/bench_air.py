"""What is said of the air over a grid of systems, pieces and rooms; a plain script, run by hand:

    python tests/benchmarks/bench_air.py [--each N]

Every system on four pieces in three rooms (all invented), each planned as early as can be. Printed is how many sessions
get which verdict, in all and by room. With ``--each N`` only every Nth of the grid is planned.
"""

from __future__ import annotations

import re
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from datetime import UTC, datetime
from itertools import islice, product
from pathlib import Path

from finplan import demo
from finplan.catalogue import bundled_catalogue
from finplan.inputs import Shop
from finplan.planning import Plan, Wishes, read_source
from finplan.problems import RefusedError
from tests.conftest import EXAMPLE
from tests.plans import make_plan

ROOMS = {
    "a closed garage": "volume: 30 m3, air-changes: 1",
    "a room with a fan": "volume: 60 m3, air-changes: 2, fan: 300 m3/h",
    "a hall": "volume: 250 m3, air-changes: 2",
}
SHOP = """\
shop: Grid
time-zone: UTC
rooms:
  bench: {for: [sanding, assembly], volume: 80 m3}
  finishing: {for: [coating, spraying, drying], ROOM}
"""
READ = "spray-without-booth: I have read the local code and may spray without a booth\n"
NOW = datetime(2027, 1, 4, 8, tzinfo=UTC)
DEMO = ("round-table", "hall-bench", "book-shelf")


def pieces() -> dict[str, str]:
    """The pieces by name, as they are written in their files."""
    folder = Path(demo.__file__).with_name("files")
    return {
        "reading-table": EXAMPLE,
        **{name: (folder / f"{name}.yaml").read_text(encoding="utf-8") for name in DEMO},
    }


def grid() -> Iterator[tuple[str, str, str]]:
    """Every system, piece and room."""
    yield from product(bundled_catalogue().systems, pieces(), ROOMS)


def planned(system: str, piece: str, room: str, folder: Path) -> Plan | None:
    """One of the grid, planned; None where the system does not go on the piece."""
    text = re.sub(r"system: [a-z0-9-]+", f"system: {system}", pieces()[piece])
    text = re.sub(r"^deliver: .*\n", "", text, flags=re.MULTILINE)
    file, shop = folder / "piece.yaml", folder / "shop.yaml"
    file.write_text(text, encoding="utf-8")
    read = READ if "spray_without_booth" in Shop.model_fields else ""
    shop.write_text(SHOP.replace("ROOM", ROOMS[room]) + read, encoding="utf-8")
    try:
        return make_plan([read_source(file, shop)], now=NOW, wishes=Wishes(asap=True, answers=False, limit_s=5))
    except RefusedError:
        return None


def main(each: int) -> None:
    """Plan the grid and print the counts."""
    found: Counter[tuple[str, str]] = Counter()
    plans = refused = 0
    with tempfile.TemporaryDirectory() as folder:
        for system, piece, room in islice(grid(), 0, None, each):
            plan = planned(system, piece, room, Path(folder))
            if plan is None:
                refused += 1
                continue
            plans += 1
            found.update((room, one.session.verdict) for one in plan.safety.sessions)
            print(system, piece, room, *[one.session.verdict for one in plan.safety.sessions], sep=" | ", flush=True)  # noqa: T201
    total = found.total()
    print(f"\n{plans} plans ({refused} refused), {total} sessions")  # noqa: T201
    for verdict in dict.fromkeys(verdict for _, verdict in found):
        by_room = [found[room, verdict] for room in ROOMS]
        print(f"{sum(by_room):5} ({sum(by_room) / total:4.0%})  {verdict:<28}", *by_room)  # noqa: T201


if __name__ == "__main__":
    main(int(sys.argv[2]) if sys.argv[1:2] == ["--each"] else 1)

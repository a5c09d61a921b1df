"""The house as figures: ``python -m tests.architecture.house`` prints rooms, arrows, circles, lines, and three walks.

A walk is all calls across rooms while the sheet of the demo's table is made, within one function; calls that go through
a library count as those of whoever called it. A climb is a pair of rooms of which the lower calls the upper.
"""

from __future__ import annotations

import ast
import statistics
import sys
import tempfile
import tomllib
from collections import Counter
from collections.abc import Iterator
from contextlib import suppress
from datetime import date
from pathlib import Path
from types import FrameType

import finplan

HOUSE = Path(finplan.__file__).parent
WALKS = {"read_sources": "planning", "coat_need": "material", "precautions": "safety"}
"""The functions within which is counted, and their rooms."""
Arrow = tuple[str, str]


def room_of(file: Path) -> str:
    return file.relative_to(HOUSE).parts[0].removesuffix(".py")


def arrows() -> Counter[Arrow]:
    """Return how often each room imports from each other one."""
    found: Counter[Arrow] = Counter()
    rooms = {room_of(file) for file in HOUSE.rglob("*.py")} - {"__init__", "__main__"}
    for file in HOUSE.rglob("*.py"):
        for module in _imported(ast.parse(file.read_text("utf-8"))):
            pair = (room_of(file), module.split(".")[1])
            if pair[0] != pair[1] and set(pair) <= rooms:
                found[pair] += 1
    return found


def _imported(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        match node:
            case ast.ImportFrom(module="finplan", names=names):
                yield from (f"finplan.{name.name}" for name in names)
            case ast.ImportFrom(module=str(module)) if module.startswith("finplan."):
                yield module


def circles(pairs: Counter[Arrow]) -> list[str]:
    """Return the rooms from which arrows lead back to themselves."""

    def reached(room: str) -> set[str]:
        seen: set[str] = set()
        ahead = [room]
        while ahead:
            here = ahead.pop()
            new = {to for of, to in pairs if of == here} - seen
            seen |= new
            ahead += new
        return seen

    return sorted(room for room in {of for of, _ in pairs} if room in reached(room))


def levels() -> dict[str, int]:
    """Return on which floor each room is, 0 the uppermost."""
    contracts = tomllib.loads((HOUSE.parent / "pyproject.toml").read_text("utf-8"))["tool"]["importlinter"]["contracts"]
    floors = enumerate(contracts[0]["layers"])
    return {room.strip().split(".")[1]: number for number, floor in floors for room in floor.split("|")}


class Walks:
    """Counts calls across rooms, as a profile function of Python."""

    def __init__(self) -> None:
        self.calls: dict[str, Counter[Arrow]] = {name: Counter() for name in WALKS}
        self._within: Counter[str] = Counter()

    def __call__(self, frame: FrameType, event: str, _: object) -> None:
        name, to = frame.f_code.co_name, _room_in(frame)
        here = WALKS.get(name) == to
        if event == "return" and here:
            self._within[name] -= 1
        if event != "call" or to is None:
            return
        back = frame.f_back
        while back is not None and _room_in(back) is None:
            back = back.f_back
        of = None if back is None else _room_in(back)
        if of is not None and of != to:
            for walk, depth in self._within.items():
                if depth > 0:
                    self.calls[walk][of, to] += 1
        if here:
            self._within[name] += 1


def _room_in(frame: FrameType) -> str | None:
    package, _, module = str(frame.f_globals.get("__name__", "")).partition(".")
    return module.split(".")[0] or None if package == "finplan" else None


def walked() -> Walks:
    """Make the sheet of the demo's table, and return what was called meanwhile."""
    from finplan.cli import main
    from finplan.demo import write_demo

    walks = Walks()
    with tempfile.TemporaryDirectory() as folder:
        demo = Path(folder) / "demo"
        write_demo(demo, date(2026, 11, 24))
        asked = ["sheet", str(demo / "round-table.yaml"), "--from", "2026-11-30", "-o", str(demo / "sheet.html")]
        before, sys.argv = sys.argv, ["finplan", *asked]
        sys.setprofile(walks)
        with suppress(SystemExit):
            main()
        sys.setprofile(None)
        sys.argv = before
    return walks


def main() -> None:
    """Print the figures."""
    pairs = arrows()
    rooms = {room for pair in pairs for room in pair}
    faces = [room for room in rooms if (HOUSE / room / "__init__.py").exists()]
    lines = {file: len(file.read_text("utf-8").splitlines()) for file in HOUSE.rglob("*.py")}
    longest = max(lines, key=lambda file: lines[file])
    of_rooms: Counter[str] = Counter()
    for file, count in lines.items():
        of_rooms[room_of(file)] += count
    told = [
        f"{len(rooms)} rooms ({len(faces)} with a face), {len(pairs)} arrows, {pairs.total()} imports across",
        f"in circles: {', '.join(circles(pairs)) or 'none'}",
        f"{len(lines)} modules, median {statistics.median(lines.values()):g} lines, "
        f"the longest {longest.relative_to(HOUSE)} with {lines[longest]}",
        ", ".join(f"{room} {count:,}" for room, count in sorted(of_rooms.items()) if count >= 100)
        + f"; all {of_rooms.total():,}",
    ]
    floor = levels()
    for name, calls in walked().calls.items():
        entered = {room for pair in calls for room in pair}
        climbs = [f"{of} to {to}" for of, to in calls if floor.get(of, -1) > floor.get(to, -1)]
        told.append(
            f"{name}: {len(entered)} rooms, {len(calls)} arrows, {len(climbs)} climbs, {calls.total()} calls"
            + (f" ({', '.join(climbs)})" if climbs else "")
        )
    sys.stdout.writelines(f"{line}\n" for line in told)


if __name__ == "__main__":
    main()

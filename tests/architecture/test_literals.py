"""A value of the trade stands in the catalogue with its source: rooms that reckon hold only numbers that are none."""

from __future__ import annotations

import ast
from collections.abc import Iterator

from tests.architecture.modules import HOUSE, nodes, trees

ROOMS = [
    "buying",
    "climate",
    "costing",
    "faults",
    "learning",
    "material",
    "planning",
    "safety",
    "sanding",
    "system",
    "timetable",
]
SEARCHES = ("timetable/construct/",)
"""How long and how widely plans are looked for: each number says there what was gained by it."""
EVERYWHERE = {0, 1, 2, 7, 24, 60, 100, 1000, 3600, 1e6}
"""Counting, hours, days and weeks, per cent, and steps between units."""
ROUNDING = 1e-6
"""What is no more than that keeps rounding from being told as a difference."""
NUMBERS: dict[str, tuple[str, set[float]]] = {
    "buying/days.py": ("Monday to Friday; days that are looked through", {5, 3660}),
    "climate/measured.py": ("how finely time is cut; the middle of a piece", {15, 0.5}),
    "climate/moisture.py": ("between which humidities the formula holds; a tenth of a per cent is shown", {0.1, 5, 95}),
    "climate/pot_life.py": ("twelfths of an hour, as pots are timed", {12}),
    "climate/weather.py": ("how finely time is cut; standard air, ISO 3270", {15, 0.5, 23, 50}),
    "costing/cost.py": ("low, typical, high", {3}),
    "faults/diagnosis.py": ("ranks, in which causes are told", {3, 4}),
    "faults/time_facts.py": ("how exactly times are noted", {0.98}),
    "learning/coated.py": ("more than any coat has, in whatever unit", {1e9}),
    "material/measuring.py": ("how many ratios are tried; decimals", {12, 50}),
    "material/packs.py": ("sizes together, decimals", {3, 4, 6, 10}),
    "material/plan.py": ("how sure an order is where nobody says", {0.9}),
    "material/solution.py": ("US gallon in litres and pound in grams: NIST Handbook 44", {3.785411784, 453.59237}),
    "material/surer.py": ("more likely than not", {0.5}),
    "timetable/solve.py": ("half a slot, which is rounded up to a whole one", {0.5}),
    "planning/changes.py": ("how many systems are tried", {4, 8}),
    "planning/choice.py": ("seconds of a day", {86400}),
    "planning/sample.py": ("faces that nobody sees come last", {1e-3}),
    "planning/wet_edges.py": ("decimals", {6}),
    "planning/wishes.py": ("between which shares a wish may lie", {0.5, 0.999}),
    "safety/cautions.py": ("a rank, from which cautions are told first", {3}),
    "safety/coats.py": ("ten years: what is dry by then never dries", {3650}),
    "safety/fit_to_sand.py": ("quarters of an hour, as air is told", {15}),
    "sanding/cutting.py": ("density by specific gravity: Wood Handbook, chapter 4", {1120}),
    "sanding/depth.py": ("millimetres of a micrometre", {1e-3}),
    "sanding/packs.py": ("how many sheets are counted", {5000}),
    "system/faces.py": ("between the end grain of a disc's edge and of an end", {0.9}),
    "timetable/before.py": ("days, after which no air remembers", {14}),
    "timetable/found.py": ("an exit status", {4}),
    "timetable/operation.py": ("minutes of a slot", {5}),
    "timetable/setting.py": ("how far is looked ahead; quarters of an hour", {0.75, 15, 150, 800}),
}
"""Modules in which other numbers stand, what they are, and which."""
NUMERICS = {
    "climate/air.py": "sea level, and the formula of the Wood Handbook for moisture",
    "climate/pace.py": "physical constants",
    "learning/normal.py": "of the method, and a seed",
    "learning/said.py": "a range is 5 to 95 %",
    "learning/times.py": "a range is 5 to 95 %",
    "material/cause.py": "a range is 5 to 95 %",
    "material/quantile.py": "of the method",
    "material/total.py": "of the method: three moments",
    "planning/late_approval.py": "shares that are tried",
    "safety/airing.py": "moments that are looked at",
    "safety/exposure.py": "moments that are looked at",
    "safety/session.py": "halvings, and the largest fan that is looked for",
    "safety/vapour.py": "physical constants",
    "timetable/at_once.py": "effort",
    "timetable/chance.py": "a seed",
    "timetable/explain.py": "effort, and a rack without end",
    "timetable/help/hands.py": "days that are tried; Saturday",
    "timetable/help/tries.py": "effort",
    "timetable/late.py": "rounds",
    "timetable/search.py": "effort",
    "timetable/shared_clean_up.py": "how many are put in one model",
    "timetable/slipping.py": "days that are tried",
    "timetable/slips.py": "shares that are tried",
    "timetable/least_late.py": "effort",
    "timetable/ready_early.py": "how far the plan of fewer people is followed",
    "timetable/sure_enough.py": "rounds and steps of a search",
    "timetable/taken.py": "how many are looked at together",
    "timetable/windows.py": "weeks that are looked at",
}
"""Modules of mathematics or of a search, whose numbers say nothing of the trade."""


def _numbers(tree: ast.Module) -> Iterator[tuple[int, float]]:
    """Give line and value of every number that is neither a place in a list nor the size of a store."""
    apart: set[int] = set()
    for node in nodes(tree):
        match node:
            case ast.Subscript(slice=inner) | ast.Call(func=ast.Name("lru_cache"), keywords=[ast.keyword(value=inner)]):
                apart |= {id(one) for one in ast.walk(inner)}
    for node in nodes(tree):
        if isinstance(node, ast.Constant) and id(node) not in apart and type(node.value) in (int, float):
            assert isinstance(node.value, int | float)
            yield node.lineno, float(node.value)


def test_no_value_of_the_trade_stands_in_code() -> None:
    found: list[str] = []
    stale = {name: set(values) for name, (_, values) in NUMBERS.items()}
    used: set[str] = set()
    for file in sorted(file for room in ROOMS for file in (HOUSE / room).rglob("*.py")):
        name = file.relative_to(HOUSE).as_posix()
        if name.startswith(SEARCHES):
            continue
        known = NUMBERS[name][1] if name in NUMBERS else set()
        for line, value in _numbers(trees()[file]):
            if value in EVERYWHERE or abs(value) <= ROUNDING:
                continue
            used.add(name)
            stale.get(name, set()).discard(value)
            if value not in known and name not in NUMERICS:
                found.append(f"{name}:{line}: {value:g}: give it a record in the catalogue with its source")
    assert not found, "\n".join(found)
    assert not {name: values for name, values in stale.items() if values}, "numbers that stand there no more"
    assert not set(NUMERICS) - used, "modules without any such number"
    assert not set(NUMERICS) & set(NUMBERS)

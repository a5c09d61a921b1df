"""How fast the scheduling solver proves the optimum; a plain script, run by hand:

    python tests/benchmarks/bench_scheduling.py [SECONDS] [FILE ...]

Without files: the published projects beside the tests, and seeded ones of 30 to 120 activities, with and without
maximum lags. Files are read by their ending: ``.sm`` (PSPLIB), ``.rcp`` (Patterson), ``.sch`` (ProGen/max).
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from psplib import parse

from finplan.scheduling import Activity, Lag, Makespan, Problem, solve
from finplan.scheduling.axis import axis_of
from finplan.scheduling.bounds import draw_in
from finplan.scheduling.check import broken_rules
from finplan.scheduling.compiled import compiled
from finplan.scheduling.model import ScheduleModel
from tests.published.test_projects import DATA, problem_of

FORMATS = {".sm": "psplib", ".rcp": "patterson", ".sch": "rcpsp_max"}


def seeded(seed: int, count: int, strength: float, *, maximum_lags: bool) -> Problem:
    """A project after the manner of ProGen: a network, four resources of a strength from 0 (scarce) to 1 (ample)."""
    chance = random.Random(seed)
    durations = [chance.randint(1, 10) for _ in range(count)]
    demands = [{name: chance.randint(1, 10) for name in "rstu" if chance.random() < 0.5} for _ in range(count)]
    lags: list[Lag] = []
    earliest = [0] * count
    for second in range(3, count):
        for first in sorted({chance.randrange(max(0, second - 15), second) for _ in range(chance.choice((1, 2, 2)))}):
            shortest = durations[first] if chance.random() < 0.6 else chance.randint(0, 2 * durations[first])
            lags.append(Lag(str(first), str(second), shortest))
            earliest[second] = max(earliest[second], earliest[first] + shortest)
            if maximum_lags and chance.random() < 0.15:
                lags.append(Lag(str(second), str(first), -(2 * shortest + chance.randint(5, 30))))
    capacities = {}
    for name in "rstu":
        least = max((one.get(name, 0) for one in demands), default=0)
        runs = [range(start, start + duration) for start, duration in zip(earliest, durations, strict=True)]
        peak = max(
            sum(one.get(name, 0) for one, run in zip(demands, runs, strict=True) if slot in run)
            for slot in range(max(earliest) + 10)
        )
        capacities[name] = max(least, round(least + strength * (peak - least)))
    activities = tuple(Activity.of(str(index), durations[index], demands[index]) for index in range(count))
    return Problem(activities, sum(durations) + 20 * count, tuple(lags), capacities)


def instances(files: list[Path]) -> Iterator[tuple[str, Problem]]:
    for file in files or sorted(DATA.iterdir()):
        yield file.name, problem_of(parse(file, instance_format=FORMATS[file.suffix]))
    if files:
        return
    for count in (30, 60, 90, 120):
        for maximum_lags in (False, True):
            for seed, strength in enumerate((0.2, 0.4, 0.6)):
                kind = "maximum lags" if maximum_lags else "precedence"
                yield f"{count} {kind}, strength {strength}", seeded(seed, count, strength, maximum_lags=maximum_lags)


def building_s(problem: Problem) -> float:
    """How long it takes to make the model. [s]"""
    start = time.perf_counter()
    whole = compiled(problem, axis_of(problem, to_the_end=True))
    if draw_in(whole) is None:
        ScheduleModel(whole).goal(Makespan())
    return time.perf_counter() - start


def main() -> None:
    limit_s = float(sys.argv[1]) if len(sys.argv) > 1 else 40.0
    proven = total = 0
    for name, problem in instances([Path(name) for name in sys.argv[2:]]):
        build_s = building_s(problem)
        start = time.perf_counter()
        result = solve(problem, limit_s=limit_s)
        solve_s = time.perf_counter() - start
        wrong = broken_rules(problem, result.schedule) if result.schedule else []
        gap = "".join(f", {stage.value} of at least {stage.bound}" for stage in result.stages)
        share = f"model {build_s * 1000:.0f} ms, {build_s / solve_s:.0%} of it"
        print(f"{name}: {result.status}{gap} in {solve_s:.2f} s, {share}{' WRONG' if wrong else ''}")  # noqa: T201
        proven += result.status in ("optimal", "impossible")
        total += 1
    print(f"{proven} of {total} proven within {limit_s:g} s each")  # noqa: T201


if __name__ == "__main__":
    main()

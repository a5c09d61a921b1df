"""The search itself: one objective after another on one model, with the best solution so far."""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

from finplan.scheduling.axis import axis_of
from finplan.scheduling.bounds import draw_in
from finplan.scheduling.compiled import Compiled, compiled
from finplan.scheduling.milestones import Milestone, with_milestones, without_milestones
from finplan.scheduling.model import Goal, ScheduleModel
from finplan.scheduling.objective import EarliestStarts, Makespan, Objective
from finplan.scheduling.problem import Problem
from finplan.scheduling.result import Attained, Result, ResultStatus, Scheduled, SearchProgress
from finplan.scheduling.solver import cp_model
from finplan.scheduling.ways import OTHERWISE, Choices, turns

MEMORY_MB = 1500
"""What the process may take while it searches; beyond it the best found is given, as when the time is over."""
STAGE_SHARE = 0.7
"""So much of the time left an objective may take while others wait."""


def search(
    problem: Problem,
    objectives: Sequence[Objective],
    *,
    limit_s: float,
    effort: float,
    largest: float,
    workers: int,
    seed: int,
    hint: Mapping[str, Scheduled],
    confirm: bool,
    progress: SearchProgress | None,
) -> Result:
    """Return what ``solve`` returns; arguments as there."""
    deadline = time.monotonic() + limit_s
    left_out: list[Milestone] = []
    if all(isinstance(asked, Makespan) for asked in objectives):
        problem, left_out = without_milestones(problem)
    whole = compiled(problem, axis_of(problem, to_the_end=any(isinstance(asked, Makespan) for asked in objectives)))
    if draw_in(whole) is not None:
        return Result("impossible")
    built = ScheduleModel(whole)
    if len(built.model.proto.constraints) > largest:
        return Result("unknown")
    built.hint(hint)
    run = _Search(built, workers, seed, effort, deadline, progress)
    stages: list[Attained] = []
    for number, objective in enumerate(objectives, start=1):
        goal = run.built.goal(objective)
        status = run.improve(objective, goal, share=1.0 if number == len(objectives) else STAGE_SHARE)
        if status == cp_model.INFEASIBLE and not stages:
            sure = not confirm or run.confirmed_impossible()
            return Result("impossible" if sure else "unknown", effort=run.taken)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            break
        stages.append(Attained(objective, goal.in_slots(run.value), goal.in_slots(run.bound)))
        if status == cp_model.FEASIBLE and run.left_s <= 0:
            break
        run.keep(goal)
    result = run.result(stages, len(objectives))
    is_found = result.status in ("optimal", "feasible")
    return replace(result, schedule=with_milestones(result.schedule, left_out)) if is_found else result


class _Search:
    """A model on its way through the objectives, with the best solution so far."""

    def __init__(
        self,
        built: ScheduleModel,
        workers: int,
        seed: int,
        effort: float,
        deadline: float,
        progress: SearchProgress | None,
    ) -> None:
        self.built = built
        self.value = 0
        self.bound = 0
        self.taken = 0.0
        """Of the solver's own deterministic time."""
        self._workers, self._seed, self._deadline, self._progress = workers, seed, deadline, progress
        self._effort = effort
        self._solution: list[int] | None = None
        self._raced = False

    @property
    def left_s(self) -> float:
        """What is left of the time. [s]"""
        return self._deadline - time.monotonic()

    def improve(self, objective: Objective, goal: Goal, *, share: float) -> cp_model.CpSolverStatus:
        """Solve for one objective in a share of the time left; keep the solution, its value and the bound."""
        model = self.built.model
        until = time.monotonic() + share * self.left_s
        if goal.small:
            model.minimize(goal.expression)
        else:
            model.maximize(goal.expression)
        told = None if self._progress is None else _Told(objective, goal, self._progress)
        reached = cp_model.UNKNOWN
        left = self._effort
        for way, effort in turns(objective, self._workers):
            solver = self._solver(self._seed, way, until - time.monotonic())
            solver.parameters.max_deterministic_time = min(effort, left)
            left -= effort
            self._raced = self._raced or solver.parameters.num_workers > 1
            status = _solved(solver, model, told)
            self.taken += solver.response_proto.deterministic_time
            if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                self._note(solver, goal, first=reached == cp_model.UNKNOWN)
                reached = cp_model.OPTIMAL if self.value == self.bound else cp_model.FEASIBLE
            if status == cp_model.INFEASIBLE or reached == cp_model.OPTIMAL or left <= 0 or time.monotonic() >= until:
                return status if reached == cp_model.UNKNOWN else reached
        return reached

    def _note(self, solver: cp_model.CpSolver, goal: Goal, *, first: bool) -> None:
        """Take what a turn has found for the next to start from: the solution, and the bound as a rule."""
        value, bound = round(solver.objective_value), round(solver.best_objective_bound)
        if first or (value < self.value if goal.small else value > self.value):
            self.value, self._solution = value, list(solver.response_proto.solution)
            self._hint()
        if first or (bound > self.bound if goal.small else bound < self.bound):
            self.bound = bound
            self.built.model.add(goal.expression >= bound if goal.small else goal.expression <= bound)

    def keep(self, goal: Goal) -> None:
        """Never again be worse in this objective, and start from the solution found."""
        model = self.built.model
        model.clear_objective()  # type: ignore[no-untyped-call]
        model.add(goal.expression <= self.value if goal.small else goal.expression >= self.value)

    def _hint(self) -> None:
        solution = self._solution or []
        self.built.model.clear_hints()  # type: ignore[no-untyped-call]
        hint = self.built.model.proto.solution_hint  # all at once: said one by one they take longer than some searches
        hint.vars.extend(range(len(solution)))
        hint.values.extend(solution)

    def confirmed_impossible(self) -> bool:
        """Return whether another search, otherwise set, finds nothing either: solvers have been wrong before."""
        solver = self._solver(self._seed + 1, OTHERWISE, self.left_s)
        solver.parameters.max_deterministic_time = self._effort
        self.built.model.clear_objective()  # type: ignore[no-untyped-call]
        return _solved(solver, self.built.model) == cp_model.INFEASIBLE

    def _solver(self, seed: int, way: Choices, limit_s: float) -> cp_model.CpSolver:
        solver = cp_model.CpSolver()
        parameters = solver.parameters
        parameters.num_workers = 1
        parameters.random_seed = seed
        parameters.max_time_in_seconds = max(0.01, limit_s)
        parameters.max_memory_in_mb = MEMORY_MB
        parameters.catch_sigint_signal = False  # else it ends one search and the next begins
        for name, value in way.items():
            setattr(parameters, name, value)
        return solver

    def result(self, stages: list[Attained], wanted: int) -> Result:
        """Return the best solution as a schedule."""
        if self._solution is None:
            return Result("unknown", cut_short=self._raced or self.left_s <= 0, effort=self.taken)
        schedule = self._schedule()
        last = max((scheduled.end for scheduled in schedule.values()), default=0)
        # What was cut short may tell a later end than its schedule has.
        stages = [
            replace(stage, value=min(stage.value, last)) if isinstance(stage.objective, Makespan) else stage
            for stage in stages
        ]
        proven = len(stages) == wanted and all(
            stage.proven for stage in stages if not isinstance(stage.objective, EarliestStarts)
        )
        cut_short = self._raced or self.left_s <= 0
        status: ResultStatus = "optimal" if proven else "feasible"
        return Result(status, schedule, tuple(stages), cut_short=cut_short, effort=self.taken)

    def _schedule(self) -> dict[str, Scheduled]:
        solution = self._solution or []
        whole: Compiled = self.built.whole
        schedule: dict[str, Scheduled] = {}
        for name, start in self.built.starts.items():
            point = solution[start.index]
            for mode in whole.modes[name]:
                if solution[self.built.chosen[name][mode.index].index]:
                    schedule[name] = Scheduled(whole.axis.points[point], mode.ends[point], mode.index)
        return schedule


def _solved(
    solver: cp_model.CpSolver, model: cp_model.CpModel, told: cp_model.CpSolverSolutionCallback | None = None
) -> cp_model.CpSolverStatus:
    """Return what a solver finds; in a thread of its own, so that a break from the keyboard is heard at once."""
    with ThreadPoolExecutor(1) as aside:
        solving = aside.submit(solver.solve, model, told)
        try:
            return solving.result()
        except BaseException:
            solver.stop_search()
            raise


class _Told(cp_model.CpSolverSolutionCallback):
    """Passes every improvement on."""

    def __init__(self, objective: Objective, goal: Goal, progress: SearchProgress) -> None:
        super().__init__()
        self._objective, self._goal, self._progress = objective, goal, progress

    def on_solution_callback(self) -> None:
        """Pass on the value reached and the bound."""
        value, bound = round(self.objective_value), round(self.best_objective_bound)
        self._progress(self._objective, self._goal.in_slots(value), self._goal.in_slots(bound))

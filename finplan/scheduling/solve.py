"""Solving: one objective after another, each kept while the next is improved."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence

from ortools.sat.python import cp_model

from finplan.scheduling.axis import axis_of
from finplan.scheduling.bounds import draw_in
from finplan.scheduling.compiled import Compiled, compiled
from finplan.scheduling.model import Goal, ScheduleModel
from finplan.scheduling.objective import Makespan, Objective
from finplan.scheduling.problem import Problem
from finplan.scheduling.result import Result, Scheduled, Stage

Progress = Callable[[Objective, int, int], None]
"""Told of every improvement: the objective, the value reached and the best that could still be."""


def solve(
    problem: Problem,
    objectives: Sequence[Objective] = (Makespan(),),
    *,
    limit_s: float = 60.0,
    workers: int = 1,
    seed: int = 1,
    progress: Progress | None = None,
) -> Result:
    """Return the best schedule of a problem, and how good it is proven to be.

    Parameters
    ----------
    problem
        What is to be scheduled
    objectives
        What is wanted, the most important first; each later one keeps what the earlier ones reached
    limit_s
        After so many seconds of wall time the best found so far is returned. [s], above 0
    workers
        Threads that search. With one, the same problem always gets the same schedule, unless the limit cuts it short
    seed
        Of the search. Another seed may find another of several equally good schedules
    progress
        Told of every improvement

    Examples
    --------
    >>> from finplan.scheduling import Activity, Lag
    >>> saw, glue = Activity.of("saw", 2, {"bench": 1}), Activity.of("glue", 3, {"bench": 1})
    >>> cramp = Lag("glue", "saw", -4)
    >>> result = solve(Problem((saw, glue), horizon=10, relations=(cramp,), capacities={"bench": 1}))
    >>> result.status, result.makespan
    ('optimal', 5)
    """
    deadline = time.monotonic() + limit_s
    whole = compiled(problem, axis_of(problem, to_the_end=any(isinstance(one, Makespan) for one in objectives)))
    if draw_in(whole) is not None:
        return Result("impossible")
    search = _Search(ScheduleModel(whole), workers, seed, deadline, progress)
    stages: list[Stage] = []
    for objective in objectives:
        goal = search.built.goal(objective)
        status = search.improve(objective, goal)
        if status == cp_model.INFEASIBLE and not stages:
            return Result("impossible" if search.confirmed_impossible() else "unknown")
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            break
        stages.append(Stage(objective, goal.in_slots(search.value), goal.in_slots(search.bound)))
        if status == cp_model.FEASIBLE and search.left_s <= 0:
            break
        search.keep(goal)
    return search.result(stages, len(objectives))


class _Search:
    """A model on its way through the objectives, with the best solution so far."""

    def __init__(
        self, built: ScheduleModel, workers: int, seed: int, deadline: float, progress: Progress | None
    ) -> None:
        self.built = built
        self.value = 0
        self.bound = 0
        self._workers, self._seed, self._deadline, self._progress = workers, seed, deadline, progress
        self._solution: list[int] | None = None

    @property
    def left_s(self) -> float:
        """What is left of the time. [s]"""
        return self._deadline - time.monotonic()

    def improve(self, objective: Objective, goal: Goal) -> cp_model.CpSolverStatus:
        """Solve for one objective; keep the solution, its value and the bound."""
        model = self.built.model
        if goal.small:
            model.minimize(goal.expression)
        else:
            model.maximize(goal.expression)
        solver = self._solver(self._seed)
        status = solver.solve(model, None if self._progress is None else _Told(objective, goal, self._progress))
        if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            self._solution = list(solver.response_proto.solution)
            self.value, self.bound = round(solver.objective_value), round(solver.best_objective_bound)
        return status

    def keep(self, goal: Goal) -> None:
        """Never again be worse in this objective, and start from the solution found."""
        model = self.built.model
        model.clear_objective()  # type: ignore[no-untyped-call]
        model.add(goal.expression <= self.value if goal.small else goal.expression >= self.value)
        model.clear_hints()  # type: ignore[no-untyped-call]
        for index, value in enumerate(self._solution or ()):
            model.add_hint(model.get_int_var_from_proto_index(index), value)

    def confirmed_impossible(self) -> bool:
        """Return whether another search, otherwise set, finds nothing either: solvers have been wrong before."""
        solver = self._solver(self._seed + 1)
        solver.parameters.cp_model_probing_level = 2
        solver.parameters.linearization_level = 1
        self.built.model.clear_objective()  # type: ignore[no-untyped-call]
        return solver.solve(self.built.model) == cp_model.INFEASIBLE

    def _solver(self, seed: int) -> cp_model.CpSolver:
        solver = cp_model.CpSolver()
        parameters = solver.parameters
        parameters.num_workers = self._workers
        parameters.random_seed = seed
        parameters.max_time_in_seconds = max(0.01, self.left_s)
        parameters.cp_model_probing_level = 0
        parameters.linearization_level = 0
        parameters.symmetry_level = 0
        parameters.max_presolve_iterations = 1
        return solver

    def result(self, stages: list[Stage], wanted: int) -> Result:
        """Return the best solution as a schedule."""
        if self._solution is None:
            return Result("unknown", cut_short=True)
        proven = len(stages) == wanted and all(stage.proven for stage in stages)
        return Result("optimal" if proven else "feasible", self._schedule(), tuple(stages), cut_short=self.left_s <= 0)

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


class _Told(cp_model.CpSolverSolutionCallback):
    """Passes every improvement on."""

    def __init__(self, objective: Objective, goal: Goal, progress: Progress) -> None:
        super().__init__()
        self._objective, self._goal, self._progress = objective, goal, progress

    def on_solution_callback(self) -> None:
        """Pass on the value reached and the bound."""
        value, bound = round(self.objective_value), round(self.best_objective_bound)
        self._progress(self._objective, self._goal.in_slots(value), self._goal.in_slots(bound))

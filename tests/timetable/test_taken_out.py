"""A few pieces taken out of a plan and put back: no rule is broken, nothing is worse, and every time the same."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from finplan.planning import Wishes, job_of
from finplan.reading import GivenDate
from finplan.scheduling import Schedule, broken_rules
from finplan.timetable import Planner
from finplan.timetable.construct.laid_out import LaidOut
from finplan.timetable.construct.taken_out import Putting, renewed, the_same_draws
from finplan.timetable.problem import Window
from finplan.timetable.timetable import NO_BUFFER
from tests.timetable.generated import NOW, case, treated_case, with_dates_that_can_be_kept
from tests.timetable.test_workmanlike import levels


def planner_of(seed: int, pieces: int, folder: Path) -> Planner:
    made = case(seed, pieces)
    treated = treated_case(made, folder)
    made = with_dates_that_can_be_kept(made, treated)
    dates = [None if text is None else GivenDate.parse(text) for text in made.deliveries]
    return Planner(job_of(treated, dates, NOW, Wishes()))


@pytest.mark.parametrize(("seed", "pieces"), [(3, 3), (2, 3)])
def test_starts_are_later_and_every_rule_is_kept(seed: int, pieces: int, tmp_path: Path) -> None:
    planner = planner_of(seed, pieces, tmp_path)
    made = planner.made_late(NO_BUFFER)
    assert made is not None
    due = {piece.key: at for piece in planner.job.pieces if (at := planner.due(piece)) is not None and piece.open}
    again = planner.maker.extras(made.schedule)[0]

    def score(plan: Schedule) -> tuple[float, ...]:
        begun = planner.maker.begun(plan)
        return max(0, planner.maker.extras(plan)[0] - again), -sum(begun[key] for key in due)

    def losses(plan: Schedule) -> dict[str, int]:
        begun = planner.maker.begun(plan)
        return {key: (planner.maker.latest(key, at) or 0) - begun[key] for key, at in due.items()}

    plan = planner.maker.renewed(made.schedule, score, losses, due)
    assert score(plan) <= score(made.schedule)
    ready = planner.maker.ready(plan)
    assert all(ready[key] <= at for key, at in due.items())
    windows = {
        piece.key: Window(planner.setting.first, due.get(piece.key, planner.setting.slots - 1), due.get(piece.key))
        for piece in planner.job.pieces
    }
    assert broken_rules(planner.placement(windows, turns=False).problem, plan) == []
    assert Planner(planner.job).maker.renewed(made.schedule, score, losses, due) == plan


def test_round_after_round_goes_on_with_other_draws_until_all_work_is_used_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    planner = planner_of(3, 3, tmp_path)
    made = planner.made_late(NO_BUFFER)
    assert made is not None
    asked: list[tuple[int, Random]] = []

    def some(plan: Schedule, *told: object) -> Schedule:
        work, random = told[-2:]
        assert isinstance(work, int)
        assert isinstance(random, Random)
        asked.append((work, random))
        return dict(plan)

    monkeypatch.setattr("finplan.timetable.construct.plans.renewed", some)
    for due in ({"": 0}, {}, {"": 0}, {"": 0}):
        planner.maker.renewed(made.schedule, lambda _: (0,), lambda _: {"": 1}, due)
    assert [work for work, _ in asked] == [10_000, 20_000, 10_000, 0]
    assert all(random is asked[0][1] for _, random in asked), "else the same is drawn again"


def test_what_finds_no_room_stays_where_it_was(tmp_path: Path) -> None:
    planner = planner_of(3, 3, tmp_path)
    made = planner.made_late(NO_BUFFER)
    assert made is not None
    asked: list[tuple[str, ...]] = []

    def back(bench: object, keys: object) -> None:
        assert isinstance(bench, LaidOut)
        asked.append(tuple(keys))  # type: ignore[arg-type]
        left = {name.split("/")[0] for name in bench.plan}
        assert not left & {key.removesuffix("/") for key in asked[-1]}

    def losses(_: Schedule) -> dict[str, int]:
        return {piece.key: 1 for piece in planner.job.pieces}

    network = planner.maker.network
    putting = Putting(lambda _: (0.0,), losses, back)
    assert renewed(made.schedule, network, planner.setting, putting, 300, the_same_draws()) == made.schedule
    assert asked


def test_what_is_taken_out_of_a_bench_leaves_it_as_if_it_had_never_been_there(tmp_path: Path) -> None:
    planner = planner_of(2, 6, tmp_path)
    made = planner.made_early(dated=False)
    assert made is not None
    network, random = planner.maker.network, Random(1)
    whole = LaidOut(network, planner.setting, made.schedule)
    keys = [piece.key for piece in planner.job.pieces]
    sound = 0
    for count in (1, 2, 3) * 4:
        out = random.sample(keys, count)
        left, never = whole.without(out), LaidOut(network, planner.setting, made.schedule, without=out)
        assert left.plan == never.plan
        assert left.is_sound() == never.is_sound()
        if never.is_sound():
            sound += 1
            assert levels(left) == levels(never)
    assert sound

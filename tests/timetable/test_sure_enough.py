"""Dates are moved up until a plan keeps them as surely as the shop wants: past breaks, and with all draws only once."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from finplan.planning import Wishes, job_of
from finplan.reading import GivenDate
from finplan.timetable import Planner, chance, sure_enough
from finplan.timetable.chance import DRAWS, FEW_DRAWS, Drawn, Lived
from finplan.timetable.found import Found
from finplan.timetable.late import plan_late
from finplan.timetable.sure import Sure, at_a_look, sure_of
from finplan.timetable.sure_enough import sure_last_hand
from finplan.timetable.timetable import Buffer
from tests.timetable.shops import NOW, ONE_PERSON, read, shelf

SLOTS_A_DAY = 24 * 60 // 5


@pytest.mark.parametrize("buffer", [Buffer(8.0, working=True), Buffer(24.0, working=False)])
def test_a_date_is_moved_up_by_no_less_than_moves_it(buffer: Buffer, tmp_path: Path) -> None:
    """With a buffer of working hours half an hour from a Sunday is none: the date stays what it was."""
    pieces = read(tmp_path, [shelf()], ONE_PERSON)
    planner = Planner(job_of(pieces, (GivenDate.parse("2027-06-01"),), NOW, Wishes()))
    (piece,) = planner.job.pieces
    slot_h = planner.setting.slot_min / 60

    def due(sooner_h: float) -> int:
        at = planner.due_with(piece, replace(buffer, sooner_h={piece.key: sooner_h}))
        assert at is not None
        return at

    over_a_break = 0
    for ready in range(due(0.0) - 1, due(0.0) - 14 * SLOTS_A_DAY, -7):
        sooner_h = planner.least_sooner_h(piece, buffer, ready)
        assert due(sooner_h) < ready <= due(sooner_h - slot_h)
        over_a_break += due(sooner_h - slot_h) - due(sooner_h) > SLOTS_A_DAY
    assert bool(over_a_break) is buffer.working  # a week-end among them


def test_of_many_pieces_all_draws_are_lived_through_once_where_the_plan_is_sure(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    planner = many(tmp_path)
    assert not planner.is_small
    draws: list[int] = []
    lived = chance.lived

    def counted(*told: object, **named: object) -> Lived:
        luck = told[-1]
        assert isinstance(luck, Drawn)
        draws.append(luck.draws)
        return lived(*told, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(chance, "lived", counted)
    sure = plan_late(planner)
    assert sure is not None
    assert sure.has_last_hand, "it is not put on once more"
    sure = sure_last_hand(planner, sure)
    assert sure.kept
    assert not sure.is_rough
    assert draws.count(DRAWS) == 1
    assert draws.count(FEW_DRAWS) == len(draws) - 1 >= 1


def many(folder: Path) -> Planner:
    pieces = read(folder, [shelf("wax", count=3)] * 9, ONE_PERSON)
    return Planner(job_of(pieces, (GivenDate.parse("2027-06-01"),) * len(pieces), NOW, Wishes(answers=False)))


@pytest.mark.parametrize(("is_surer", "is_kept"), [(True, True), (True, False), (False, True)])
def test_where_a_better_plan_is_not_sure_in_all_draws_what_it_was_made_of_is_taken_if_that_is(
    is_surer: bool, is_kept: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Which is only looked at where it was the surer one in few draws; else the better one is moved up once more."""
    planner = many(tmp_path)
    seen: list[Sure] = []

    def in_all_draws(planner: Planner, sure: Sure) -> Sure:
        seen.append(sure)
        full = sure_of(planner, sure.found)
        last = 3 if is_surer else 2
        return replace(full, sooner_h=sure.sooner_h, kept={1: False, 2: is_kept, last: True}.get(len(seen), True))

    def hardly(_planner: Planner, _buffer: Buffer, sure: Sure, **_: object) -> Sure:
        least = 0.9 if is_surer else sure.least
        return replace(sure, in_time_of=dict.fromkeys(sure.in_time_of, least))

    monkeypatch.setattr(sure_enough, "in_full", in_all_draws)
    monkeypatch.setattr(sure_enough, "_improved", hardly)
    monkeypatch.setattr(sure_enough, "_moved", lambda _p, _b, sure: {key: at + 8 for key, at in sure.sooner_h.items()})
    found = sure_enough.moved_up(planner, Buffer(8.0, working=True), None)
    assert found is not None
    assert found.kept
    assert len(seen) == (3 if is_surer and not is_kept else 2)
    assert (found.sooner_h == seen[0].sooner_h) is (is_surer and is_kept)


def test_where_neither_a_better_plan_nor_what_it_was_made_of_is_sure_the_surer_is_given(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """And nothing can be moved up any more."""
    planner = many(tmp_path)
    shares = [0.6, 0.8]  # of the better one, then of what it was made of

    def in_all_draws(planner: Planner, sure: Sure) -> Sure:
        share = shares.pop(0)
        return replace(sure_of(planner, sure.found), kept=False, in_time_of=dict.fromkeys(sure.in_time_of, share))

    def hardly(_planner: Planner, _buffer: Buffer, sure: Sure, **_: object) -> Sure:
        return replace(sure, in_time_of=dict.fromkeys(sure.in_time_of, 0.9))

    monkeypatch.setattr(sure_enough, "in_full", in_all_draws)
    monkeypatch.setattr(sure_enough, "_improved", hardly)

    def moved(_planner: Planner, _buffer: Buffer, sure: Sure) -> dict[str, float]:
        return {key: at + 8 * bool(shares) for key, at in sure.sooner_h.items()}

    monkeypatch.setattr(sure_enough, "_moved", moved)
    found = sure_enough.moved_up(planner, Buffer(8.0, working=True), None)
    assert found is not None
    assert found.least == 0.8


@pytest.mark.parametrize(
    ("gains", "is_sure", "most_steps", "rounds"),
    [([0.3, 0.2, 0.01], True, 4_000, 3), ([0.04], True, 4_000, 1), ([], False, 4_000, 1), ([], True, 1, 1)],
)
def test_a_plan_is_made_better_while_that_pays_and_it_stays_sure_enough(
    gains: list[float], is_sure: bool, most_steps: int, rounds: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """And until so many steps were lived through: of very many it is done once."""
    planner = many(tmp_path)
    found = planner.made_late(Buffer(8.0, working=True))
    assert found is not None
    first = at_a_look(planner, found)
    made: list[Sure] = []
    gained = iter(gains)

    def once(_planner: Planner, _buffer: Buffer, sure: Sure) -> Sure | None:
        made.append(sure)
        return replace(sure) if is_sure else None

    monkeypatch.setattr(sure_enough, "_LOOKED_AT", most_steps)
    monkeypatch.setattr(sure_enough, "_better_once", once)
    monkeypatch.setattr(Planner, "gained", lambda *_: next(gained))
    better = sure_enough._better_of_many(planner, found.buffer, first)
    assert len(made) == rounds
    assert (better is not first) is is_sure


@pytest.mark.parametrize(("before", "after", "tries"), [(0.08, 0.0, 1), (0.5, 0.45, 2), (0.5, 0.5, 1), (0.95, 0.91, 1)])
def test_the_last_hand_stays_where_it_makes_less_sure_what_hardly_ever_is_in_time(
    before: float, after: float, tries: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    planner = many(tmp_path)
    found = planner.made_late(Buffer(8.0, working=True))
    assert found is not None
    other = replace(found, buffer=Buffer(7.0, working=True))
    look = at_a_look(planner, found)
    put_on: list[bool] = []

    def looked_at(_: Planner, plan: Found) -> Sure:
        return replace(look, found=plan, in_time_of=dict.fromkeys(look.in_time_of, before if plan is found else after))

    def with_last_hand(_: Planner, plan: Found, *, still: set[str], coats: bool) -> Found:
        put_on.append(coats)
        return other

    monkeypatch.setattr(sure_enough, "at_a_look", looked_at)
    monkeypatch.setattr(Planner, "with_last_hand", with_last_hand)
    sure = sure_enough._with_last_hand(planner, looked_at(planner, found))
    assert len(put_on) == tries
    assert sure.found is (other if tries == 1 else found)


def test_what_a_plan_gains_is_told_of_what_another_loses(tmp_path: Path) -> None:
    planner = many(tmp_path)
    made = planner.made_late(Buffer(8.0, working=True))
    assert made is not None
    better = planner.refined(made)
    assert planner.gained(made, made) == 0.0
    assert 0.0 < planner.gained(better, made) <= 1.0
    assert planner.gained(made, better) < 0.0

"""Dates are moved up until a plan keeps them as surely as the shop wants: past breaks, and with all draws only once."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from finplan.planning import Wishes, job_of
from finplan.reading import GivenDate
from finplan.timetable import Planner, chance, sure_enough
from finplan.timetable.chance import DRAWS, FEW_DRAWS, Drawn, Lived
from finplan.timetable.late import plan_late
from finplan.timetable.sure import Sure, sure_of
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
    pieces = read(tmp_path, [shelf("wax", count=3)] * 9, ONE_PERSON)
    planner = Planner(job_of(pieces, (GivenDate.parse("2027-06-01"),) * len(pieces), NOW, Wishes(answers=False)))
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


@pytest.mark.parametrize(
    ("is_later", "is_kept", "is_taken"), [(True, True, True), (True, False, False), (False, True, False)]
)
def test_what_had_to_be_moved_up_again_is_taken_where_it_is_better_than_before(
    is_later: bool, is_kept: bool, is_taken: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What was made better was sure in few draws, not in all, and moved up it began sooner than what it was made of."""
    pieces = read(tmp_path, [shelf("wax", count=3)] * 9, ONE_PERSON)
    planner = Planner(job_of(pieces, (GivenDate.parse("2027-06-01"),) * len(pieces), NOW, Wishes(answers=False)))
    seen: list[Sure] = []

    def in_all_draws(planner: Planner, sure: Sure) -> Sure:
        seen.append(sure)
        full = sure_of(planner, sure.found)
        return replace(full, sooner_h=sure.sooner_h, kept={1: False, 2: True}.get(len(seen), is_kept))

    monkeypatch.setattr(sure_enough, "in_full", in_all_draws)
    monkeypatch.setattr(Planner, "begins_later", lambda *_: is_later)
    monkeypatch.setattr(sure_enough, "_improved", lambda _planner, _buffer, sure, **_: replace(sure))
    monkeypatch.setattr(sure_enough, "_moved", lambda _p, _b, sure: {key: at + 8 for key, at in sure.sooner_h.items()})
    found = sure_enough.moved_up(planner, Buffer(8.0, working=True), None)
    assert found is not None
    assert len(seen) == (3 if is_later else 2)
    assert (found.sooner_h == seen[0].sooner_h) is is_taken

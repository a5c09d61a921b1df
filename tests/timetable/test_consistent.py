"""What holds between plans of a job under other wishes, of small made-up jobs: ``suite --consistent`` compares many."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from finplan.planning import PlannedPiece, Wishes, job_of
from finplan.timetable import Planner, Timetable
from finplan.timetable.answer import answered
from finplan.timetable.found import Found
from finplan.timetable.sure import sure_of
from finplan.timetable.timetable import NO_BUFFER
from tests.timetable.consistency import CHECKS, Check, planned_soon, with_a_helper
from tests.timetable.generated import NOW, Case, case, treated_case, with_dates_that_can_be_kept
from tests.timetable.shops import ONE_PERSON, plan, read, shelf

JOBS = [(18, 1), (12, 1)]
"""Seed and number of pieces: 6 and 10 operations."""
Compared = tuple[Case, Sequence[PlannedPiece], Timetable]


@pytest.fixture(scope="module", params=JOBS)
def compared(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Compared:
    made = case(*request.param)
    treated = treated_case(made, tmp_path_factory.mktemp("made-up"))
    made = with_dates_that_can_be_kept(made, treated)
    soon = planned_soon(made, treated)
    assert soon is not None
    return made, treated, soon


@pytest.mark.parametrize("check", CHECKS)
def test_it_holds(compared: Compared, check: Check) -> None:
    assert list(check(*compared)) == []


def test_what_one_does_two_can_do(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Where nothing is found for two people the plan of the first alone is given, and it keeps every rule.

    Of this job orders alone come to a plan that is ready 3.5 h after the one that is searched for.
    """
    treated = treated_case(case(32, 1), tmp_path)
    earliest = Planner._earliest

    def for_one(planner: Planner, made: Found, *, dated: bool, tidy: bool) -> Found | None:
        return None if len(planner.job.shop.people) > 1 else earliest(planner, made, dated=dated, tidy=tidy)

    monkeypatch.setattr(Planner, "_earliest", for_one)
    alone, helped = (
        Planner(job_of(pieces, (None,), NOW, Wishes(asap=True)))
        for pieces in (treated, [with_a_helper(piece) for piece in treated])
    )
    one, two = alone.early(), helped.early()
    assert one is not None
    assert two is not None
    assert helped.maker.ready(two.schedule) == alone.maker.ready(one.schedule)
    assert helped.faults == []


def test_what_is_late_and_ready_sooner_is_as_soon_as_can_be(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Where what was searched for is ready on the date itself, what leaves a buffer before it is given."""
    pieces = read(tmp_path, [shelf()], ONE_PERSON)
    late = plan(pieces, "2027-03-19", wishes=Wishes(answers=False)).timetable

    def on_the_date(planner: Planner, *, dated: bool = False, tidy: bool = True) -> Found | None:
        found = planner.late(NO_BUFFER, tidy=tidy)
        return None if found is None else replace(found, result=replace(found.result, status="feasible"))

    monkeypatch.setattr(Planner, "early", on_the_date)
    soon = plan(pieces, "2027-03-19", wishes=Wishes(answers=False, asap=True)).timetable
    (piece,) = soon.pieces
    assert piece.ready == late.pieces[0].ready
    assert piece.deliver is not None
    assert piece.ready < piece.deliver


@pytest.mark.parametrize(("left_s", "cut_short"), [(60.0, False), (0.0, True)])
def test_what_the_clock_ends_is_told_so(
    left_s: float, cut_short: bool, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Also where the search itself came to its end, and only what is tried after it did not."""
    planner = Planner(job_of(treated_case(case(18, 1), tmp_path), (None,), NOW, Wishes(asap=True)))
    soonest = planner.early()
    assert soonest is not None
    assert not soonest.result.cut_short
    monkeypatch.setattr(Planner, "left_s", left_s)
    told = answered(planner, sure_of(planner, soonest), None, answers=False)
    assert told.cut_short == cut_short

"""How sure a plan is, and that it is as sure as the shop wants it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from finplan.planning import PlannedPiece, Wishes, job_of
from finplan.telling import chance_words, latest_start_words
from finplan.timetable import Planner, Timetable, chance
from finplan.timetable.chance import DRAWS
from finplan.timetable.life import Life
from finplan.timetable.operation import all_operations
from finplan.timetable.taken import Draws
from tests.timetable.generated import case, planned_case, treated_case
from tests.timetable.shops import NOW, ONE_PERSON, plan, read, shelf
from tests.timetable.test_construct import made_up_job

HELPER = "  - {name: Tam, hours: {tue: 9:00-13:00, thu: 9:00-13:00}, skills: [coating]}\n"
WITH_A_HELPER = ONE_PERSON.replace("climate:", f"{HELPER}climate:")


def told(pieces: tuple[PlannedPiece, ...], wishes: Wishes | None = None) -> Timetable:
    return plan(pieces, "2027-03-26", wishes=wishes or Wishes(asap=True)).timetable


def test_a_helper_who_comes_rarely_makes_no_plan_less_sure(tmp_path: Path) -> None:
    # A coat that is too late for the helper is put on by whoever is there next.
    alone = told(read(tmp_path, [shelf("hardwax-oil")], ONE_PERSON))
    helped = told(read(tmp_path, [shelf("hardwax-oil")], WITH_A_HELPER))
    assert helped.surely_ready is not None
    assert alone.surely_ready is not None
    assert helped.surely_ready <= alone.surely_ready


def test_losing_a_day_makes_nothing_sooner(tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("hardwax-oil")], WITH_A_HELPER)
    whole = told(pieces)
    lost = told(pieces, Wishes(asap=True, lost_day=date(2027, 3, 2)))
    assert whole.surely_ready is not None
    assert lost.surely_ready is not None
    assert whole.surely_ready <= lost.surely_ready


def test_more_buffer_is_never_less_sure(tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("oil-varnish-blend")], ONE_PERSON)
    late = told(pieces, Wishes()).in_time_probability
    largest = told(pieces, Wishes(largest_buffer=True)).in_time_probability
    assert late is not None
    assert largest is not None
    assert 0 <= late <= largest <= 1


@pytest.mark.parametrize(
    ("system", "deliver"),
    [("hardwax-oil", "2027-03-06"), ("oil-varnish-blend", "2027-03-08"), ("oil-varnish-blend", "2027-03-09")],
)
def test_what_is_never_sure_enough_is_as_sure_as_what_begins_at_once(system: str, deliver: str, tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf(system)], ONE_PERSON)
    wishes = [Wishes(answers=False), Wishes(answers=False, largest_buffer=True), Wishes(answers=False, asap=True)]
    late, largest, early = (plan(pieces, deliver, wishes=each).timetable.in_time_probability for each in wishes)
    assert late is not None
    assert largest is not None
    assert early is not None
    assert min(late, largest) >= early


# --- what is lived through ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("seed", "pieces"), [(1, 1), (2, 1), (3, 1), (2, 2)])
def test_where_all_is_as_typical_it_goes_as_planned(
    seed: int, pieces: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = case(seed, pieces)
    treated = treated_case(made, tmp_path)
    monkeypatch.setattr("finplan.timetable.chance._values", lambda *told: np.full(DRAWS, told[-1].typical))
    for wishes in (Wishes(), Wishes(asap=True)):
        found = planned_case(made, treated, replace(wishes, earliest=False)).timetable
        surely = found.surely_ready
        assert surely is not None
        # Work is planned in whole slots, and may end a few minutes sooner.
        last = max(one.ready for one in found.pieces)
        assert last - timedelta(minutes=10) <= surely <= last


DAY_AND_NIGHT = ONE_PERSON.replace(
    "{mon-thu: [8:00-12:00, 12:30-17:00], fri: 8:00-13:00}", "{mon-sun: 0:00-24:00}"
).replace("{temperature: 16 degC, humidity: 55 %}", "{temperature: 23 degC, humidity: 50 %}")
STANDARD = DAY_AND_NIGHT.replace("20 degC", "23 degC") + "buffer: 0 h\n"


@pytest.mark.parametrize("hours", [12, 24, 48])
def test_the_chance_is_that_of_a_sum_of_lognormals(hours: int, tmp_path: Path) -> None:
    # One coat in standard air by someone who never stops: sanding, coating and drying follow one another at once. The
    # sum is drawn a hundred thousand times with the numeric library's own generator.
    (piece,) = read(tmp_path, [shelf("hardwax-oil-2k")], STANDARD)
    sand, coat = piece.operations
    finish = piece.source.catalogue.finishes["hardwax-oil-2k"]
    used = finish.light_use_h or finish.handle_h
    typical_h = (sand.work_min + coat.work_min) / 60 + used.typical
    due = NOW + timedelta(hours=round(typical_h + hours))
    found = plan([piece], f"{due:%Y-%m-%d %H:%M}", wishes=Wishes(asap=True)).timetable
    normal = np.random.default_rng(11).standard_normal((3, 100_000))
    takes = [
        minutes / 60 * np.exp(one * math.log(1.3) / 1.645)
        for minutes, one in ((sand.work_min, normal[0]), (coat.work_min, normal[1]))
    ]
    side = np.where(normal[2] > 0, used.high / used.typical, used.typical / used.low)
    dries = used.typical * np.exp(normal[2] * np.log(side) / 1.645)
    kept = float((takes[0] + takes[1] + dries <= (due - NOW) / timedelta(hours=1)).mean())
    assert found.in_time_probability == pytest.approx(kept, abs=0.01)


# --- a chance that is wanted ----------------------------------------------------------------------------------------


def wanting(percent: int, tmp_path: Path, deliver: str = "2027-04-16") -> Timetable:
    pieces = read(tmp_path, [shelf("hardwax-oil")], f"{WITH_A_HELPER}in-time: {percent} %\n")
    return plan(pieces, deliver, wishes=Wishes(earliest=False)).timetable


def test_a_date_is_kept_as_surely_as_the_shop_wants(tmp_path: Path) -> None:
    plans = {percent: wanting(percent, tmp_path) for percent in (50, 90, 99)}
    for percent, found in plans.items():
        assert found.in_time_probability is not None
        assert found.in_time_probability >= percent / 100
        assert found.unsure == ()
    starts = [plans[percent].latest_safe_start for percent in (99, 90, 50)]
    assert starts == sorted(starts, key=lambda one: one or datetime.min)
    assert len(set(starts)) > 1


def test_the_latest_safe_start_is_the_last_that_is_sure_enough(tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("hardwax-oil")], WITH_A_HELPER)
    latest = plan(pieces, "2027-04-16", wishes=Wishes(earliest=False)).timetable.latest_safe_start
    assert latest is not None

    def chance(now: datetime) -> float:
        found = plan(pieces, "2027-04-16", now=now, wishes=Wishes(answers=False, asap=True)).timetable
        return found.in_time_probability or 0.0

    assert chance(latest) >= 0.9
    assert chance(latest + timedelta(days=1)) < 0.9


def test_where_no_plan_is_sure_enough_that_is_said(tmp_path: Path) -> None:
    ready = wanting(90, tmp_path).earliest_ready or told(read(tmp_path, [shelf("hardwax-oil")], WITH_A_HELPER)).ready
    assert ready is not None
    found = wanting(90, tmp_path, f"{ready:%Y-%m-%d %H:%M}")
    assert found.has_plan
    assert found.unsure == found.pieces
    assert found.latest_safe_start is None
    assert any("No plan was found that keeps the date in nine of ten cases" in words for words in chance_words(found))


def test_without_a_date_there_is_no_latest_start_that_keeps_it(tmp_path: Path) -> None:
    found = plan(read(tmp_path, [shelf("wax")], ONE_PERSON), None).timetable
    assert found.latest_safe_start is None
    assert latest_start_words(found) == ""


def test_the_same_plan_is_told_the_same_every_time(tmp_path: Path) -> None:
    one, other = wanting(90, tmp_path), wanting(90, tmp_path)
    assert one == other


def test_what_has_very_many_steps_is_lived_through_less_often(tmp_path: Path) -> None:
    (piece,) = job_of(read(tmp_path, [shelf("wax")], ONE_PERSON), (None,), NOW, Wishes()).pieces
    steps = sum(1 for _ in all_operations(piece.open))
    assert chance.draws_of([piece]) == DRAWS
    assert 590_000 < chance.draws_of([piece] * (1_800 // steps)) * (1_800 // steps) * steps <= 600_000
    assert chance.draws_of([piece] * 10_000) == chance.FEW_DRAWS
    assert chance.draws_of([]) == DRAWS
    assert chance.few_draws_of([piece]) == chance.FEW_DRAWS
    assert 95_000 < chance.few_draws_of([piece] * (1_000 // steps)) * (1_000 // steps) * steps <= 100_000
    assert chance.few_draws_of([piece] * 10_000) == 50


def test_some_draws_at_a_time_are_lived_through_as_all_at_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of forty pieces the draws of all steps at once took 250 MB."""
    job = made_up_job(2, 6, tmp_path)
    planner = Planner(job)
    made = planner.made_early(dated=False)
    assert made is not None

    def lived_through() -> Mapping[str, Draws]:
        return chance.lived(job.pieces, planner.setting, made.schedule, job.ready_for).ready_min

    whole = lived_through()
    monkeypatch.setattr(chance, "_MOST_AT_ONCE", 170 * len(made.schedule))  # the last of six parts is the shortest
    begun: list[int] = []

    def noted(*told: Any) -> Life:
        begun.append(told[-1].draws)
        return Life(*told)

    monkeypatch.setattr("finplan.timetable.chance.Life", noted)
    parted = lived_through()
    assert begun == [166] * 6 + [4]
    assert all((parted[key] == whole[key]).all() for key in whole)

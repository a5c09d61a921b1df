"""What is written into a ledger, and what follows from it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from finplan.ledger import (
    Event,
    Ledger,
    LedgerError,
    Lot,
    begin_job,
    ended_by_tick,
    files_of,
    hold_plan,
    job_id,
    last_event,
    last_tick,
    lots_standing,
    newest,
    open_ledger,
    plan_numbered,
    receive,
    take_back,
    ticks_of,
    undo_event,
    write_event,
    write_tick,
)
from tests.ledger.entries import FILES, MORNING, done, made

HOUR = timedelta(hours=1)
OIL = Lot("finishes", "hardwax-oil", "ml", 1000.0, batch="B 7", price=61.5)


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[Ledger]:
    """An empty one."""
    with open_ledger(tmp_path / "finplan.ledger") as ledger:
        yield ledger


# --- plans ------------------------------------------------------------------------------------------------------------


def test_a_plan_is_held_as_it_was_made_under_the_next_number(ledger: Ledger) -> None:
    first, second = made(), made("22cc33dd", 30)
    held = [hold_plan(ledger, FILES, one) for one in (first, second)]
    assert [one.number for one in held] == [1, 2]
    job = job_id(ledger, FILES)
    assert job is not None
    assert newest(ledger, job) == held[1]
    assert plan_numbered(ledger, job, 1) == held[0]
    assert held[0].made == first
    assert plan_numbered(ledger, job, 3) is None


def test_the_same_plan_is_not_held_twice_unless_anew(ledger: Ledger) -> None:
    hold_plan(ledger, FILES, made())
    assert hold_plan(ledger, FILES, made(minute=5)).made.rows[0].begins == MORNING
    assert hold_plan(ledger, FILES, made(minute=5), anew=True).number == 2
    assert len(ledger.rows("SELECT * FROM plan")) == 2


def test_what_was_asked_before_the_newest_is_a_plan_of_its_own(ledger: Ledger) -> None:
    """Files that are put back as they were do not put the number back."""
    numbers = [hold_plan(ledger, FILES, made(digest)).number for digest in ("a", "b", "a")]
    assert numbers == [1, 2, 3]


def test_each_job_counts_for_itself(ledger: Ledger) -> None:
    assert hold_plan(ledger, FILES, made()).number == 1
    assert hold_plan(ledger, ("settle.yaml", "stool.yaml"), made()).number == 1


def test_a_file_alone_means_the_job_planned_last_that_has_it(ledger: Ledger) -> None:
    assert job_id(ledger, FILES) is None
    several = ("stool.yaml", "settle.yaml", "box.yaml")
    together = hold_plan(ledger, several, made()).job
    assert job_id(ledger, FILES) == together
    assert files_of(ledger, together) == several
    assert job_id(ledger, ("settle.yaml", "clock.yaml")) is None
    alone = hold_plan(ledger, FILES, made()).job
    assert job_id(ledger, FILES) == alone


# --- ticks ------------------------------------------------------------------------------------------------------------


def test_an_entry_is_read_as_it_was_written(ledger: Ledger) -> None:
    entry = done(
        person="Osric",
        can_before_g=812.0,
        can_after_g=731.0,
        took_min=35.0,
        air_c=17.0,
        humidity_pct=55.0,
        result="clear",
        note="drank more at the foot: ‘thirsty’ ash",
        observed={"amount": {"finish": "hardwax-oil"}, "minutes": {"planned": 30}},
    )
    with ledger.changing():
        number = write_tick(ledger, begin_job(ledger, FILES, MORNING), entry)
    (found,) = ticks_of(ledger)
    assert found == type(entry)(
        **{name: getattr(entry, name) for name in entry.__dataclass_fields__ if name not in ("id", "job")},
        id=number,
        job=1,
    )
    assert found.weighed_g == 81.0


def test_what_is_taken_back_stays_in_the_file_and_counts_no_more(ledger: Ledger) -> None:
    with ledger.changing():
        job = begin_job(ledger, FILES, MORNING)
        write_tick(ledger, job, done("seat/sand"))
        write_tick(ledger, job, done("seat/coat-1", 40))
    before = last_tick(ledger)
    last = ticks_of(ledger, job)[-1]
    with ledger.changing():
        take_back(ledger, last, MORNING + HOUR, "it was the other seat")
    assert ended_by_tick(ticks_of(ledger, job)) == {"seat/sand": MORNING}
    assert len(ticks_of(ledger, job, up_to=before)) == 2, "as it was known before"
    assert len(ledger.rows("SELECT * FROM tick")) == 3
    with pytest.raises(LedgerError, match="taken back before"), ledger.changing():
        take_back(ledger, last, MORNING + HOUR)


def test_of_a_step_that_is_ticked_twice_the_later_entry_counts(ledger: Ledger) -> None:
    with ledger.changing():
        job = begin_job(ledger, FILES, MORNING)
        write_tick(ledger, job, done(minute=30))
        write_tick(ledger, job, done(minute=10))
    assert ended_by_tick(ticks_of(ledger)) == {"seat/coat-1": MORNING + timedelta(minutes=10)}


@pytest.mark.parametrize(
    "wrong",
    [{"can_before_g": 700.0, "can_after_g": 731.0}, {"humidity_pct": 140.0}, {"used_ml": -1.0}, {"took_min": 0.0}],
)
def test_what_cannot_be_is_refused_whole(ledger: Ledger, wrong: dict[str, Any]) -> None:
    def enter() -> None:
        with ledger.changing():
            write_tick(ledger, begin_job(ledger, FILES, MORNING), done(**wrong))

    with pytest.raises(LedgerError, match="cannot be"):
        enter()
    assert ledger.rows("SELECT * FROM job") == []


# --- the shelf --------------------------------------------------------------------------------------------------------


def _event(lot: int, kind: str, hours: int, amount: float | None = None) -> Event:
    return Event(lot, kind, MORNING + hours * HOUR, MORNING + 20 * HOUR, amount)  # type: ignore[arg-type]


def test_what_is_left_follows_from_what_befell(ledger: Ledger) -> None:
    with ledger.changing():
        lot = receive(ledger, OIL, MORNING, MORNING)
    (found,) = lots_standing(ledger)
    assert (found.left, found.opened, found.gone, found.lot.price) == (1000.0, None, False, 61.5)
    with ledger.changing():
        write_event(ledger, _event(lot, "drawn", 2, 85.0))
    (found,) = lots_standing(ledger)
    assert (found.left, found.opened) == (915.0, MORNING + 2 * HOUR)


def test_order_of_time_counts_not_order_of_entry(ledger: Ledger) -> None:
    """Counted on Monday, written down on Wednesday: what was drawn on Tuesday comes off it."""
    with ledger.changing():
        lot = receive(ledger, OIL, MORNING, MORNING)
        write_event(ledger, _event(lot, "drawn", 8, 100.0))
        write_event(ledger, _event(lot, "counted", 4, 700.0))
    (found,) = lots_standing(ledger)
    assert found.left == 600.0


def test_what_is_discarded_is_gone_until_that_is_taken_back(ledger: Ledger) -> None:
    with ledger.changing():
        lot = receive(ledger, OIL, MORNING, MORNING, left=400.0)
        write_event(ledger, _event(lot, "discarded", 3))
    before = last_event(ledger)
    (found,) = lots_standing(ledger)
    assert found.gone
    with ledger.changing():
        undo_event(ledger, found.events[-1], MORNING + 5 * HOUR)
    assert lots_standing(ledger)[0].left == 400.0
    assert lots_standing(ledger, up_to=before)[0].gone


def test_no_more_is_drawn_than_there_is(ledger: Ledger) -> None:
    with ledger.changing():
        lot = receive(ledger, OIL, MORNING, MORNING)
        write_event(ledger, _event(lot, "drawn", 1, 1200.0))
    assert lots_standing(ledger)[0].left == 0.0


def test_nothing_befalls_a_lot_that_is_not_there(ledger: Ledger) -> None:
    with pytest.raises(LedgerError, match="no lot 5"), ledger.changing():
        write_event(ledger, _event(5, "opened", 1))


def test_two_that_plan_the_rest_again_at_once_hold_one_plan(tmp_path: Path) -> None:
    """Both saw plan 1; whoever comes second finds the plan of the first, unless it was told of other air."""
    with open_ledger(tmp_path / "finplan.ledger") as ledger:
        first = hold_plan(ledger, FILES, made())
        second = hold_plan(ledger, FILES, made(), in_place_of=first.number)
        assert (first.number, second.number) == (1, 2)
        assert hold_plan(ledger, FILES, made(), in_place_of=first.number).id == second.id
        other = replace(made(), answer={"air": {"told": [["a", "b", 9.0, 65.0]]}})
        assert hold_plan(ledger, FILES, other, in_place_of=first.number).number == 3

"""The rest of a plan after things went otherwise: what does not have to move stays, and every rule holds."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from finplan.planning import Wishes, job_of, read_sources
from finplan.telling import dry_from_words, in_time_with, would_fit_words
from finplan.timetable import (
    DryFrom,
    Kept,
    LaterDates,
    Operation,
    TimetableStep,
    all_operations,
    broken_by,
    first_stretches,
)
from tests.plans import sound_pieces
from tests.timetable.generated import case, planned_case, treated_case
from tests.timetable.read_back import Planned
from tests.timetable.shops import ONE_PERSON, TWO_PEOPLE, plan, read, rest_of, shelf
from tests.timetable.verifier import broken_rules

MADE_UP = [(3, 1), (4, 1), (1, 1), (2, 2), (11, 1)]
"""Seed and number of pieces of made-up jobs."""
MINUTE = timedelta(minutes=1)


class Bench:
    """A plan, and how far it has been worked."""

    def __init__(self, planned: Planned) -> None:
        self.planned = planned

    @property
    def rows(self) -> dict[str, TimetableStep]:
        """The first stretch of all that is ticked, in order of time; clean-ups and abrading again are not."""
        ids = {one.id for piece in self.planned.pieces for one in piece.operations}
        return {name: row for name, row in first_stretches(self.planned.timetable.steps).items() if name in ids}

    def after(self, share: float, late: timedelta, *, answers: bool = False) -> tuple[Kept, Wishes, datetime]:
        """Return what is planned after a share of the steps was done, the last of them late, and when that was."""
        rows = self.planned.timetable.steps
        ends = {row.id: row.end for row in rows if row.kind == "attended" and row.id in self.rows}
        tails = {row.id: row.end for row in rows if row.deed == "clean-up"}
        in_order = sorted(ends, key=lambda name: (ends[name].timestamp(), name))
        until = ends[in_order[min(int(share * len(in_order)), len(in_order) - 2)]]
        done = {name: end for name, end in ends.items() if end <= until}
        last = max(done, key=lambda name: (done[name], name))
        done[last] += late
        now = max(done.values())
        done |= {name: end for name, end in tails.items() if end <= now}
        wishes = Wishes(answers=answers, asap=self.planned.wishes.asap, done=done)
        planned = self.planned
        return rest_of(planned, now, wishes), wishes, now


@pytest.fixture(scope="module", params=MADE_UP, ids=str)
def bench(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Bench:
    """A made-up job that is planned."""
    made = case(*request.param)
    return Bench(planned_case(made, treated_case(made, tmp_path_factory.mktemp("job"))))


few = settings(max_examples=6, phases=(Phase.explicit, Phase.generate))
shares = st.floats(0.0, 1.0)
delays = st.integers(0, 36).map(lambda n: 5 * n * MINUTE) | st.integers(1, 70).map(lambda n: n * timedelta(hours=1))


@few
@given(share=shares)
def test_where_all_is_as_planned_nothing_moves(bench: Bench, share: float) -> None:
    kept, wishes, _ = bench.after(share, timedelta(0))
    was = bench.planned.timetable.steps
    now = {(row.id, row.start, row.end, row.person) for row in kept.timetable.steps}
    of_done = {one.id for piece in bench.planned.pieces for one in all_operations(_done(piece.operations, wishes))}
    of_done -= {row.id for row in was if row.deed == "clean-up" and row.id not in wishes.done}
    assert now == {(row.id, row.start, row.end, row.person) for row in was if row.work not in of_done}


def _done(operations: tuple[Operation, ...], wishes: Wishes) -> list[Operation]:
    return [one for one in operations if one.id in wishes.done]


@few
@given(share=shares, late=delays)
def test_no_rule_is_broken_and_nothing_is_begun_in_the_past(bench: Bench, share: float, late: timedelta) -> None:
    kept, wishes, now = bench.after(share, late)
    planned = bench.planned
    assert [one for one in _broken(planned, kept, wishes) if not one.endswith("is ready after its delivery")] == []
    was = bench.rows
    for name, row in first_stretches(kept.timetable.steps).items():
        assert row.start >= now or row.start == was[name].start


@few
@given(share=shares, late=delays)
def test_what_moved_could_not_stay(bench: Bench, share: float, late: timedelta) -> None:
    """Put back by itself, it breaks a rule or was to be begun before now; unless all was planned anew."""
    kept, wishes, now = bench.after(share, late)
    if kept.timetable.unsure or _late_h(kept) or bench.planned.wishes.asap:
        return  # it may have been planned anew
    planned = bench.planned
    job = job_of(planned.pieces, planned.deliveries, kept.earliest, wishes)
    was, rows = planned.timetable.steps, kept.timetable.steps
    assert broken_by(job, rows) == []
    first = bench.rows
    for name, row in first_stretches(rows).items():
        if name in first and row.start != first[name].start and first[name].start >= now:
            of_it = {name, f"{name}/clean-up"}
            back = [one for one in rows if one.work not in of_it] + [one for one in was if one.work in of_it]
            assert broken_by(job, back), f"{name} could have stayed at {first[name].start}"


def test_five_minutes_late_move_what_waits_for_them_alone(tmp_path: Path) -> None:
    """Two boards in a week with room: what is done to the other one stays, and so does the delivery."""
    bench = Bench(plan(read(tmp_path, [shelf(count=2)], TWO_PEOPLE), "2027-04-30"))
    for share in (0.1, 0.3, 0.5, 0.7):
        kept, wishes, _ = bench.after(share, 5 * MINUTE)
        late = max(wishes.done, key=lambda name: (wishes.done[name], name))
        was, rows = bench.rows, first_stretches(kept.timetable.steps)
        moved = {name for name in rows if name in was and rows[name].start != was[name].start}
        assert {name[:7] for name in moved} <= {late[:7]}, "what is done to the other board stays"
        assert all(timedelta(0) < rows[name].start - was[name].start <= 25 * MINUTE for name in moved)
        assert _broken(bench.planned, kept, wishes) == []


def test_a_day_late_keeps_the_date_where_a_plan_made_anew_does(tmp_path: Path) -> None:
    """One person and the delivery on the day on which it is just ready: where the order is in the way it is left."""
    pieces = read(tmp_path, [shelf(count=2), shelf("wax")], ONE_PERSON)
    first = plan(pieces, wishes=Wishes(answers=False, asap=True))
    ready = max(one.ready for one in first.timetable.pieces)
    bench = Bench(plan(pieces, f"{ready + timedelta(days=3):%Y-%m-%d}", wishes=Wishes(answers=False)))
    for share in (0.2, 0.5, 0.8):
        for hours in (3, 24, 72):
            kept, wishes, now = bench.after(share, timedelta(hours=hours))
            anew = plan(pieces, f"{ready + timedelta(days=3):%Y-%m-%d}", now=now, wishes=wishes).timetable
            if anew.has_plan:
                assert _late_h(kept) <= sum(max(0.0, -(one.buffer_h or 0.0)) for one in anew.pieces)


def test_a_rest_that_is_late_whatever_is_done_is_no_later_than_it_has_to_be(tmp_path: Path) -> None:
    """Put off for what was taken for cold and was none, two boards come forward again, if not in time."""
    pieces = read(tmp_path, [shelf(count=2)], ONE_PERSON)
    first = plan(pieces, wishes=Wishes(answers=False, asap=True))
    due = f"{first.timetable.pieces[0].ready - timedelta(hours=20):%Y-%m-%d %H:%M}"
    put_off = plan(pieces, now=first.now + timedelta(days=4), wishes=first.wishes).timetable
    dated = plan(pieces, due, now=first.now, wishes=Wishes(answers=False))
    assert not dated.timetable.has_plan
    late = Planned(dated.pieces, dated.deliveries, first.now, dated.wishes, put_off)
    kept = rest_of(late, first.now, Wishes(answers=False))
    assert _late_h(kept) == pytest.approx(20, abs=0.5)
    assert _broken(late, kept, Wishes(answers=False)) == ["Shelf is ready after its delivery"]
    again = rest_of(replace(late, timetable=kept.timetable), first.now, Wishes(answers=False))
    assert again.timetable.steps == kept.timetable.steps, "and stay there"


LATE_BY = [
    # spare days before the delivery, hours that the last step is late, whether the date is then missed, what helps
    (2, 24, False, {"heat", "coats", "date"}),
    (2, 60, True, {"heat", "coats", "date"}),
    (2, 96, True, {"date"}),
]


def test_what_would_help_is_told_of_a_rest_that_misses_its_date_or_does_not_keep_it_surely(tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf()], ONE_PERSON)
    first = plan(pieces, wishes=Wishes(answers=False, asap=True))
    ready = max(one.ready for one in first.timetable.pieces)
    for spare, late, missed, kinds in LATE_BY:
        date = f"{ready + timedelta(days=spare):%Y-%m-%d}"
        bench = Bench(plan(pieces, date, wishes=Wishes(answers=False)))
        kept, _, _ = bench.after(0.3, timedelta(hours=late), answers=True)
        table = kept.timetable
        assert (_late_h(kept) > 0) is missed
        fits = table.would_be_in_time if missed else table.would_be_sure
        assert not (table.would_be_sure if missed else table.would_be_in_time)
        assert {fit.kind for fit in fits} == kinds
        (times,) = table.pieces
        assert times.deliver is not None
        for fit in fits:
            if isinstance(fit.change, LaterDates):
                assert all(moment >= times.ready for _, moment in fit.change.dates)
            else:
                assert fit.ready <= times.deliver
        assert (fits[-1].in_time or 0.0) >= 0.9, "the last date is the surest"
        with_ = in_time_with(table)
        assert with_.startswith("To be in time, ") is missed
        assert with_.endswith(f"{would_fit_words(fits[-1], table.working_day_h)}.") is missed


def _broken(planned: Planned, kept: Kept, wishes: Wishes) -> list[str]:
    return broken_rules(Planned(planned.pieces, planned.deliveries, kept.earliest, wishes, kept.timetable))


def _late_h(kept: Kept) -> float:
    return sum(max(0.0, -(one.buffer_h or 0.0)) for one in kept.timetable.pieces)


def test_what_is_under_way_stays_under_way(tmp_path: Path) -> None:
    """Planned again in the middle of sanding, the sanding is not begun anew, and nothing moves."""
    planned = plan(read(tmp_path, [shelf(count=2)], ONE_PERSON), "2027-04-30")
    first = min(Bench(planned).rows.values(), key=lambda row: row.start)
    wishes = Wishes(answers=False)
    kept = rest_of(planned, first.start + 5 * MINUTE, wishes)
    assert kept.earliest == first.start
    assert [(row.id, row.start) for row in kept.timetable.steps] == [
        (row.id, row.start) for row in planned.timetable.steps
    ]
    assert _broken(planned, kept, wishes) == []


def test_what_is_put_back_is_held_against_no_other_plan(tmp_path: Path) -> None:
    """It is to move little, not to begin as late as can be: another that does was told to be better by 33 h."""
    planned = plan(read(tmp_path, [shelf()], ONE_PERSON), "2027-05-21")
    kept = rest_of(planned, planned.now + timedelta(hours=1), Wishes(answers=False))
    assert kept.timetable.start == planned.timetable.start
    assert kept.timetable.status == "feasible"
    assert kept.timetable.gap_h is None


def test_abrading_falls_away_again_where_a_tick_that_was_too_late_is_put_right(demo: Path) -> None:
    """A day ticked in the evening: its coat is dry after work of the next day, and then nobody comes for three.

    So the next coat of the top waits, and needs an abrading first. With the true times told it goes where it was at
    first, though it stands four days later in the plan that was made meanwhile. Why it waits is told.
    """
    pieces = sound_pieces(read_sources([demo / "book-shelf.yaml"], demo / "shop.yaml"))
    planned = plan(pieces, "2027-01-15", now=datetime(2026, 11, 30, 8, tzinfo=UTC))
    first = first_stretches(planned.timetable.steps)
    evening, noon = (datetime(2026, 12, day, hour, tzinfo=UTC) for day, hour in ((30, 17), (31, 12)))
    true = {row.id: row.end for row in planned.timetable.steps if row.end <= evening and row.kind == "attended"}
    coat = "top/oil-varnish-blend/3"
    assert first[coat].start.astimezone(UTC) == datetime(2026, 12, 31, 16, 30, tzinfo=UTC)

    late = rest_of(planned, noon, Wishes(answers=False, done=dict.fromkeys(true, evening)))
    assert f"{coat}/abrade" in first_stretches(late.timetable.steps)
    (dry,) = (note for note in late.timetable.notes if isinstance(note, DryFrom))
    assert (dry.next_step, dry.stood) == ("coat 2", first[coat].start)
    assert dry_from_words(dry).endswith("; that is too late for Thu 31 Dec 16:30, when it was planned")

    wishes = Wishes(answers=False, done=true)
    right = rest_of(replace(planned, timetable=late.timetable), noon, wishes)
    rows = first_stretches(right.timetable.steps)
    assert f"{coat}/abrade" not in rows
    assert rows[coat].start == first[coat].start
    moved = {name for name, row in rows.items() if row.start != first_stretches(late.timetable.steps)[name].start}
    assert moved == {coat, f"{coat}/clean-up"}
    assert _broken(planned, right, wishes) == []
    assert not any(isinstance(note, DryFrom) for note in right.timetable.notes)

"""How sure a plan is: what must hold whatever the drying times are."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from finplan.timetable import Timetable
from finplan.timing import Treated, Wishes
from tests.timetable.shops import ONE_PERSON, plan, read, shelf

HELPER = "  - {name: Tam, hours: {tue: 9:00-13:00, thu: 9:00-13:00}, skills: [coating]}\n"
WITH_A_HELPER = ONE_PERSON.replace("climate:", f"{HELPER}climate:")


def told(pieces: tuple[Treated, ...], wishes: Wishes | None = None) -> Timetable:
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

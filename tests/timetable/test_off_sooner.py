"""What lies on the rack is taken off it for the next work on it, and not only once it is fit to be lifted."""

from __future__ import annotations

from pathlib import Path

import pytest

from finplan.planning import Wishes, job_of
from finplan.reading import GivenDate
from finplan.scheduling import broken_rules
from finplan.timetable import Planner
from finplan.timetable.construct import place
from finplan.timetable.construct.off_sooner import off_sooner
from finplan.timetable.found import Found
from finplan.timetable.timetable import NO_BUFFER
from tests.timetable.shops import NOW, ONE_PERSON, read, shelf


def made_late(folder: Path, system: str) -> tuple[Planner, Found]:
    (piece,) = read(folder, [shelf(system, count=6)], ONE_PERSON + "rack: {places: 2, hooks: 1}\n")
    planner = Planner(job_of((piece,), (GivenDate.parse("2027-06-16 17:00"),), NOW, Wishes()))
    made = planner.made_late(NO_BUFFER)
    assert made is not None
    return planner, made


def begun(planner: Planner, made: Found) -> int:
    return min(planner.maker.begun(made.schedule).values())


def test_a_place_is_free_for_the_next_shelf_sooner(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    planner, made = made_late(tmp_path, "hardwax-oil")
    assert broken_rules(made.placement.problem, made.schedule) == []
    monkeypatch.setattr(place, "off_sooner", lambda *_: None)
    other, without = made_late(tmp_path, "hardwax-oil")
    a_working_day = 24 * 60 // planner.setting.slot_min
    assert begun(planner, made) >= begun(other, without) + a_working_day


@pytest.mark.parametrize("system", ["hardwax-oil", "wax", "shellac"])
def test_where_it_is_no_later_nothing_is_moved(system: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    moved: list[bool] = []

    def watched(bench, network, task, room, last, patience):  # type: ignore[no-untyped-def]
        before = dict(bench.plan)
        found = off_sooner(bench, network, task, room, last, patience)
        if found is None:
            assert bench.plan == before
        else:
            taken, following = found
            assert taken.start > room.start + patience
            assert bench.plan[following.name].end <= before[following.name].end
        moved.append(found is not None)
        return found

    monkeypatch.setattr(place, "off_sooner", watched)
    made_late(tmp_path, system)
    assert moved
    assert any(moved) == (system == "hardwax-oil")

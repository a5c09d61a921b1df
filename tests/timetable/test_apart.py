"""What is kept apart in a room, across pieces: old paint from other people, hot air from what burns."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from finplan.planning import Wishes, job_of
from finplan.telling import notes_told
from finplan.timetable import AloneWithOldPaint, TimetableStep, broken_by
from tests.timetable.lies import after_ticked
from tests.timetable.read_back import Planned
from tests.timetable.shops import plan, read, rest_of, shelf
from tests.timetable.verifier import broken_rules

SETTLE = """refinish: {REFINISH}
piece: Settle
lengths: mm
timber: ash
system: oil-varnish
parts:
  seat: {shape: board, length: 1540, width: 430, thickness: 26, count: 3}
  back: {shape: board, length: 1540, width: 660, thickness: 20}
"""
ONE_ROOM = """shop: Two in one room
time-zone: UTC
people:
  - {name: Una, hours: {mon-fri: [8:00-12:00, 12:45-16:30]}}
  - {name: Bo, hours: {mon-thu: [9:00-13:00, 13:30-15:00]}, skills: [sanding, coating, assembly]}
rooms:
  shop: {for: [sanding, assembly, coating, drying, spraying], volume: 60 m3, air-changes: 1}
"""


TWO_ROOMS = """shop: Two in two rooms
time-zone: UTC
people:
  - {name: Una, hours: {mon-fri: [8:00-12:00, 12:45-16:30]}}
  - {name: Bo, hours: {mon-fri: [8:00-12:00, 12:45-16:30]}}
rooms:
  bench: {for: [sanding, assembly, spraying], volume: 60 m3, air-changes: 1}
  oil room: {for: [coating, drying], volume: 60 m3, air-changes: 1}
spray-without-booth: I have read the local code
methods: [wipe, brush, spray-hvlp, random-orbit-150, hand]
"""


BOTH_SPRAY = f"""{ONE_ROOM.replace("[sanding, coating, assembly]", "[sanding, coating, spraying]")}
spray-without-booth: I have read the local code
methods: [wipe, brush, spray-hvlp, random-orbit-150, hand]
"""


def settle(refinish: str) -> str:
    return SETTLE.replace("REFINISH", refinish)


@pytest.fixture(scope="module")
def leaded(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    """A settle of 1950 that is scraped, and a shelf beside it, as soon as can be."""
    texts = [settle("built: 1950, strip: scrape"), shelf("hardwax-oil")]
    pieces = read(tmp_path_factory.mktemp("leaded"), texts, ONE_ROOM)
    return plan(pieces, "2027-04-16", wishes=Wishes(answers=False, asap=True))


@pytest.fixture(scope="module")
def heated(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    """The seat of a settle whose film is softened with hot air, and one that is scraped and wiped with alcohol."""
    texts = [settle(f"lead-test: clear, strip: {how}").replace("count: 3", "count: 1") for how in ("heat", "scrape")]
    texts = ["".join(line for line in text.splitlines(keepends=True) if "back:" not in line) for text in texts]
    pieces = read(tmp_path_factory.mktemp("heated"), texts, ONE_ROOM)
    return plan(pieces, "2027-04-16", wishes=Wishes(answers=False, asap=True))


def test_whoever_disturbs_old_paint_is_alone_and_cleans_up_before_a_break(leaded: Planned) -> None:
    assert broken_rules(leaded) == []
    rows = [row for row in leaded.timetable.steps if row.kind == "attended"]
    scraped = [row for row in rows if row.extra == "strip-scrape" and row.item == "seat"]
    # Some 6.5 h of scraping: no half day is as long, so it is done in three goes, each with its own clean-up.
    assert [row.step.rpartition(", ")[2] for row in scraped] == ["1 of 3", "2 of 3", "3 of 3"]
    for row in scraped:
        assert (row.id, row.person) in {
            (row.id, one.person) for one in rows if one.deed == "wipe-down" and one.start == row.end
        }


def test_the_plan_says_that_whoever_disturbs_old_paint_is_alone_where_there_is_anybody_else(
    leaded: Planned, heated: Planned, tmp_path: Path
) -> None:
    told = "Old paint is disturbed in shop: whoever does that is alone there"
    assert sum(note.startswith(told) for note in notes_told(leaded.timetable)) == 1
    assert not any(isinstance(note, AloneWithOldPaint) for note in heated.timetable.notes)
    by_oneself = "\n".join(line for line in ONE_ROOM.splitlines() if "Bo" not in line) + "\n"
    pieces = read(tmp_path, [settle("built: 1950, strip: scrape")], by_oneself)
    alone = plan(pieces, "2027-04-16", wishes=Wishes(answers=False, asap=True))
    assert not any(isinstance(note, AloneWithOldPaint) for note in alone.timetable.notes)


def test_the_check_of_the_program_itself_finds_who_is_beside_old_paint(leaded: Planned) -> None:
    row = next(row for row in leaded.timetable.steps if row.extra == "strip-scrape")
    other = next(one for one in leaded.timetable.steps if one.key == "piece2/" and one.deed == "sand")
    person = next(name for name in ("Una", "Bo") if name != row.person)
    beside = replace(
        other,
        start=row.start + timedelta(hours=1),
        end=row.start + timedelta(hours=1) + (other.end - other.start),
        person=person,
    )
    assert _is_found(leaded, other, beside)


def test_nothing_that_burns_is_opened_in_the_room_for_an_hour_after_hot_air(heated: Planned) -> None:
    assert broken_rules(heated) == []
    hot = next(row for row in heated.timetable.steps if row.extra == "strip-heat")
    wiped = next(row for row in heated.timetable.steps if row.extra == "wipe-residue" and row.key == "piece2/")
    at = hot.end + timedelta(minutes=10)
    assert _is_found(heated, wiped, replace(wiped, start=at, end=at + (wiped.end - wiped.start)))


def test_nor_where_the_hot_air_is_ticked_and_the_rest_put_back(heated: Planned) -> None:
    hot = next(row for row in heated.timetable.steps if row.extra == "strip-heat")
    end = hot.end + timedelta(minutes=50)
    for way, later in after_ticked(heated, hot.id, end, end).items():
        assert [one for one in broken_rules(later) if not one.endswith("is ready after its delivery")] == [], way
        burning = [row for row in later.timetable.steps if row.extra == "wipe-residue" or row.deed == "coat"]
        assert all(row.start >= end + timedelta(hours=1) for row in burning), way


@pytest.fixture(scope="module")
def reacting(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    """A shelf with isocyanate in its oil, and one with varnish, in one room, as soon as can be."""
    texts = [shelf("hardwax-oil-2k"), shelf("oil-varnish")]
    pieces = read(tmp_path_factory.mktemp("reacting"), texts, ONE_ROOM)
    return plan(pieces, "2027-04-16", wishes=Wishes(answers=False, asap=True))


def test_whoever_puts_on_isocyanate_is_alone_in_the_room(reacting: Planned) -> None:
    """His head says that everybody else is out of the room, which somebody at another coat there could not be."""
    assert broken_rules(reacting) == []
    assert _is_found(reacting, *_second_coat_beside_first(reacting))


def test_nobody_else_is_there_while_isocyanate_is_cleaned_up_after(reacting: Planned) -> None:
    """What is washed off the tools is the same mix: another coat is begun when they are clean, also put back."""
    planned = reacting
    rows = [row for row in planned.timetable.steps if row.kind == "attended"]
    reacts = next(row for row in rows if row.deed == "coat" and row.key == "piece1/")
    clean = next(row for row in rows if row.id == f"{reacts.id}/clean-up")
    other = next(row for row in rows if row.deed == "coat" and row.key == "piece2/")
    person = next(name for name in ("Una", "Bo") if name != reacts.person)
    names = (other.id, f"{other.id}/clean-up")

    def begun_at(moment: datetime) -> Planned:
        later = moment - other.start
        steps = tuple(
            replace(row, start=row.start + later, end=row.end + later, person=person) if row.id in names else row
            for row in rows
        )
        return replace(planned, timetable=replace(planned.timetable, steps=steps))

    job = job_of(planned.pieces, planned.deliveries, planned.now, planned.wishes)
    beside, after = begun_at(clean.start), begun_at(clean.end)
    assert broken_by(job, beside.timetable.steps)
    assert any(told.startswith(f"{person} is beside {clean.id}") for told in broken_rules(beside))
    assert broken_by(job, after.timetable.steps) == []
    done = {row.id: row.end for row in rows if row.deed == "sand"}
    kept = rest_of(after, max(done.values()), Wishes(answers=False, done=done))
    stays = next(row for row in kept.timetable.steps if row.id == other.id)
    assert (stays.start, stays.person) == (clean.end, person)


@pytest.fixture(scope="module")
def carried(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    """Shelves with isocyanate in the room where all dries, one with varnish, one sprayed at the bench, for two."""
    systems = ("hardwax-oil-2k", "hardwax-oil-2k", "oil-varnish", "lacquer")
    pieces = read(tmp_path_factory.mktemp("carried"), [shelf(system) for system in systems], TWO_ROOMS)
    return plan(pieces, "2027-04-16", wishes=Wishes(answers=False, asap=True))


@pytest.mark.parametrize("carry", ["out", "in"])
def test_nothing_is_carried_through_a_room_while_isocyanate_is_put_on_there(carried: Planned, carry: str) -> None:
    """What dried there is fetched before or after, and what is sprayed at the bench comes in before or after."""
    assert broken_rules(carried) == []
    rows = [row for row in carried.timetable.steps if row.kind == "attended"]
    reacts = next(row for row in rows if row.deed == "coat" and row.key == "piece1/")
    assert reacts.room == "oil room"
    key, deed = ("piece3/", "abrade") if carry == "out" else ("piece4/", "coat")
    other = next(row for row in rows if row.key == key and row.deed == deed and row.room == "bench")
    lasts = other.end - other.start
    start = reacts.start + timedelta(minutes=5) - (timedelta(0) if carry == "out" else lasts)
    person = next(name for name in ("Una", "Bo") if name != reacts.person)
    moved = replace(other, start=start, end=start + lasts, person=person)
    job = job_of(carried.pieces, carried.deliveries, carried.now, carried.wishes)
    assert broken_by(job, carried.timetable.steps) == []
    told = broken_by(job, [moved if row is other else row for row in carried.timetable.steps])
    assert any("isocyanate/oil room" in one for one in told)
    steps = tuple(moved if row is other else row for row in carried.timetable.steps)
    beside = replace(carried, timetable=replace(carried.timetable, steps=steps))
    words = "is fetched" if carry == "out" else "is carried in"
    assert any(f"{words} at" in one for one in broken_rules(beside))


def test_nothing_is_put_on_by_hand_beside_a_spray_gun(tmp_path: Path) -> None:
    """Mist settles on what is wet, and whoever pads it on would stand in it: with no rule it would be so here."""
    pieces = read(tmp_path, [shelf("lacquer"), shelf("oil-varnish-blend")], BOTH_SPRAY)
    planned = plan(pieces, "2027-04-16", wishes=Wishes(answers=False, asap=True))
    assert broken_rules(planned) == []
    other, moved = _second_coat_beside_first(planned)
    assert _is_found(planned, other, moved)
    steps = tuple(moved if row is other else row for row in planned.timetable.steps)
    beside = replace(planned, timetable=replace(planned.timetable, steps=steps))
    assert any("in the mist of" in told for told in broken_rules(beside))


def _second_coat_beside_first(planned: Planned) -> tuple[TimetableStep, TimetableStep]:
    """Return the first coat of the second piece as it is, and begun by the other person with that of the first."""
    coats = [row for row in planned.timetable.steps if row.kind == "attended" and row.deed == "coat"]
    first, other = (next(row for row in coats if row.key == key) for key in ("piece1/", "piece2/"))
    person = next(name for name in ("Una", "Bo") if name != first.person)
    return other, replace(other, start=first.start, end=first.start + (other.end - other.start), person=person)


def _is_found(planned: Planned, row: TimetableStep, moved: TimetableStep) -> bool:
    """Whether a row that is moved breaks a rule that was kept before, about its room."""
    job = job_of(planned.pieces, planned.deliveries, planned.now, planned.wishes)
    assert broken_by(job, planned.timetable.steps) == []
    rows = [moved if one is row else one for one in planned.timetable.steps]
    return any("/shop" in one for one in broken_by(job, rows))


SPINDLES = """piece: Spindle
lengths: mm
timber: ash
system: oil-varnish-blend
set: 5
parts:
  spindle: {shape: turned, elements: [{taper: {from: 40, to: 24, length: 700}}]}
"""
TURNERS = """shop: Two turners
time-zone: UTC
people:
  - {name: Reto, hours: {mon-fri: [8:00-12:00, 13:00-17:00]}}
  - {name: Vreni, hours: {mon-fri: [8:00-12:00, 13:00-17:00]}}
methods: [wipe, hand, lathe]
lathes: LATHES
"""


def spindles(folder: Path, lathes: int) -> Planned:
    """Five spindles for two turners, as soon as can be: where there is one lathe each is at it in turn."""
    pieces = read(folder, [SPINDLES], TURNERS.replace("LATHES", str(lathes)))
    return plan(pieces, "2027-04-16", wishes=Wishes(answers=False, asap=True))


@pytest.fixture(scope="module")
def at_one_lathe(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    return spindles(tmp_path_factory.mktemp("lathe"), 1)


@pytest.mark.parametrize("lathes", [1, 2])
def test_one_lathe_has_one_person_at_it(lathes: int, at_one_lathe: Planned, tmp_path: Path) -> None:
    planned = at_one_lathe if lathes == 1 else spindles(tmp_path, lathes)
    assert broken_rules(planned) == []
    turned = [row for row in planned.timetable.steps if row.deed == "sand" and row.kind == "attended"]
    assert {row.person for row in turned} == {"Reto", "Vreni"}
    at_once = [
        (one, other)
        for one in turned
        for other in turned
        if one.person != other.person and one.start < other.end and other.start < one.end
    ]
    assert bool(at_once) is (lathes == 2)


def test_the_check_of_the_program_itself_finds_who_is_beside_another_at_the_lathe(at_one_lathe: Planned) -> None:
    planned = at_one_lathe
    first, second, *_ = [row for row in planned.timetable.steps if row.deed == "sand" and row.kind == "attended"]
    other = "Vreni" if first.person == "Reto" else "Reto"
    beside = replace(second, person=other, start=first.start, end=first.start + (second.end - second.start))
    job = job_of(planned.pieces, planned.deliveries, planned.now, planned.wishes)
    assert broken_by(job, planned.timetable.steps) == []
    rows = [beside if one is second else one for one in planned.timetable.steps]
    assert any("lathe" in one for one in broken_by(job, rows))


RAILS = """piece: Rails
lengths: mm
timber: cherry
system: shellac
parts:
  rail: {shape: board, length: 900, width: 120, thickness: 22, count: 8}
"""
CHEST = """piece: Chest
lengths: mm
timber: cherry
system: waterborne-polyurethane
before: [steam-dents: 40]
parts:
  chest: {shape: carcase, width: 900, height: 500, depth: 450, thickness: 20, back: 20, front: closed}
"""


@pytest.fixture(scope="module")
def ironed(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    """Rails in shellac that one coats, and a chest of which another steams many dents out, as soon as can be."""
    shop = ONE_ROOM.replace("name: Una,", "name: Una, skills: [coating],").replace("sanding, coating, ", "sanding, ")
    shop = f"{shop.replace('60 m3', '200 m3')}rack: {{places: 20, hooks: 20}}\n"
    pieces = read(tmp_path_factory.mktemp("ironed"), [RAILS, CHEST], shop)
    return plan(pieces, "2027-04-16", wishes=Wishes(answers=False, asap=True))


def test_nothing_that_burns_is_opened_beside_a_hot_iron(ironed: Planned) -> None:
    """Dents were steamed out at the minute at which another laid shellac in the same room."""
    assert broken_rules(ironed) == []
    iron = next(row for row in ironed.timetable.steps if row.extra == "steam-dents")
    for deed in ("coat", "clean-up"):
        row = next(row for row in ironed.timetable.steps if (row.key, row.deed) == ("piece1/", deed))
        moved = replace(row, start=iron.start, end=iron.start + (row.end - row.start))
        steps = tuple(moved if one is row else one for one in ironed.timetable.steps)
        wrong = broken_rules(replace(ironed, timetable=replace(ironed.timetable, steps=steps)))
        assert any(told.startswith(moved.id) and "beside an iron" in told for told in wrong), deed

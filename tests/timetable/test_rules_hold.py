"""Every coating system in different shops, and pieces in every situation: the verifier finds no rule broken."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from finplan.planning import PlannedPiece, Wishes, with_stages
from finplan.telling import notes_told
from finplan.timetable import ReadyFor, all_operations
from tests.conftest import EXAMPLE
from tests.timetable.read_back import Planned
from tests.timetable.shops import (
    COLD_NIGHTS,
    LOGGED,
    NIGHT_SHIFT,
    NOW,
    ONE_PERSON,
    SYSTEMS,
    TWO_PEOPLE,
    plan,
    read,
    shelf,
)
from tests.timetable.verifier import broken_rules

SHOPS = {"two people": TWO_PEOPLE, "night shift": NIGHT_SHIFT, "cold nights": COLD_NIGHTS}
PAIRS = [
    (system, shop)
    for number, system in enumerate(SYSTEMS)
    for shop in ("two people", *((), ("night shift",), ("cold nights",))[number % 3])
]
QUICK = Wishes(answers=False)
ASAP = Wishes(answers=False, asap=True)
LARGEST = Wishes(answers=False, largest_buffer=True)
WARM_DAYS_OFF = (
    ONE_PERSON.replace("16 degC", "25 degC")
    .replace("20 degC", "25 degC")
    .replace("{mon-thu: [8:00-12:00, 12:30-17:00], fri: 8:00-13:00}", "{mon: 8:00-17:00}")
)
"""Somebody is there on Mondays only, and in between every coat dries hard."""


def good(planned: Planned) -> Planned:
    """Return a plan, once it is seen to break no rule."""
    assert planned.timetable.status in ("optimal", "feasible")
    assert broken_rules(planned) == []
    return planned


def attended(planned: Planned) -> list[str]:
    return [row.id for row in planned.timetable.steps if row.kind == "attended"]


@pytest.mark.parametrize(("system", "shop"), PAIRS)
def test_every_system_in_every_sort_of_shop(system: str, shop: str, tmp_path: Path) -> None:
    good(plan(read(tmp_path, [shelf(system)], SHOPS[shop]), "2027-04-30"))


@pytest.mark.parametrize("system", ["hardwax-oil", "wax", "acrylic-enamel"])
@pytest.mark.parametrize("wishes", [QUICK, ASAP, LARGEST], ids=["late", "asap", "largest buffer"])
def test_the_air_of_a_log(system: str, wishes: Wishes, tmp_path: Path) -> None:
    good(plan(read(tmp_path, [shelf(system)], LOGGED), "2027-03-26", wishes=wishes))


@pytest.mark.parametrize("system", ["hardwax-oil-2k", "oil-varnish", "catalysed-lacquer", "soap"])
@pytest.mark.parametrize("wishes", [ASAP, LARGEST], ids=["asap", "largest buffer"])
def test_other_wishes(system: str, wishes: Wishes, tmp_path: Path) -> None:
    good(plan(read(tmp_path, [shelf(system)], TWO_PEOPLE), "2027-03-26", wishes=wishes))


@pytest.mark.parametrize("ready_for", ["handle", "light-use", "cure"])
def test_what_the_customer_needs(ready_for: ReadyFor, tmp_path: Path) -> None:
    wishes = replace(QUICK, ready_for=ready_for)
    good(plan(read(tmp_path, [EXAMPLE], ONE_PERSON), "2027-05-28", wishes=wishes))


# --- items ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("system", ["hardwax-oil", "acrylic-enamel"])
def test_an_assembly_and_a_top_with_another_system_below(system: str, tmp_path: Path) -> None:
    piece = EXAMPLE.replace("hardwax-oil", system)
    piece = piece.replace("    edge: {top:", "    faces: {underside: {system: wax}}\n    edge: {top:")
    planned = good(plan(read(tmp_path, [piece], ONE_PERSON), "2027-05-28"))
    assert "base/glue-up" in attended(planned)
    assert "put-together" in attended(planned)


def test_faces_with_fewer_coats(tmp_path: Path) -> None:
    piece = EXAMPLE.replace("hardwax-oil", "oil-varnish")
    piece = piece.replace("    edge: {top:", "    faces: {underside: {coats: 2}}\n    edge: {top:")
    good(plan(read(tmp_path, [piece], TWO_PEOPLE), "2027-05-28"))


def test_a_top_is_turned_over_when_its_first_side_can_be_handled(tmp_path: Path) -> None:
    planned = good(plan(read(tmp_path, [shelf("oil-varnish")], ONE_PERSON), "2027-04-30"))
    assert sum(one.endswith("/second-side") for one in attended(planned)) == 3


def test_a_heavy_coat_takes_the_square_of_its_thickness(tmp_path: Path) -> None:
    (piece,) = read(tmp_path, [shelf("hardwax-oil")], ONE_PERSON)
    heavy = with_stages(piece, operations=tuple(replace(one, thickness=1.5) for one in piece.operations))
    usual, slow = (good(plan([one], None)).timetable for one in (piece, heavy))
    assert usual.ready is not None
    assert slow.ready is not None
    assert slow.ready - usual.ready > timedelta(days=2)


def test_a_coat_that_became_too_hard_is_abraded_again(tmp_path: Path) -> None:
    # The blend takes its second coat on the first as it is, up to three days after it; cold makes that no longer, but a
    # label may.
    label = "overrides: {finishes: {oil-varnish-blend: {recoat-limit: 20 d}}}\n"
    for shop, again in (
        (WARM_DAYS_OFF, ["shelf 1/oil-varnish-blend/3/abrade"]),
        (WARM_DAYS_OFF.replace("25 degC", "14 degC"), ["shelf 1/oil-varnish-blend/3/abrade"]),
        (WARM_DAYS_OFF + label, []),
    ):
        planned = good(plan(read(tmp_path, [shelf("oil-varnish-blend")], shop), "2027-04-30"))
        assert [one for one in attended(planned) if one.endswith("/abrade")] == again


def test_a_coat_is_not_abraded_for_another_on_other_faces(tmp_path: Path) -> None:
    panel = "{shape: rectangle, length: 600, width: 400, thickness: 20, faces: {underside: {system: hardwax-oil}}}"
    piece = f"piece: Panel\nlengths: mm\ntimber: ash\nsystem: oil-varnish-blend\nparts:\n  top: {panel}\n"
    planned = good(plan(read(tmp_path, [piece], WARM_DAYS_OFF), "2027-05-28"))
    assert [one for one in attended(planned) if one.endswith("/abrade")] == ["top/oil-varnish-blend/3/abrade"]


def test_a_film_is_put_on_in_time_to_form_before_a_cold_night(tmp_path: Path) -> None:
    # From 10 °C a waterborne film forms; it is through-dry after four hours of standard air. The verifier knows it too.
    cold = ONE_PERSON.replace("16 degC", "9 degC")
    planned = good(plan(read(tmp_path, [shelf("waterborne-polyurethane")], cold), "2027-04-30"))
    ends = [row.end for row in planned.timetable.steps if row.deed == "coat" and row.kind == "attended"]
    assert ends
    assert max(end.hour for end in ends) < 14
    assert all(row.film_fails_below_c is None for row in planned.timetable.steps)


# --- sharing --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("places", [1, 2])
def test_no_more_is_wet_than_the_rack_holds(places: int, tmp_path: Path) -> None:
    shop = ONE_PERSON + f"rack: {{places: {places}, hooks: 0}}\n"
    good(plan(read(tmp_path, [shelf("hardwax-oil", places + 1)], shop), "2027-04-30"))


def test_a_piece_larger_than_the_rack_takes_all_of_it(tmp_path: Path) -> None:
    piece = shelf("hardwax-oil").replace("{shape: board", "{count: 3, shape: board")
    planned = good(plan(read(tmp_path, [piece], ONE_PERSON + "rack: {places: 2, hooks: 0}\n"), "2027-04-30"))
    assert "shelf 1 takes 3 flat places and the rack has 2: find it others." in notes_told(planned.timetable)


def test_coats_put_on_one_after_another_share_a_clean_up(tmp_path: Path) -> None:
    planned = good(plan(read(tmp_path, [shelf("hardwax-oil", 3)], ONE_PERSON), "2027-04-30"))
    assert sum(one.endswith("/clean-up") for one in attended(planned)) == 2  # one for each coat of the three shelves


def test_a_mix_is_used_up_in_its_pot_life(tmp_path: Path) -> None:
    # Each shelf is worked on for 20 min; of a mix that can be used for 50 min there are two in a run at most.
    pieces = [shelf("hardwax-oil-2k", 4)]
    long, short = (
        good(
            plan(
                read(
                    tmp_path,
                    pieces,
                    f"{ONE_PERSON}overrides: {{finishes: {{hardwax-oil-2k: {{mix: {{pot-life: {life}}}}}}}}}\n",
                ),
                "2027-04-30",
            )
        )
        for life in ("2 h", "50 min")
    )
    assert [sum(one.endswith("/clean-up") for one in attended(each)) for each in (long, short)] == [1, 2]


def test_several_pieces_with_their_own_dates(tmp_path: Path) -> None:
    pieces = [shelf("hardwax-oil", 2), shelf("waterborne-polyurethane"), shelf("wax", 2)]
    planned = good(plan(read(tmp_path, pieces, TWO_PEOPLE), ["2027-03-12", "2027-03-17", None]))
    assert [one.deliver is None for one in planned.timetable.pieces] == [False, False, True]


def test_several_pieces_in_one_room_with_a_small_rack(tmp_path: Path) -> None:
    pieces = [shelf("oil-varnish-blend"), shelf("polyurethane-2k"), shelf("wax", 2)]
    shop = ONE_PERSON.replace("16 degC", "18 degC") + "rack: {places: 2, hooks: 0}\n"
    good(plan(read(tmp_path, pieces, shop), ["2027-03-26", "2027-04-02", "2027-03-24 12:00"]))


def test_a_piece_without_a_date_is_ready_as_early_as_can_be_beside_one_with_a_date(tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("hardwax-oil"), shelf("hardwax-oil")], ONE_PERSON)
    planned = good(plan(pieces, [None, "2027-04-16"]))
    alone = good(plan(pieces[:1], None))
    assert planned.timetable.pieces[0].ready == alone.timetable.ready


def test_pieces_of_one_name_are_told_apart(tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("wax"), shelf("wax")], ONE_PERSON)
    names = [one.piece for one in plan(pieces, None).timetable.pieces]
    assert names == ["Shelf (piece1)", "Shelf (piece2)"]


@pytest.mark.parametrize("minutes", [10, 15, 20, 30])
def test_however_short_the_shifts_are_the_work_is_done(minutes: int, tmp_path: Path) -> None:
    # One of these is long enough for a coat, and not for the cleaning up after it.
    shop = ONE_PERSON.replace("{mon-thu: [8:00-12:00, 12:30-17:00], fri: 8:00-13:00}", f"{{mon-fri: 8:00-8:{minutes}}}")
    good(plan(read(tmp_path, [shelf("wax")], shop), None))


# --- what has been done, and what is lost ---------------------------------------------------------------------------


@pytest.fixture
def two_shelves(tmp_path: Path) -> tuple[PlannedPiece, ...]:
    return read(tmp_path, [shelf("oil-varnish-blend", 2)], ONE_PERSON + "rack: {places: 1, hooks: 0}\n")


def wet_shelf(pieces: tuple[PlannedPiece, ...], deliver: str | None) -> Planned:
    """The plan where the first shelf has got its first coat just now: its window closes on the morning of 4 March."""
    now = datetime(2027, 3, 1, 9, tzinfo=UTC)
    done = {"shelf 1/oil-varnish-blend/1": now - timedelta(hours=1), "shelf 1/oil-varnish-blend/2": now}
    return plan(pieces, deliver, now=now, wishes=replace(QUICK, done=done))


def test_a_coat_that_is_still_wet_keeps_its_place_and_is_kept_from_dust(two_shelves: tuple[PlannedPiece, ...]) -> None:
    planned = good(wet_shelf(two_shelves, None))
    assert "shelf 1/oil-varnish-blend/3/abrade" not in attended(planned)


@pytest.mark.parametrize("deliver", ["2027-03-26", "2027-04-30"])
def test_a_coat_put_on_before_can_wait_to_be_abraded_again(deliver: str, tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("oil-varnish-blend")], ONE_PERSON)
    planned = good(wet_shelf(pieces, deliver))
    assert attended(planned)[0] == "shelf 1/oil-varnish-blend/3/abrade"


def test_of_several_pieces_one_is_done(tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("wax"), shelf("wax")], ONE_PERSON)
    done = {operation.id: NOW for operation in all_operations(pieces[0].operations)}
    good(plan(pieces, "2027-03-12", now=NOW + timedelta(hours=10), wishes=replace(QUICK, done=done)))


@pytest.mark.parametrize("count", range(1, 11, 3))
def test_whatever_has_been_done_is_not_done_again(two_shelves: tuple[PlannedPiece, ...], count: int) -> None:
    before = good(plan(two_shelves, None))
    first = dict.fromkeys(attended(before))
    wanted = [one for one in first if not one.endswith(("/clean-up", "/abrade"))][:count]
    done = {one: max(row.end for row in before.timetable.steps if row.id == one) for one in wanted}
    now = max(done.values()) + timedelta(minutes=10)
    after = good(plan(two_shelves, None, now=now, wishes=replace(QUICK, done=done)))
    assert not set(wanted) & set(attended(after))


@pytest.mark.parametrize("day", range(3))
def test_a_day_is_lost(day: int, tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("polyurethane-2k")], ONE_PERSON.replace("16 degC", "18 degC"))
    before = plan(pieces, "2027-03-26").timetable
    days = sorted({row.start.date() for row in before.steps if row.kind == "attended"})
    after = good(plan(pieces, "2027-03-26", wishes=replace(QUICK, lost_day=days[day]))).timetable
    kept = [row for row in before.steps if row.start.date() < days[day]]
    assert [row for row in after.steps if row.start.date() < days[day]] == kept
    assert not [row for row in after.steps if row.kind == "attended" and row.start.date() == days[day]]


def test_what_could_still_be_begun_is_not_told_once_it_is_begun(tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("polyurethane-2k")], ONE_PERSON.replace("16 degC", "18 degC"))
    before = plan(pieces, "2027-03-26", wishes=Wishes()).timetable
    days = sorted({row.start.date() for row in before.steps if row.kind == "attended"})
    assert before.latest_safe_start is not None
    assert plan(pieces, "2027-03-26", wishes=Wishes(lost_day=days[1])).timetable.latest_safe_start is None


def test_the_shift_of_the_evening_before_a_lost_day_is_worked_to_its_end(tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("soap", 2)], NIGHT_SHIFT)
    before = good(plan(pieces, None)).timetable
    first = before.steps[0].start.date()
    lost = first + timedelta(days=1)
    after = good(plan(pieces, None, wishes=replace(QUICK, lost_day=lost))).timetable
    assert before.start is not None
    morning = before.start + timedelta(hours=8)
    assert [row for row in after.steps if row.start < morning] == [row for row in before.steps if row.start < morning]


@pytest.mark.parametrize("wishes", [Wishes(), Wishes(asap=True), LARGEST], ids=["late", "asap", "largest buffer"])
def test_the_same_call_gives_the_same_plan(wishes: Wishes, tmp_path: Path) -> None:
    pieces = read(tmp_path, [shelf("oil-varnish-blend")], TWO_PEOPLE)
    assert plan(pieces, "2027-03-19", wishes=wishes) == plan(pieces, "2027-03-19", wishes=wishes)


def test_the_demo(demo: Path) -> None:
    from finplan.planning import read_sources
    from tests.plans import sound_pieces

    sources = read_sources(
        [demo / f"{name}.yaml" for name in ("round-table", "hall-bench", "book-shelf")], demo / "shop.yaml"
    )
    pieces = sound_pieces(sources)
    now = datetime(2026, 11, 24, tzinfo=UTC)
    for piece in pieces:
        assert piece.source.piece.deliver is not None
        good(plan([piece], str(piece.source.piece.deliver.day), now=now))


@pytest.mark.parametrize("shop", [ONE_PERSON, TWO_PEOPLE])
@pytest.mark.parametrize("wishes", [QUICK, ASAP])
def test_old_paint_is_cleaned_up_directly_after_it_was_sanded(shop: str, wishes: Wishes, tmp_path: Path) -> None:
    """Dust of lead is not left lying, nor coated in (40 CFR 745.85 asks for cleaning of the work area, from memory)."""
    text = "refinish: {built: 1962}\n" + shelf(count=3)
    pieces = read(tmp_path, [text], shop)
    planned = plan(pieces, "2027-04-09", wishes=wishes)
    rows = [row for row in planned.timetable.steps if row.kind == "attended"]
    assert sum(row.deed == "wipe-down" for row in rows) > 1
    assert broken_rules(planned) == []

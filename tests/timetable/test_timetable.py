"""The timetable, checked by a verifier that shares no code with it."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from finplan.plan import Plan, make_plan, read_source
from finplan.reading import Calendar
from tests.conftest import EXAMPLE
from tests.timetable.verifier import broken_rules

NOW = datetime(2027, 2, 1, tzinfo=UTC)
COLD_SHOP = """\
shop: Cold store
time-zone: Europe/London
people:
  - {name: Wynn, hours: {mon-thu: [8:00-12:00, 12:30-17:00], fri: 8:00-13:00}}
climate:
  day: {from: 8:00, to: 18:00, temperature: 19 degC, humidity: 50 %}
  night: {temperature: 9 degC, humidity: 65 %}
"""


def planned(folder: Path, piece: str, shop: str | None = None, now: datetime = NOW, deliver: str | None = None) -> Plan:
    piece_file = folder / "piece.yaml"
    piece_file.write_text(piece, encoding="utf-8")
    shop_file = None
    if shop is not None:
        shop_file = folder / "shop.yaml"
        shop_file.write_text(shop, encoding="utf-8")
    source = read_source(piece_file, shop_file)
    return make_plan(source, now=now, deliver=Calendar.parse(deliver) if deliver else None)


SYSTEMS = [
    "hardwax-oil", "linseed-oil", "oil-varnish", "oil-polyurethane", "waterborne-polyurethane", "shellac", "lacquer",
    "polyurethane-2k", "wax", "soap", "casein-paint", "alkyd-enamel", "acrylic-enamel", "stain-and-varnish",
    "dye-and-waterborne",
]  # fmt: skip


@pytest.mark.parametrize("shop", [None, COLD_SHOP], ids=["default", "cold"])
@pytest.mark.parametrize("system", SYSTEMS)
def test_no_rule_is_broken(system: str, shop: str | None, tmp_path: Path) -> None:
    piece = EXAMPLE.replace("hardwax-oil", system).replace("2027-03-12 15:00", "2027-04-30")
    plan = planned(tmp_path, piece, shop)
    assert plan.timetable.status in ("optimal", "feasible")
    assert broken_rules(plan) == []


def test_the_verifier_sees_a_broken_rule(tmp_path: Path) -> None:
    from dataclasses import replace

    plan = planned(tmp_path, EXAMPLE)
    coated = {step.item: step.end for step in plan.timetable.steps if step.step == "coat 1"}
    hurried = tuple(
        replace(step, start=coated[step.item], end=coated[step.item] + timedelta(hours=12))
        if step.step == "abrade P320"
        else step
        for step in plan.timetable.steps
    )
    told = broken_rules(replace(plan, timetable=replace(plan.timetable, steps=hurried)))
    for words in ("after 0.00 h of drying", "does not work", "does two things", "makes dust"):
        assert any(words in one for one in told), words


def test_it_starts_as_late_as_is_safe(tmp_path: Path) -> None:
    timetable = planned(tmp_path, EXAMPLE).timetable
    assert timetable.start is not None
    assert timetable.latest_safe_start is not None
    assert timetable.buffer_h is not None
    assert timetable.start > NOW + timedelta(days=7)
    assert timetable.start <= timetable.latest_safe_start
    assert timetable.buffer_h >= timetable.buffer_wanted_h


def test_the_same_input_gives_the_same_plan(tmp_path: Path) -> None:
    assert planned(tmp_path, EXAMPLE).timetable == planned(tmp_path, EXAMPLE).timetable


def test_a_plan_across_the_change_to_summer_time(tmp_path: Path) -> None:
    # The clocks of London go forward on 28 March 2027.
    plan = planned(tmp_path, EXAMPLE.replace("hardwax-oil", "oil-varnish"), COLD_SHOP, deliver="2027-04-20")
    assert broken_rules(plan) == []
    assert {step.start.utcoffset() for step in plan.timetable.steps} == {timedelta(0), timedelta(hours=1)}


def test_a_plan_across_the_turn_of_the_year(tmp_path: Path) -> None:
    shop = COLD_SHOP + "holidays: GB-ENG\n"
    plan = planned(tmp_path, EXAMPLE, shop, now=datetime(2026, 12, 21, tzinfo=UTC), deliver="2027-01-08")
    assert broken_rules(plan) == []
    assert not {step.start.date() for step in plan.timetable.steps if step.kind == "attended"} & {
        date(2026, 12, 25), date(2026, 12, 28), date(2027, 1, 1)
    }  # fmt: skip


def test_a_shop_closed_for_two_weeks(tmp_path: Path) -> None:
    shop = COLD_SHOP + "closed: [2027-02-01 to 2027-02-14]\n"
    plan = planned(tmp_path, EXAMPLE, shop, deliver="2027-02-26")
    assert broken_rules(plan) == []
    assert plan.timetable.start is not None
    assert plan.timetable.start.date() >= date(2027, 2, 15)


def test_a_night_shift(tmp_path: Path) -> None:
    shop = COLD_SHOP.replace("{mon-thu: [8:00-12:00, 12:30-17:00], fri: 8:00-13:00}", "{mon-fri: 22:00-6:00}")
    plan = planned(tmp_path, EXAMPLE.replace("hardwax-oil", "wax"), shop.replace(": 9 degC", ": 17 degC"))
    assert plan.timetable.status != "impossible"
    starts = [step.start.time().hour for step in plan.timetable.steps if step.kind == "attended"]
    assert all(hour >= 22 or hour < 6 for hour in starts)


def test_two_people_and_two_rooms(demo: Path) -> None:
    for name in ("round-table", "hall-bench", "book-shelf"):
        source = read_source(demo / f"{name}.yaml", demo / "workshop.yaml")
        plan = make_plan(source, now=datetime(2026, 11, 24, tzinfo=UTC))
        assert broken_rules(plan) == []


def test_what_does_not_fit_is_explained(tmp_path: Path) -> None:
    timetable = planned(tmp_path, EXAMPLE, COLD_SHOP, deliver="2027-02-02").timetable
    assert timetable.status == "impossible"
    assert timetable.steps == ()
    (clash,) = timetable.clashes
    assert clash.requirement == "deliver by 2027-02-02 17:00"
    assert clash.short_by_h is not None
    assert clash.short_by_h > 0
    later = clash.would_fit[0]
    assert later.change.startswith("deliver on ")
    # and it is true: delivered then, it fits
    again = planned(tmp_path, EXAMPLE, COLD_SHOP, deliver=f"{later.ready:%Y-%m-%d} 23:59").timetable
    assert again.status != "impossible"


def test_a_delivery_in_the_past(tmp_path: Path) -> None:
    timetable = planned(tmp_path, EXAMPLE, deliver="2026-01-01").timetable
    assert timetable.status == "impossible"


def test_too_cold_to_coat_at_all(tmp_path: Path) -> None:
    freezing = COLD_SHOP.replace("19 degC", "6 degC")
    timetable = planned(tmp_path, EXAMPLE, freezing).timetable
    assert timetable.status == "impossible"
    assert "6 °C is outside 12 to 30 °C" in timetable.clashes[0].requirement


def test_nobody_can_spray(tmp_path: Path) -> None:
    shop = COLD_SHOP.replace("{name: Wynn,", "{name: Wynn, skills: [sanding, coating],")
    timetable = planned(tmp_path, EXAMPLE.replace("hardwax-oil", "lacquer"), shop).timetable
    assert timetable.status == "impossible"
    assert "nobody in the shop does spraying" in timetable.clashes[0].requirement


def test_without_a_delivery_it_starts_at_once(tmp_path: Path) -> None:
    plan = planned(tmp_path, EXAMPLE.replace("deliver: 2027-03-12 15:00\n", ""))
    assert plan.timetable.start == datetime(2027, 2, 1, 8, tzinfo=UTC)
    assert plan.timetable.deliver is None
    assert plan.timetable.gap_h is not None
    assert broken_rules(plan) == []


def test_a_coat_that_became_too_hard_is_abraded_again(tmp_path: Path) -> None:
    # The blend takes its second coat without abrading, but no later than five days of standard air after the first.
    # With a person there on Mondays only, a warm shop is past that; in the cold one it is not.
    monday = COLD_SHOP.replace("{mon-thu: [8:00-12:00, 12:30-17:00], fri: 8:00-13:00}", "{mon: 8:00-17:00}")
    piece = EXAMPLE.replace("hardwax-oil", "oil-varnish-blend").replace("2027-03-12 15:00", "2027-04-30")
    warm = planned(tmp_path, piece, monday.replace(": 9 degC", ": 19 degC").replace(": 19 degC", ": 25 degC"))
    cold = planned(tmp_path, piece, monday)
    assert any(step.step.startswith("abrade again") for step in warm.timetable.steps)
    assert not any(step.step.startswith("abrade again") for step in cold.timetable.steps)
    assert broken_rules(warm) == []
    assert broken_rules(cold) == []


def test_a_date_without_a_time_is_the_end_of_work_on_that_day(tmp_path: Path) -> None:
    # The cold shop closes at 13:00 on Fridays and at 17:00 before.
    for deliver, hour in (("2027-03-12", 13), ("2027-03-11", 17)):
        timetable = planned(tmp_path, EXAMPLE, COLD_SHOP, deliver=deliver).timetable
        assert timetable.deliver is not None
        assert timetable.deliver.hour == hour


def test_work_begins_on_the_quarter_hour_whenever_it_is_planned(tmp_path: Path) -> None:
    piece = EXAMPLE.replace("deliver: 2027-03-12 15:00\n", "")
    plan = planned(tmp_path, piece, now=datetime(2027, 2, 1, 9, 3, 47, tzinfo=UTC))
    assert plan.timetable.start == datetime(2027, 2, 1, 9, 15, tzinfo=UTC)
    assert {step.start.minute % 5 for step in plan.timetable.steps if step.kind == "attended"} == {0}


def test_no_work_is_torn_into_stumps(tmp_path: Path) -> None:
    for system in ("hardwax-oil", "oil-varnish", "shellac"):
        piece = EXAMPLE.replace("hardwax-oil", system).replace("2027-03-12 15:00", "2027-05-28")
        plan = planned(tmp_path, piece, COLD_SHOP)
        rows = [step for step in plan.timetable.steps if step.kind == "attended"]
        for row in rows:
            torn = sum(other.id == row.id for other in rows) > 1
            assert not torn or row.end - row.start >= timedelta(minutes=15), row


def test_all_bare_wood_is_sanded_before_the_first_coat_of_an_item(tmp_path: Path) -> None:
    piece = EXAMPLE.replace("    edge: {top:", "    faces: {underside: {system: wax}}\n    edge: {top:")
    plan = planned(tmp_path, piece)
    top = [step for step in plan.timetable.steps if step.kind == "attended" and step.item == "top"]
    last_sanding = max(step.start for step in top if step.step == "sand bare wood")
    first_coat = min(step.start for step in top if step.step.startswith("coat"))
    assert last_sanding < first_coat
    assert broken_rules(plan) == []


def test_a_rack_of_one_place_takes_one_item_at_a_time(tmp_path: Path) -> None:
    boards = "\n".join(f"  shelf {n}: {{shape: board, length: 600, width: 200, thickness: 20}}" for n in range(4))
    piece = f"piece: Shelves\nlengths: mm\ntimber: ash\nsystem: hardwax-oil\nparts:\n{boards}\n"

    def wet_at_once(places: int) -> int:
        plan = planned(
            tmp_path, piece, COLD_SHOP.replace(": 9 degC", ": 18 degC") + f"rack: {{places: {places}, hooks: 0}}\n"
        )
        drying = [step for step in plan.timetable.steps if step.kind == "drying" and step.step == "coat 1 dries"]
        return max(sum(one.start <= other.start < one.end for one in drying) for other in drying)

    assert wet_at_once(4) > 1
    assert wet_at_once(1) == 1

"""The fewest trips, held against all that there are; and days held against the calendar of a supplier by hand."""

from __future__ import annotations

import json
import re
from datetime import UTC, date, datetime, timedelta
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from finplan.buying import comes_on, fewest_trips, order_by, there_by, trips_of
from finplan.calendar import plan_calendar
from finplan.cli.buy import buy_lines
from finplan.data import as_json, buy_data, plan_data
from finplan.inputs import Shop
from finplan.material import ConsumableNeed
from finplan.planning import Plan, Wishes, read_sources, read_workshop
from finplan.problems import RefusedError
from finplan.reading import Written
from finplan.telling import ordering_told
from tests.conftest import Cli
from tests.plan_guide import read_schema
from tests.plan_schema import ANSWERS
from tests.plans import plan_of

START = date(2027, 1, 4)
MORNING = datetime(2027, 3, 1, 6, tzinfo=UTC)
SHOP = """\
shop: Kiln Row joiners
holidays: GB-ENG
time-zone: Europe/London
suppliers: {hardwax-oil: 3 d, shellac flakes: 5 d, default: 1 d}
"""
TRAY = """\
piece: Tray {name}
timber: ash
system: {system}
deliver: {deliver}
lengths: mm
parts:
  tray: {{shape: rectangle, length: 900, width: 500, thickness: 18}}
"""


def shop(text: str = SHOP) -> Shop:
    return read_workshop(Written(Path("shop.yaml"), text)).shop


def planned(*pieces: str, text: str = SHOP) -> Plan:
    files = [Written(Path(f"tray-{number}.yaml"), one) for number, one in enumerate(pieces)]
    sources = read_sources(files, Written(Path("shop.yaml"), text))
    return plan_of(sources, now=MORNING, wishes=Wishes(answers=False))


def tray(name: str = "one", system: str = "hardwax-oil", deliver: str = "2027-04-09") -> str:
    return TRAY.format(name=name, system=system, deliver=deliver)


@given(st.lists(st.tuples(st.integers(0, 9), st.integers(0, 5)), max_size=7))
def test_no_other_choice_of_days_needs_fewer_trips(spans: list[tuple[int, int]]) -> None:
    """Every set of days, the small ones first, until one has a day in each window."""
    windows = [(START + timedelta(days=first), START + timedelta(days=first + more)) for first, more in spans]
    found = fewest_trips(windows)
    assert all(first <= day <= last for day, (first, last) in zip(found, windows, strict=True))
    days = [START + timedelta(days=number) for number in range(16)]
    least = next(
        count
        for count in range(len(windows) + 1)
        for chosen in combinations(days, count)
        if all(any(first <= day <= last for day in chosen) for first, last in windows)
    )
    assert len(set(found)) == least


@given(st.integers(0, 400), st.integers(0, 15))
def test_an_order_takes_the_working_days_that_numpy_counts(ahead: int, lead: int) -> None:
    """``numpy.busday_offset`` and ``busday_count``, with the holidays of England as the shop has them."""
    one = shop()
    needed = START + timedelta(days=30 + ahead)
    comes = there_by(needed, one)
    ordered = order_by(comes, lead, one)
    off = [day for day in (START + timedelta(days=n) for n in range(-60, 500)) if one.is_holiday(day)]
    assert np.is_busday(ordered, holidays=off)
    assert np.busday_count(ordered, comes, holidays=off) == lead
    assert comes == np.busday_offset(needed, -1, roll="forward", holidays=off).astype(date)
    assert comes_on(ordered, lead, one) == comes


def test_a_day_on_which_the_shop_is_closed_takes_in_nothing() -> None:
    """Thursday 7 January is needed; the shop is closed on Tuesday and Wednesday, and 4 January is a Monday."""
    closed = shop(SHOP + "closed: [2027-01-05 to 2027-01-06]\n")
    comes = there_by(date(2027, 1, 7), closed)
    assert comes == date(2027, 1, 4)
    assert order_by(comes, 1, closed) == date(2026, 12, 31)  # 1 January is a holiday


def test_everything_to_buy_is_in_one_trip_where_it_may_be() -> None:
    plan = planned(tray())
    (trip,) = trips_of(plan)
    bought = {order.of.title for order in trip.orders}
    wanted = {one.title for one in (*plan.materials.bought, *(x for x in plan.precautions.gear.buy if x.buy))}
    assert bought == wanted
    assert trip.day == min(order.order_by for order in trip.orders)
    first_coat = next(row.start for row in plan.timetable.steps if row.deed == "coat")
    oil = next(order for order in trip.orders if order.of.title.startswith("Hardwax"))
    assert oil.needed == first_coat.date()
    assert oil.there_by < oil.needed
    assert (oil.lead_days, oil.late) == (3, False)


def test_flakes_are_there_before_they_are_dissolved() -> None:
    plan = planned(tray(system="shellac"))
    orders = [order for trip in trips_of(plan) for order in trip.orders]
    flakes = next(order for order in orders if order.of.title == "Shellac flakes")
    first_coat = next(row.start for row in plan.timetable.steps if row.deed == "coat")
    soaks = plan.catalogue.finishes["shellac"].dissolve.wait_h  # type: ignore[union-attr]
    assert flakes.lead_days == 5
    assert soaks is not None
    assert flakes.needed == (first_coat - timedelta(hours=soaks.high)).date()


def test_what_is_too_late_is_told_with_the_day_on_which_it_comes() -> None:
    plan = planned(tray(deliver="2027-03-19"), text=SHOP.replace("3 d", "12 d"))
    late = [order for trip in trips_of(plan) for order in trip.orders if order.late]
    assert [one.of.title for one in late] == ["Hardwax oil"]
    assert late[0].comes == date(2027, 3, 17)  # twelve working days after Monday 1 March
    told = [line for trip in ordering_told(plan) for line in trip.late]
    assert len(told) == 1
    assert "it comes Wed 17 Mar" in told[0]
    assert "Too late" in plan_html(plan)


def plan_html(plan: Plan) -> str:
    from finplan.sheet import sheet_html

    return sheet_html(plan)


def test_a_shop_that_buys_late_goes_twice_for_jobs_far_apart() -> None:
    pieces = (tray("one", deliver="2027-03-19"), tray("two", "waterborne-polyurethane", "2027-05-28"))
    together = trips_of(planned(*pieces))
    apart = trips_of(planned(*pieces, text=SHOP + "buy-ahead: 7 d\n"))
    assert len(together) == 1
    assert len(apart) > 1
    for trip in apart:
        for one in trip.orders:
            assert trip.day <= one.order_by
            assert (one.needed - trip.day).days <= max(7, (one.needed - one.order_by).days)


def test_jobs_share_a_can_only_while_it_keeps() -> None:
    """Two jobs eight weeks apart; where the oil keeps a week once open, each gets a can of its own."""
    pieces = (tray("one", deliver="2027-03-19"), tray("two", deliver="2027-05-14"))
    oil = "overrides: {finishes: {hardwax-oil: {shelf-life: 7 d}}}\n"
    for text, cans in ((SHOP, 1), (SHOP + oil, 2)):
        plan = planned(*pieces, text=text)
        orders = [order for trip in trips_of(plan) for order in trip.orders if order.of.title == "Hardwax oil"]
        assert len(orders) == cans
        assert [len(order.pieces) for order in orders] == [0] if cans == 1 else [1, 1]


def test_the_list_says_for_which_pieces_a_thing_is_bought() -> None:
    """Held against what each piece would buy by itself; two in oil and one in shellac."""
    texts = (tray("one"), tray("two"), tray("three", "shellac"))
    plan = planned(*texts)
    alone = [planned(text) for text in texts]
    own = [
        {
            (one.name, one.grit) if isinstance(one, ConsumableNeed) else (one.material, None)
            for one in (*each.materials.bought, *(x for x in each.precautions.gear.buy if x.buy))
        }
        for each in alone
    ]
    keys = [piece.key for piece in plan.pieces]
    orders = [order for trip in trips_of(plan) for order in trip.orders]
    for one in orders:
        what = (one.of.name, one.of.grit) if isinstance(one.of, ConsumableNeed) else (one.of.material, None)
        users = tuple(key for key, bought in zip(keys, own, strict=True) if what in bought)
        assert one.pieces == (() if len(users) == len(keys) else users), what
        assert not one.apart
    lines = buy_lines(plan, trips_of(plan), 12, 0)
    assert "For: A Tray one, B Tray two, C Tray three." in lines
    assert any(re.search(r"Hardwax oil .* A, B +\w{3} \d", line) for line in lines)
    assert any(re.search(r"Shellac flakes .* C +\w{3} \d", line) for line in lines)
    assert not any(" for A" in order.packed for trip in ordering_told(plan) for order in trip.orders), (
        "the sheet says all"
    )
    of_one = buy_lines(alone[0], trips_of(alone[0]), 12, 0)
    assert not [line for line in of_one if re.search(r"packs +for|^For: | all ", line)], "where it says nothing"


def test_a_shop_that_names_no_supplier_is_told_no_day() -> None:
    plan = planned(tray(), text="shop: Kiln Row\nholidays: GB\n")
    assert ordering_told(plan) == ()
    assert plan_data(plan).trips == ()
    assert "Order by" not in plan_html(plan)


def test_calendar_sheet_and_json_say_the_same_day() -> None:
    plan = planned(tray())
    (trip,) = trips_of(plan)
    (told,) = ordering_told(plan)
    assert told.by in plan_html(plan)
    ics = plan_calendar(plan, MORNING).decode().replace("\r\n ", "")
    assert f"DTSTART;TZID=Europe/London:{trip.day:%Y%m%d}T090000" in ics
    assert "SUMMARY:Order for Tray one" in ics
    assert plan_data(plan).trips[0].day == trip.day
    data = json.loads(as_json(buy_data(plan, (trip,), 4, 0)))
    Draft202012Validator(read_schema(ANSWERS)).validate(data)


def test_an_unknown_supplier_is_told() -> None:
    with pytest.raises(RefusedError) as caught:
        read_workshop(Written(Path("shop.yaml"), SHOP.replace("shellac flakes", "shelac flakes")))
    assert "did you mean 'shellac flakes'?" in str(caught.value.problems[0])


def test_a_folder_is_bought_for_at_once(tmp_path: Path, cli: Cli) -> None:
    (tmp_path / "shop.yaml").write_text(SHOP, encoding="utf-8")
    (tmp_path / "one.yaml").write_text(tray("one"), encoding="utf-8")
    (tmp_path / "two.yaml").write_text(tray("two"), encoding="utf-8")
    ended = cli("buy", tmp_path, "--from", "2027-03-01", "--weeks", "8", "--json", "--no-ledger")
    assert ended.status == 0, ended.err
    data = json.loads(ended.out)
    assert data["pieces"] == ["Tray one", "Tray two"]
    assert [order["material"] for trip in data["trips"] for order in trip["orders"]].count("hardwax-oil") == 1
